"""A replacement whose lengths do not come to what is asked for has only part of its timber."""

from datetime import date

import pytest
from django.urls import reverse

from restoration.actions.allotments import record_cut, record_fitted
from restoration.models import Member, ReplacementSpec, Vessel
from restoration.models.work_track import track_of
from restoration.reports.gather_timber import IN_PART, open_specs, stage_of
from restoration.reports.in_hand import next_steps
from timber_stock.models import Board

pytestmark = pytest.mark.django_db
DAY = date(2026, 2, 20)


@pytest.fixture
def plank(survey, make_spec):
    return make_spec(survey, "P4S", kind="planking", length_mm=5200)


@pytest.fixture
def half(plank, promise, deep_log):
    return promise(plank, "L7-2a", 100, 3300)


def stage(spec):
    return ReplacementSpec.objects.with_stage().get(pk=spec.pk).stage


def finish(*lengths):
    for length in lengths:
        record_fitted(allotment=record_cut(allotment=length, on=DAY, by="Bram"), on=DAY, by="Bram")


def test_the_first_of_two_lengths_is_part_of_its_timber_and_both_are_all_of_it(
    plank, half, promise
):
    assert stage(plank) == "part"
    promise(plank, "L7-2b1", 0, 1999)
    assert stage(plank) == "part"  # 3200 and 1999 of 5200
    promise(plank, "L7-2b2", 0, 400)
    assert stage(plank) == "found"


def test_what_is_cut_does_not_hide_that_the_rest_is_not_found(plank, half, promise):
    record_cut(allotment=half, on=DAY, by="Bram")
    assert stage(plank) == "part"
    second = promise(plank, "L7-2b1", 0, 2400)
    assert stage(plank) == "found"
    finish(second)
    assert stage(plank) == "cut"


def test_lengths_that_are_all_fitted_have_shown_that_they_were_enough(plank, half):
    finish(half)
    assert stage(plank) == "fitted"
    assert track_of(plank.pk).here.key == "fitted"


def test_every_place_that_tells_the_stage_tells_the_same(plank, half, vessel):
    track = track_of(plank.pk)
    assert (track.here.key, track.next.key, track.found_in_part_mm) == ("specified", "found", 3200)
    assert [stage_of(spec) for spec in open_specs(vessel)] == [IN_PART]
    assert not Member.objects.with_replacement().get(mark="P4S").has_timber
    assert Vessel.objects.with_progress().get(pk=vessel.pk).timber_found == 0
    assert [(step.stage, step.count) for step in next_steps() if step.stage != "specify"] == [
        ("part", 1)
    ]


def test_the_whole_is_found_in_every_place(plank, half, promise, vessel):
    promise(plank, "L7-2b1", 0, 2000)
    track = track_of(plank.pk)
    assert (track.here.key, track.next.key, track.found_in_part_mm) == ("found", "sawn", 0)
    assert Vessel.objects.with_progress().get(pk=vessel.pk).timber_found == 1


def test_the_pages_say_how_much_of_it_is_found(client, people, plank, half):
    client.force_login(people["yard"])
    people["yard"].units = "metric"
    people["yard"].save()
    of = "3200 mm of 5200 mm"
    for page in (
        plank.get_absolute_url(),
        reverse("restoration:replacements") + "?stage=part",
        reverse("restoration:yard_board"),
    ):
        assert of in client.get(page).content.decode().replace("\xa0", " "), page
    assert "find the rest" in client.get("/replacements/").content.decode()


def test_nothing_is_said_to_be_short_once_two_lengths_make_the_whole(
    client, people, plank, half, promise
):
    client.force_login(people["yard"])
    assert "needs a scarf" in client.get(plank.get_absolute_url()).content.decode()
    promise(plank, "L7-2b1", 0, 2000)
    assert "needs a scarf" not in client.get(plank.get_absolute_url()).content.decode()


def test_boards_for_the_rest_are_judged_by_the_length_still_wanted(client, people, plank, half):
    """3200 of 5200 are found: of the boards of 3600, 3500 and 3400 each has the other 2000."""
    people["yard"].units = "metric"
    people["yard"].save()
    client.force_login(people["yard"])
    page = reverse("restoration:allot", args=[plank.pk])
    answer = client.get(page)
    text = answer.content.decode().replace("\xa0", " ")
    assert "Boards are judged here by the 2000 mm still wanted" in text
    assert "L7-2b1" in [each["choice"].board.tag for each in answer.context["serving"]]
    chosen = client.get(page, {"board": Board.objects.get(tag="L7-2b1").pk})
    assert chosen.context["form"].initial["to_mm"] == 2000


@pytest.fixture
def metric_yard(client, people):
    people["yard"].units = "metric"
    people["yard"].save()
    client.force_login(people["yard"])
    return client


def text_of(answer):
    return answer.content.decode().replace("\xa0", " ")


