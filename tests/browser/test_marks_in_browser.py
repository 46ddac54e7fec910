"""Marks tapped on a photograph, and causes put in order as signs are ticked."""

import io
from datetime import date

import pytest
from PIL import Image

from restoration.actions.findings import PhotographToKeep, record_finding
from restoration.models import Finding, Member, PhotographMark, Survey
from timber_stock.web.pictures import take_in

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def photograph(page, client, live_server, people, vessel):
    """A photograph of a finding of F11, with its surveyor signed in at `page`."""
    survey = Survey.objects.create(
        vessel=vessel, surveyed_on=date(2026, 3, 4), place="Sallow Creek", lying="ashore",
        surveyor_name="P. Prober", methods="spike", not_reached="none",
        recorded_by=people["surveyor"],
    )  # fmt: skip
    floor = Member.objects.create(vessel=vessel, kind="floor_timber", mark="F11")
    out = io.BytesIO()
    Image.new("RGB", (900, 600), "olive").save(out, "JPEG")
    finding = record_finding(
        finding=Finding(
            survey=survey, member=floor, recorded_by=people["surveyor"], condition="2", urgency=1,
            measure=2,
        ),
        photographs=[PhotographToKeep(take_in(out, "x.jpg"), "heel")],
    )  # fmt: skip
    client.force_login(people["surveyor"])
    session = client.cookies["sessionid"].value
    page.context.add_cookies([{"name": "sessionid", "value": session, "url": live_server.url}])
    return finding.photographs.get()


def tap(page, across, down):
    image = page.locator("#picture img")
    box = image.bounding_box()
    image.click(position={"x": box["width"] * across, "y": box["height"] * down}, force=True)


def test_an_arrow_is_put_on_with_two_taps(page, photograph):
    page.goto(f"/photographs/{photograph.pk}/marks/")
    tap(page, 0.25, 0.75)
    assert "Now tap what it points at." in page.locator("[data-hint]").inner_text()
    tap(page, 0.6, 0.4)
    assert page.locator(".tapped").count() == 2
    page.get_by_label("Words").fill("soft to here")
    page.get_by_role("button", name="Put it on").click()
    page.wait_for_selector("svg.marks")
    mark = PhotographMark.objects.get()
    (from_x, from_y), (to_x, to_y) = mark.points
    assert (from_x, from_y) == pytest.approx((0.25, 0.75), abs=0.01)
    assert (to_x, to_y) == pytest.approx((0.6, 0.4), abs=0.01)
    assert page.mistakes == []


def test_a_note_takes_one_tap_and_its_words(page, photograph):
    page.goto(f"/photographs/{photograph.pk}/marks/")
    page.locator("label", has_text="note").first.click()
    tap(page, 0.5, 0.2)
    page.get_by_role("button", name="Put it on").click()
    page.get_by_text("A note needs its words.").wait_for()
    page.get_by_label("Words").fill("bolt hole")
    page.get_by_role("button", name="Put it on").click()
    page.wait_for_selector("svg.marks")
    assert PhotographMark.objects.get().points[0] == pytest.approx([0.5, 0.2], abs=0.01)


def test_a_tick_puts_the_causes_in_order_at_once_and_stays_in_the_address(page, photograph):
    page.goto(f"/findings/{photograph.finding_id}/causes/?ticked=1")
    assert page.locator("#ranked").get_by_text("Nothing is ticked yet").is_visible()
    for sign in ("iron_fastening", "sleeve_round_metal"):
        with page.expect_response(lambda answer: "/causes/" in answer.url):
            page.locator(f"[name=seen][value={sign}]").check()
    first = page.locator("#ranked h3").first
    first.get_by_text("Iron or steel fastening corrosion").wait_for()
    page.reload()
    assert page.locator("[name=seen][value=sleeve_round_metal]").is_checked()
    assert "Iron or steel fastening corrosion" in page.locator("#ranked h3").first.inner_text()
    assert page.mistakes == []
