"""A finding entered with a thumb: photographs as they are chosen, rows at once, on to the next."""

import io
from datetime import date

import pytest
from PIL import Image

from restoration.models import Finding, Member, Survey

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

REFUSED_ANSWER = "the server responded with a status of 422"


def png(colour):
    out = io.BytesIO()
    Image.new("RGB", (900, 600), colour).save(out, "PNG")
    return {"name": f"{colour}.png", "mimeType": "image/png", "buffer": out.getvalue()}


@pytest.fixture
def round_at(page, client, live_server, people, vessel):
    """The page of a survey with three floors on its round, opened by its surveyor."""
    survey = Survey.objects.create(
        vessel=vessel, surveyed_on=date(2026, 3, 4), place="Sallow Creek", lying="ashore",
        surveyor_name="P. Prober", methods="spike", not_reached="none",
        recorded_by=people["surveyor"],
    )  # fmt: skip
    for n in (11, 12, 13):
        Member.objects.create(
            vessel=vessel, kind="floor_timber", mark=f"F{n}", station_from=n, length_mm=900
        )
    client.force_login(people["surveyor"])
    session = client.cookies["sessionid"].value
    page.context.add_cookies([{"name": "sessionid", "value": session, "url": live_server.url}])
    page.goto(survey.get_absolute_url())
    return page


def next_unexamined(page):
    page.get_by_text("Next not yet examined").click()
    page.wait_for_url("**/members/*/")  # loaded: its scripts hear what is chosen


def choose(page, group, value):
    page.locator("fieldset.grades").nth(group).locator(f"label:has([value='{value}'])").click()


def test_a_finding_is_entered_mended_kept_and_the_next_is_one_tap_away(round_at):
    page = round_at
    next_unexamined(page)
    choose(page, 0, "2")
    choose(page, 1, "1")
    page.get_by_label("What was seen").fill("soft round the bolt")
    page.set_input_files("#id_photographs", [png("olive"), png("navy")])
    page.locator("#waiting li").nth(1).wait_for()
    page.get_by_label("Caption").nth(1).fill("starboard")
    page.set_input_files(
        "#id_photographs",
        {"name": "plan.jpg", "mimeType": "image/jpeg", "buffer": b"%PDF-1.7"},
    )
    page.get_by_text("“plan.jpg” is not a photograph").wait_for()
    assert page.get_by_label("Caption").nth(1).input_value() == "starboard"
    page.get_by_text("Another reading").click()
    second = page.locator(".row.reading").nth(1)
    second.get_by_label("Reading").select_option("probe")
    second.get_by_label("Figure or word").fill("7/8")
    page.locator("#id_causes-0-cause").select_option("ALKALI_CATHODE")
    page.locator(".row.cause").get_by_text("Is the metal still perfect").wait_for()
    page.locator("#id_causes-0-certainty").select_option("probable")

    page.get_by_role("button", name="Keep this finding").click()
    page.get_by_text("Set the recommended measure too").wait_for()
    assert page.get_by_text("Set the recommended measure too").is_visible()
    assert page.locator("#waiting li").count() == 2
    choose(page, 2, "3")
    page.get_by_role("button", name="Keep this finding").click()
    page.locator(".kept").wait_for()

    kept = Finding.objects.get()
    assert page.url.endswith(f"?kept={kept.pk}")
    assert [one.caption for one in kept.photographs.all()] == ["", "starboard"]
    assert kept.readings.get().value == pytest.approx(22.225)
    assert kept.causes.get().cause == "ALKALI_CATHODE"
    page.locator(".kept a.act.main").click()
    page.get_by_role("heading", name="F12").wait_for()
    assert page.url.endswith(f"/members/{Member.objects.get(mark='F12').pk}/")
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert [said for said in page.mistakes if REFUSED_ANSWER not in said] == []


def test_without_a_connection_nothing_that_was_entered_is_lost(round_at):
    page = round_at
    next_unexamined(page)
    for group in range(3):
        choose(page, group, "1")
    page.get_by_label("What was seen").fill("a stain at the limber hole")
    page.context.set_offline(True)
    page.get_by_role("button", name="Keep this finding").click()
    page.get_by_text("there is no connection").wait_for()
    assert page.get_by_label("What was seen").input_value() == "a stain at the limber hole"
    page.context.set_offline(False)
    page.get_by_role("button", name="Keep this finding").click()
    page.locator(".kept").wait_for()
    assert Finding.objects.get().seen == "a stain at the limber hole"


def test_someone_signed_out_meanwhile_is_told_and_keeps_what_was_entered(round_at):
    page = round_at
    next_unexamined(page)
    for group in range(3):
        choose(page, group, "1")
    page.get_by_label("What was seen").fill("sound")
    page.context.clear_cookies(name="sessionid")
    page.get_by_role("button", name="Keep this finding").click()
    page.get_by_text("you have been signed out").wait_for()
    assert page.get_by_label("What was seen").input_value() == "sound"
    assert not Finding.objects.exists()


def test_two_quick_presses_keep_one_finding(round_at):
    page = round_at
    next_unexamined(page)
    for group in range(3):
        choose(page, group, "1")
    page.get_by_role("button", name="Keep this finding").dblclick()
    page.locator(".kept").wait_for()
    page.wait_for_load_state("networkidle")
    assert Finding.objects.count() == 1


def test_going_back_after_keeping_gives_a_fresh_form_and_not_the_used_one(round_at):
    page = round_at
    next_unexamined(page)
    mark = page.locator("[name=made_id]").input_value()
    for group in range(3):
        choose(page, group, "1")
    page.get_by_label("What was seen").fill("a stain")
    page.get_by_role("button", name="Keep this finding").click()
    page.locator(".kept").wait_for()
    page.go_back()
    page.locator("[name=made_id]").wait_for(state="attached")
    assert page.locator("[name=made_id]").input_value() != mark
    assert "a stain" in page.locator(".earlier").text_content()