def test_the_whole_yard_is_matched_for_the_rest_and_not_for_what_is_found(
    metric_yard, plank, half, make_spec, survey
):
    """No board in stock is as long as the whole 5200; of 3600, 3500 and 3400 each has 2000."""
    whole = make_spec(survey, "P5S", kind="planking", length_mm=5200)
    answer = metric_yard.get("/matching/")
    found = answer.context["found"]
    assert [(each.spec, each.length.length_mm) for each in found.proposed] == [(plank, 2000)]
    assert [each.spec for each in found.left] == [whole]
    board, at = found.proposed[0].board, found.proposed[0].length
    section = plank.sided_mm * plank.moulded_mm
    assert found.proposed[0].waste_mm3 == pytest.approx(
        (board.thickness_mm * board.width_mm - section) * 2000
    )
    # What is found of it lies from 100 to 3300 in L7-2a: no proposal touches that.
    assert board.tag != "L7-2a" or at.from_mm >= 3300
    assert text_of(answer).count("2000 mm of 5200 mm still wanted") == 1


def test_the_rest_is_accepted_once_and_makes_it_whole(metric_yard, plank, half):
    token = metric_yard.get("/matching/").context["found"].proposed[0].token()
    said = text_of(metric_yard.post("/matching/accept/", {"one": token}, follow=True))
    assert "is allotted to TEN-P4S" in said
    assert stage(plank) == "found"
    assert "No replacement waits for timber" in said
    again = text_of(metric_yard.post("/matching/accept/", {"one": token}, follow=True))
    assert "TEN-P4S has its timber already." in again
    assert plank.allotments.count() == 2


def test_a_proposal_made_before_part_of_it_was_found_is_not_taken(
    metric_yard, plank, deep_log, promise
):
    plank.length_mm = 3000
    plank.save()
    token = metric_yard.get("/matching/").context["found"].proposed[0].token()
    promise(plank, "L7-2b2", 0, 1200)
    said = text_of(metric_yard.post("/matching/accept/", {"one": token}, follow=True))
    assert "What is found of TEN-P4S has changed meanwhile: look again." in said
    assert plank.allotments.count() == 1


def test_why_the_rest_stays_without_timber_is_told_of_its_own_length(metric_yard, plank, half):
    """Of 5200 half is found; 300 at most is left of the one board, of the others nothing."""
    Board.objects.exclude(tag="L7-2a").update(state="gone")
    answer = metric_yard.get("/matching/")
    (left,) = answer.context["found"].left
    assert left.why.startswith("The nearest is L7-2a: 1700 mm short")  # 2000 less 300
    assert "2000 mm of 5200 mm still wanted" in text_of(answer)


def test_a_board_tells_that_it_could_become_the_rest(metric_yard, plank, half):
    board = Board.objects.get(tag="L7-2b2")  # 3400 long
    answer = metric_yard.get(reverse("restoration:board_uses", args=[board.pk]))
    assert [use.length.length_mm for use in answer.context["found"].uses] == [2000]
    assert "2000 mm of 5200 mm still wanted" in text_of(answer)


def test_a_mill_is_asked_for_the_rest_alone(metric_yard, plank, half):
    Board.objects.exclude(tag="L7-2a").update(state="gone")
    answer = text_of(metric_yard.get(reverse("restoration:allot", args=[plank.pk])))
    asked = answer[answer.index("Ask a mill for") :].split("</p>")[0]
    assert "× 2000 mm</b>" in asked
    assert "goes into the scarf" in asked
    assert "5200" not in asked


def test_a_cutting_list_is_drawn_for_the_rest_alone(metric_yard, plank, half):
    page = reverse("restoration:cutting_from_specs")
    assert f"{page}?spec={plank.pk}" in text_of(metric_yard.get(plank.get_absolute_url()))
    asked = metric_yard.get(page)
    assert "2000 mm of 5200 mm still wanted" in text_of(asked)
    said = {
        "new_name": "Scarfs", "heart_clearance_mm": "25", "to_trim_mm": "100",
        "usual_moisture_percent": "16", "specs": [plank.pk],
    }  # fmt: skip
    metric_yard.post(page, said)
    assert plank.wanted_timbers.get().item.length_mm == 2100


def test_a_length_that_is_enough_is_said_to_be_in_the_specification_while_none_is_cut(
    metric_yard, plank, half
):
    def told():
        return "If it is long enough" in text_of(metric_yard.get(plank.get_absolute_url()))

    assert told()
    ReplacementSpec.objects.filter(pk=plank.pk).update(length_mm=3200)
    assert (stage(plank), told()) == ("found", False)
    ReplacementSpec.objects.filter(pk=plank.pk).update(length_mm=5200)
    record_cut(allotment=half, on=DAY, by="Bram")
    assert not told()  # the specification stays as the piece was cut to it
