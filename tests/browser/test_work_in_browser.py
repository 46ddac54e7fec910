"""From the ranked list to the yard board: timber taken, a step recorded by thumb, taken back."""

import re

import pytest
from playwright.sync_api import expect

from restoration.models import Allotment, Finding, Member, ReplacementSpec, Survey, WorkStep
from timber_stock.models import Board, Supplier

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def spec(vessel, people, woods):
    survey = Survey.objects.create(
        vessel=vessel, surveyed_on="2026-01-12", surveyor_name="P", recorded_by=people["surveyor"]
    )
    member = Member.objects.create(vessel=vessel, kind="floor_timber", mark="F12")
    finding = Finding.objects.create(
        survey=survey, member=member, condition="3", urgency=3, measure=3,
        recorded_by=people["surveyor"],
    )  # fmt: skip
    mill = Supplier.objects.create(name="Aldermoor Sawing")
    for tag, width, length, sapwood in (
        ("B-wide", 310, 2900, False), ("B-near", 150, 2300, False), ("B-sap", 141, 2100, True),
        ("B-short", 150, 1040, False),
    ):  # fmt: skip
        Board.objects.create(
            tag=tag, species=woods["oak_white"], supplier=mill, thickness_mm=72, width_mm=width,
            length_mm=length, heart="clear", rings="quarter", has_sapwood=sapwood,
        )  # fmt: skip
    return ReplacementSpec.objects.create(
        finding=finding, wood=woods["oak_white"], specified_by=people["yard"], sided_mm=63.5,
        moulded_mm=127, length_mm=1100,
    )  # fmt: skip


@pytest.fixture
def at(signed_in):
    """Signed in as the yard, at an address."""

    def go(address):
        signed_in.goto(address)
        return signed_in

    return go


def fits(page):
    return page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_timber_is_taken_from_the_ranked_list_and_the_work_recorded_from_the_board(at, spec):
    page = at("/yard-board/")
    page.locator("#column-specified").get_by_role("link", name="Find timber for TEN-F12").click()
    expect(page.locator(".boards.ranked h3")).to_have_text(["B-near", "B-wide", "B-sap"])
    assert "has sapwood" in page.locator(".boards.ranked li").nth(2).inner_text()
    assert fits(page)
    page.get_by_role("link", name="Allot from B-near").click()
    page.get_by_role("button", name="Allot this length").click()
    page.get_by_text("Stage: timber found").wait_for()
    assert Allotment.objects.get().board.tag == "B-near"

    page.get_by_role("link", name="Yard board").click()
    page.wait_for_url("**/yard-board/")
    page.get_by_role("button", name="Sawn today").click()
    page.get_by_text("TEN-F12 is sawn.").wait_for()
    page.get_by_role("button", name="Shaped today").click()
    page.get_by_text("TEN-F12 is shaped.").wait_for()
    expect(page.locator("#column-shaped .work-card")).to_have_count(1)
    assert fits(page)
    page.get_by_role("button", name="Take it back").click()
    page.get_by_text("TEN-F12 is not shaped after all").wait_for()
    expect(page.locator("#column-sawn .work-card")).to_have_count(1)
    assert Allotment.objects.get().cut_by == "wright"
    assert WorkStep.objects.standing().count() == 0
    assert page.mistakes == []


def test_hours_and_a_wait_are_recorded_on_the_page_of_the_work(at, spec):
    board = Board.objects.get(tag="B-near")
    Allotment.objects.create(
        spec=spec, board=board, from_mm=0, to_mm=1100, allotted_on="2026-02-02",
        allotted_by=spec.specified_by,
    )  # fmt: skip
    page = at(f"/replacements/{spec.pk}/stages/")
    page.get_by_label("Hours").fill("2.5")
    page.get_by_role("button", name="Record", exact=True).click()
    page.get_by_text("The work is recorded.").wait_for()
    page.get_by_text("2.5 hours so far").wait_for()
    page.get_by_text("Let it wait for something").click()
    page.get_by_label(re.compile("Or until this member is out")).select_option(
        label="F12, floor timber"
    )
    page.get_by_role("button", name="Set it down").click()
    page.get_by_role("button", name="It is out").wait_for()
    assert fits(page)
    page.get_by_role("button", name="It is out").click()
    page.get_by_text("It waits for nothing.").wait_for()
    assert page.mistakes == []


def test_a_proposal_for_the_whole_yard_is_accepted_by_its_button(at, spec):
    page = at("/matching/")
    page.get_by_text("1 of 1 could be met").wait_for()
    assert fits(page)
    page.get_by_role("button", name="Accept B-near for TEN-F12").click()
    page.get_by_text("A length of B-near is allotted to TEN-F12.").wait_for()
    assert Allotment.objects.get().length_mm() == pytest.approx(1100)
    assert page.mistakes == []
