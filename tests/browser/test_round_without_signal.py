"""A round walked without a signal, on a phone that is shut and opened again, loses nothing."""

import io
from datetime import date

import pytest
from PIL import Image
from playwright.sync_api import expect

from restoration.models import Finding, Member, Photograph, Survey

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

DRAFT_IS_STORED = """async (seen) => {
  const { all } = await import("/static/js/queue.js");
  return (await all()).some(({ state, pairs, photographs }) =>
    state === "draft" && photographs.length === 1 && new Map(pairs).get("seen") === seen);
}"""
AFTER_A_TAP_MS = 330  # a tap sooner than this is taken for the second half of the last one


@pytest.fixture
def survey(vessel, people):
    return Survey.objects.create(
        vessel=vessel, surveyed_on=date(2026, 3, 4), place="Sallow Creek", lying="ashore",
        surveyor_name="P. Prober", methods="spike", not_reached="none",
        recorded_by=people["surveyor"],
    )  # fmt: skip


def members(vessel, count):
    floors = (count + 1) // 2
    for n in range(1, floors + 1):
        Member.objects.create(
            vessel=vessel, kind="floor_timber", mark=f"F{n}", station_from=n, length_mm=900
        )
    for n in range(1, count - floors + 1):
        side = "PS"[n % 2]
        Member.objects.create(
            vessel=vessel, kind="frame_steamed", mark=f"FR{n}{side}", side=side, station_from=n
        )


def photograph(n):
    out = io.BytesIO()
    Image.new("RGB", (640, 480), (20 * n, 90, 120)).save(out, "JPEG")
    return {"name": f"picture {n}.jpg", "mimeType": "image/jpeg", "buffer": out.getvalue()}


def choose(page, group, value):
    page.locator("fieldset.grades").nth(group).locator(f"label:has([value='{value}'])").tap()


def take_along(page, survey):
    page.goto(survey.get_absolute_url())
    page.locator("[data-taken]").wait_for()


def line(page, text):
    page.locator("#signal-line", has_text=text).wait_for()


def mark_of(page):
    return page.locator("form.entry h1 .mark-no").text_content()


def tap_once_it_is_shown(page, name):
    """The form is shown first: what is tapped sooner after that is taken for a second tap."""
    button = page.get_by_role("button", name=name)
    button.wait_for()
    page.wait_for_timeout(AFTER_A_TAP_MS)
    button.tap()


def keep_sound(page):
    mark = mark_of(page)
    tap_once_it_is_shown(page, "Nothing found")
    kept = page.locator(".just-kept:visible", has_text=mark)
    kept.or_(page.locator(".round-head")).first.wait_for()
    return mark


def test_forty_members_and_six_photographs_wait_through_a_shut_phone_and_go_in_once(
    phone, client, people, vessel, survey
):
    members(vessel, 40)
    page = phone(people["surveyor"], client)
    take_along(page, survey)
    page.context.set_offline(True)
    page.goto(survey.get_absolute_url())  # the survey's page leads to its round
    page.get_by_text("Next not yet examined").tap()
    entered = []
    for n in range(1, 7):
        entered.append(mark_of(page))
        for group, grade in enumerate("213"):
            choose(page, group, grade)
        page.get_by_label("What was seen").fill(f"soft {n}")
        page.set_input_files("#take", photograph(n))
        page.locator("[data-photographs] li").get_by_label("Caption").fill(f"port {n}")
        page.get_by_role("button", name="Keep on the phone").tap()
        page.locator(".just-kept", has_text=entered[-1]).wait_for()
    for _ in range(34):
        entered.append(keep_sound(page))
    line(page, "40 waiting to be sent")
    assert page.locator(".tally").text_content().startswith("40 of 40 done")
    page.context.close()

    page = phone(people["surveyor"], client)
    page.context.set_offline(True)
    page.goto(survey.get_absolute_url())
    line(page, "40 waiting to be sent")
    line(page, "No signal")
    assert not Finding.objects.exists()

    # The first answer is lost on the way: the register has the finding and the phone cannot know.
    lost = []

    def lose(route):
        lost.append(route.fetch().status)
        route.abort()

    page.context.route("**/surveys/*/findings/", lose)
    page.context.set_offline(False)
    while not lost:
        page.wait_for_timeout(100)
    line(page, "40 waiting to be sent")
    assert Finding.objects.count() == 1
    page.context.unroute("**/surveys/*/findings/")
    page.get_by_role("button", name="Send now").tap()
    line(page, "Nothing is waiting to be sent")

    kept = list(Finding.objects.order_by("recorded_at").select_related("member"))
    assert [one.member.mark for one in kept] == entered
    assert [one.seen for one in kept[:7]] == [*(f"soft {n}" for n in range(1, 7)), ""]
    assert [one.caption for one in Photograph.objects.order_by("finding__recorded_at")] == [
        f"port {n}" for n in range(1, 7)
    ]
    page.reload()
    line(page, "Nothing is waiting to be sent")
    assert Finding.objects.count() == 40
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")


