"""A turn moved by hand, and the turns stepped through on the hull sheet."""

import pytest
from playwright.sync_api import expect

from restoration.actions.orders_of_work import propose_order
from restoration.models import Member

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def order(page, live_server, client, vessel, people):
    Member.objects.bulk_create(
        Member(vessel=vessel, kind="floor_timber", mark=f"F{n}", number=n, station_from=n + 2)
        for n in range(1, 6)
    )
    client.force_login(people["yard"])
    session = client.cookies["sessionid"].value
    page.context.add_cookies([{"name": "sessionid", "value": session, "url": live_server.url}])
    out = list(vessel.members.all())
    return propose_order(vessel=vessel, members=out, most_out=None, by=people["yard"])


def in_turn(page, number):
    return page.locator(f"#turn-{number} ul.out .mark-no").all_inner_texts()


def test_a_member_is_moved_and_the_neighbour_that_is_out_then_is_named(page, order):
    page.goto(order.get_absolute_url())
    assert in_turn(page, 1) == ["F1", "F3", "F5"]
    page.get_by_role("link", name="Move F5").click()
    page.get_by_label("Out in turn").select_option("2")
    page.get_by_role("button", name="Move").click()
    expect(page.get_by_role("alert")).to_have_text(
        "F4 is out in turn 2, and is a neighbour of F5: next to each other along the hull."
    )
    page.get_by_label("Out in turn").select_option("3")
    page.get_by_role("button", name="Move").click()
    expect(page.locator("#messages")).to_have_text("F5 is out in turn 3.")
    page.wait_for_load_state()
    assert [in_turn(page, number) for number in (1, 2, 3)] == [["F1", "F3"], ["F2", "F4"], ["F5"]]
    width = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    assert width <= 0
    page.mistakes = [said for said in page.mistakes if "422" not in said]
    assert page.mistakes == []


def test_the_turns_are_stepped_through_on_the_sheet_with_script_and_back(page, order):
    page.goto(f"{order.get_absolute_url()}turns/1/")
    expect(page.locator("#hull-outline")).to_be_visible()
    page.get_by_role("link", name="Turn after").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Turn 2 of 2: 2 out")
    expect(page).to_have_title("Turn 2, Tenacious Wren · Hull & Log")
    assert page.url.endswith("/turns/2/")
    expect(page.locator("svg .s-out.m[id]")).to_have_count(2)
    page.go_back()
    expect(page.get_by_role("heading", level=1)).to_have_text("Turn 1 of 2: 3 out")
    assert page.mistakes == []


def test_the_turns_are_stepped_through_without_script(browser, live_server, page, order):
    context = browser.new_context(
        base_url=live_server.url, java_script_enabled=False,
        storage_state=page.context.storage_state(),
    )  # fmt: skip
    plain = context.new_page()
    plain.goto(f"{order.get_absolute_url()}turns/1/")
    plain.get_by_role("link", name="Turn after").click()
    expect(plain.get_by_role("heading", level=1)).to_have_text("Turn 2 of 2: 2 out")
    context.close()


@pytest.mark.parametrize(("wide", "high"), [(1280, 680), (390, 700)])
def test_the_sheet_and_the_way_on_are_seen_together_on_a_low_screen(page, order, wide, high):
    page.set_viewport_size({"width": wide, "height": high})
    page.goto(f"{order.get_absolute_url()}turns/1/")
    sheet = page.locator("svg.hull-sheet")
    sheet.evaluate("each => each.scrollIntoView({block: 'end'})")
    drawn, step = sheet.bounding_box(), page.locator("nav.step").bounding_box()
    assert step["y"] >= 0
    assert step["y"] + step["height"] <= drawn["y"] + 1
    assert drawn["y"] + drawn["height"] <= high + 1
    page.get_by_role("link", name="Turn after").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Turn 2 of 2: 2 out")
    assert page.mistakes == []


def test_whoever_steps_by_the_keyboard_keeps_a_place_among_the_turns(page, order):
    page.goto(f"{order.get_absolute_url()}turns/1/")
    page.locator("#turn-after").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Turn 2 of 2: 2 out")
    expect(page.locator("nav.step [aria-current]")).to_be_focused()
    page.keyboard.press("Shift+Tab")
    expect(page.locator("nav.step ol a").first).to_be_focused()
    assert page.mistakes == []