@pytest.mark.parametrize("signal", [True, False], ids=["with a signal", "without"])
def test_twenty_sound_members_take_at_most_two_taps_each(
    phone, client, people, vessel, survey, signal
):
    members(vessel, 20)
    page = phone(people["surveyor"], client)
    page.add_init_script(
        "addEventListener('click', (tap) => { if (tap.isTrusted) "
        "sessionStorage.taps = Number(sessionStorage.taps ?? 0) + 1; }, true)"
    )
    take_along(page, survey)
    page.context.set_offline(not signal)
    page.goto(survey.get_absolute_url())
    page.get_by_text("Next not yet examined").tap()
    for n in range(19, -1, -1):
        if signal:
            tap_once_it_is_shown(page, "Nothing found")
            done = f"{n} left" if n else "Every member has a finding"
            page.get_by_text(done).first.wait_for()
        else:
            keep_sound(page)
            line(page, f"{20 - n} waiting to be sent")
    assert int(page.evaluate("sessionStorage.taps")) <= 40
    page.context.set_offline(False)
    if not signal:
        line(page, "Nothing is waiting to be sent")
    classes = set(Finding.objects.values_list("condition", "urgency", "measure"))
    assert (classes, Finding.objects.count()) == ({("0", 0, 0)}, 20)


def test_a_member_is_marked_not_examined_in_two_taps_from_the_round(
    phone, client, people, vessel, survey
):
    members(vessel, 2)
    page = phone(people["surveyor"], client)
    take_along(page, survey)
    for where in ("", "offline/"):
        page.goto(survey.get_absolute_url() + where)
        page.locator(".stop.left .stop-go").first.tap()
        tap_once_it_is_shown(page, "Behind fixed joinery")
        page.locator(".just-kept:visible, .round-head").first.wait_for()
    page.goto(survey.get_absolute_url() + "offline/")
    line(page, "Nothing is waiting to be sent")
    reasons = Finding.objects.values_list("condition", "not_examined_reason")
    assert list(reasons) == [("NE", "Behind fixed joinery")] * 2


def test_what_the_register_refuses_stays_on_the_phone_with_its_sentence_until_it_is_mended(
    phone, client, people, vessel, survey
):
    members(vessel, 3)
    page = phone(people["surveyor"], client)
    take_along(page, survey)
    page.context.set_offline(True)
    page.goto(survey.get_absolute_url())
    page.get_by_text("Next not yet examined").tap()
    for group in range(3):
        choose(page, group, "1")
    page.locator("[name=readings-0-kind]").select_option("ph")
    page.locator("[name=readings-0-reading]").fill("19")
    page.set_input_files("#choose", [
        {"name": "tool.jpg", "mimeType": "image/jpeg", "buffer": b"MZ\x90 a program"},
        photograph(1),
    ])  # fmt: skip
    page.locator(".suspected label", has_text="Brown rot").tap()
    page.get_by_role("button", name="Keep on the phone").tap()
    page.locator(".just-kept", has_text="F1").wait_for()
    keep_sound(page)
    meanwhile = Finding.objects.create(
        survey=survey, member=Member.objects.get(mark="F2"), recorded_by=people["yard"],
        condition="3", urgency=3, measure=3,
    )  # fmt: skip
    page.goto(survey.get_absolute_url() + "offline/")
    page.context.set_offline(False)
    line(page, "Nothing is waiting to be sent; 1 refused, to be mended")
    assert Finding.objects.exclude(pk=meanwhile.pk).get().made_apart_from == meanwhile

    page.locator("#waiting summary").tap()
    assert "pH runs from 0 to 14" in page.locator("#waiting").inner_text()
    assert "wright had entered a finding of F2 meanwhile" in page.locator("#waiting").inner_text()
    page.locator("#waiting a", has_text="F1").tap()
    page.locator("form.entry .refused", has_text="pH runs").wait_for()
    expect(page.locator("[data-photographs] li")).to_have_count(2)
    assert page.locator("[value=BROWN_ROT][name=suspected]").is_checked()
    page.locator("[name=readings-0-reading]").fill("8.9")
    page.get_by_role("button", name="Keep on the phone").tap()
    line(page, "Nothing is waiting to be sent.")
    page.goto(survey.get_absolute_url() + "offline/")
    line(page, "Nothing is waiting to be sent.")
    kept = Finding.objects.get(member__mark="F1")
    assert (kept.readings.get().value, kept.photographs.count()) == (8.9, 1)
    assert kept.causes.get().cause == "BROWN_ROT"
    page.locator("#waiting summary").tap()
    page.get_by_text("Photograph “tool.jpg” refused: “tool.jpg” is not a photograph").wait_for()
    page.get_by_role("button", name="Take it off the phone").tap()
    page.get_by_text("Photograph “tool.jpg” refused").wait_for(state="detached")


def test_someone_signed_out_is_told_and_sends_after_signing_in_again(
    phone, client, people, vessel, survey
):
    members(vessel, 2)
    page = phone(people["surveyor"], client)
    take_along(page, survey)
    page.goto(survey.get_absolute_url() + "offline/")
    page.get_by_text("Next not yet examined").tap()
    page.context.clear_cookies(name="sessionid")
    keep_sound(page)
    line(page, "You have been signed out")
    line(page, "1 waiting to be sent")
    assert not Finding.objects.exists()
    page.goto(survey.get_absolute_url() + "offline/")
    page.get_by_label("Username").fill("prober")
    page.get_by_label("Password").fill("oak-and-larch")
    page.get_by_role("main").get_by_role("button", name="Sign in").tap()
    line(page, "Nothing is waiting to be sent")
    assert Finding.objects.get().condition == "0"


def test_a_finding_begun_is_still_there_when_the_phone_dropped_the_page(
    phone, client, people, vessel, survey
):
    members(vessel, 2)
    page = phone(people["surveyor"], client)
    take_along(page, survey)
    page.context.set_offline(True)
    page.goto(survey.get_absolute_url())
    page.get_by_text("Next not yet examined").tap()
    choose(page, 0, "2")
    page.get_by_label("What was seen").fill("a crack from the bolt upward")
    page.set_input_files("#take", photograph(1))
    while not page.evaluate(DRAFT_IS_STORED, "a crack from the bolt upward"):
        page.wait_for_timeout(100)
    page.reload()
    assert page.get_by_label("What was seen").input_value() == "a crack from the bolt upward"
    expect(page.locator("[data-photographs] li")).to_have_count(1)
    assert page.locator("[name=condition][value='2']").is_checked()


def test_what_is_changed_after_an_answer_was_lost_is_never_dropped_in_silence(
    phone, client, people, vessel, survey
):
    members(vessel, 2)
    page = phone(people["surveyor"], client)
    take_along(page, survey)
    page.goto(survey.get_absolute_url() + "offline/")
    answered = []

    def lose(route):
        answered.append(route.fetch().status)
        route.abort()

    page.context.route("**/surveys/*/findings/", lose)
    page.get_by_text("Next not yet examined").tap()
    keep_sound(page)
    line(page, "No signal")
    assert answered == [200]
    page.goto(survey.get_absolute_url() + "offline/")
    page.locator("#waiting summary").tap()
    page.locator("#waiting a", has_text="F1").tap()
    page.get_by_label("What was seen").fill("a crack after all")
    page.context.unroute("**/surveys/*/findings/")
    page.get_by_role("button", name="Keep on the phone").tap()
    line(page, "Nothing is waiting to be sent; 1 refused, to be mended")
    page.goto(survey.get_absolute_url() + "offline/")
    page.locator("#waiting summary").tap()
    page.get_by_text("The register had this finding already as it was first sent").wait_for()
    page.locator("#waiting a", has_text="F1").tap()
    page.get_by_role("button", name="Keep on the phone").tap()
    line(page, "Nothing is waiting to be sent.")
    assert list(Finding.objects.order_by("pk").values_list("seen", flat=True)) == [
        "",
        "a crack after all",
    ]


def test_whoever_signs_out_leaves_no_pages_behind_but_what_waits_stays(
    phone, client, people, vessel, survey
):
    members(vessel, 2)
    page = phone(people["surveyor"], client)
    take_along(page, survey)
    page.context.set_offline(True)
    page.goto(survey.get_absolute_url())
    page.get_by_text("Next not yet examined").tap()
    keep_sound(page)
    page.context.route("**/surveys/*/findings/", lambda route: route.abort())
    page.context.set_offline(False)
    page.get_by_role("button", name="Sign out").tap()
    page.get_by_label("Username").wait_for()
    page.context.set_offline(True)
    page.goto(survey.get_absolute_url())
    page.get_by_text("No round was taken along on this phone").wait_for()
    page.context.unroute("**/surveys/*/findings/")
    page.context.set_offline(False)
    # Someone else takes the phone: what waits is not theirs to send.
    client.force_login(people["yard"])
    session = client.cookies["sessionid"].value
    url = page.url.split("/surveys")[0]
    page.context.add_cookies([{"name": "sessionid", "value": session, "url": url}])
    page.goto(survey.get_absolute_url() + "offline/")
    page.locator("#waiting summary").tap()
    page.get_by_text("Entered by prober: sent when they are signed in").wait_for()
    line(page, "1 waiting to be sent")
    page.wait_for_load_state("networkidle")
    assert not Finding.objects.exists()
