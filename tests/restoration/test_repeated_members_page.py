"""A run of members in the browser: looked through before anything is stored."""

import pytest
from django.core.exceptions import ValidationError

from restoration.actions.members import make_members
from restoration.calc.repeated_members import Run, lay_out
from restoration.models import Member


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    return client


@pytest.fixture
def page(vessel):
    return f"/vessels/{vessel.pk}/members/repeat/"


FLOORS = {
    "kind": "floor_timber", "side": "C", "first": "1", "last": "24", "station_first": "1",
    "station_last": "24", "sided": "2 1/2 in", "moulded": "5 in",
}  # fmt: skip


def text(answer):
    return answer.content.decode()


def preview(yard, page, said):
    answer = yard.post(page, said)
    return answer, answer.context["form"].fingerprint()


def test_a_preview_names_every_member_and_stores_none(yard, page):
    answer = yard.post(page, FLOORS)
    assert answer.status_code == 200
    assert "Preview: 24 members, none stored yet" in text(answer)
    for mark in ("F1", "F17", "F24"):
        assert f">{mark}<" in text(answer)
    assert "Make these 24 members" in text(answer)
    assert not Member.objects.exists()


def test_what_was_looked_through_is_stored(yard, page, vessel, woods):
    said = FLOORS | {"wood": woods["oak_white"].pk, "moulded_ends": "3 in"}
    _, seen = preview(yard, page, said)
    answer = yard.post(page, said | {"make": "", "previewed": seen})
    assert answer.url == vessel.get_absolute_url()
    floors = {member.mark: member for member in Member.objects.all()}
    assert len(floors) == 24
    twelfth = floors["F12"]
    assert (twelfth.number, twelfth.station_from, twelfth.station_to) == (12, 12, 12)
    assert (twelfth.moulded_mm, floors["F24"].moulded_mm) == (
        pytest.approx(127),
        pytest.approx(76.2),
    )
    assert {floor.wood.code for floor in floors.values()} == {"oak_white"}
    form = text(yard.get(f"/members/{twelfth.pk}/edit/"))
    assert 'value="2 1/2 in"' in form
    # 2 of 11 steps out from the middle two, 5 in less 2/11 of 2 in, to the nearest sixteenth
    assert 'value="4 5/8 in"' in text(yard.get(f"/members/{floors['F10'].pk}/edit/"))


def test_frames_are_made_to_both_sides(yard, page):
    said = {"kind": "frame", "side": "pair", "first": "3", "last": "5", "sided": "1 1/2"}
    _, seen = preview(yard, page, said)
    yard.post(page, said | {"make": "", "previewed": seen})
    assert {(m.mark, m.side, m.station_from) for m in Member.objects.all()} == {
        ("FR3P", "P", 3), ("FR3S", "S", 3), ("FR4P", "P", 4),
        ("FR4S", "S", 4), ("FR5P", "P", 5), ("FR5S", "S", 5),
    }  # fmt: skip


def test_what_was_changed_after_the_preview_must_be_looked_through_again(yard, page):
    _, seen = preview(yard, page, FLOORS)
    answer = yard.post(page, FLOORS | {"sided": "3 in", "make": "", "previewed": seen})
    assert answer.status_code == 422
    assert "Look through the new one" in text(answer)
    assert not Member.objects.exists()
    again = answer.context["form"].fingerprint()
    yard.post(page, FLOORS | {"sided": "3 in", "make": "", "previewed": again})
    assert Member.objects.count() == 24


def test_nothing_is_stored_without_a_preview(yard, page):
    assert yard.post(page, FLOORS | {"make": ""}).status_code == 422
    assert not Member.objects.exists()


def test_marks_in_the_way_are_named_and_nothing_can_be_made(yard, page, vessel):
    for mark in ("F3", "f9"):
        Member.objects.create(vessel=vessel, kind="floor_timber", mark=mark)
    answer, seen = preview(yard, page, FLOORS)
    assert answer.status_code == 422
    assert "has members of these marks already: F3, F9." in text(answer)
    assert "Make these" not in text(answer)
    assert text(answer).count("taken</span>") == 2
    assert yard.post(page, FLOORS | {"make": "", "previewed": seen}).status_code == 422
    assert Member.objects.count() == 2


def test_a_mark_that_came_in_between_is_named_and_none_of_the_run_is_stored(vessel):
    planned = lay_out(Run(kind="floor_timber", first=1, last=9))
    Member.objects.create(vessel=vessel, kind="floor_timber", mark="F4")
    with pytest.raises(ValidationError, match="these marks already: F4"):
        make_members(vessel=vessel, kind="floor_timber", planned=planned)
    assert Member.objects.count() == 1


def test_a_whole_run_is_stored_by_few_queries(vessel, woods, django_assert_max_num_queries):
    planned = lay_out(Run(kind="frame", first=1, last=200, side="pair"))
    with django_assert_max_num_queries(12):
        make_members(vessel=vessel, kind="frame", planned=planned, wood=woods["oak_white"])
    assert Member.objects.count() == 400


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"last": "401"}, "At most 400 members are made at once; this would make 401."),
        ({"first": "30"}, "Numbers run upwards"),
        ({"station_spacing": "2"}, "Give the last station or the spacing of stations, not both."),
        ({"sided": "thick"}, "“thick” is not a length that can be read"),
        ({"sided": "0"}, "sided size must be more than 0"),
        ({"station_first": "nan"}, "Write a number"),
        ({"kind": ""}, "Fill this in: it is needed"),
    ],
)
def test_a_refused_run_says_why_and_keeps_what_was_typed(yard, page, changed, sentence):
    answer = yard.post(page, FLOORS | {"material": "grown crooks", **changed})
    assert answer.status_code == 422
    assert sentence in text(answer)
    assert 'value="grown crooks"' in text(answer)
    assert "Make these" not in text(answer)


def test_one_line_fills_the_form_and_shows_the_preview(yard, page, woods):
    line = "floors 1 to 24, at stations 1 to 24, sided 2 1/2 in, moulded 5 in, white oak"
    answer = yard.get(page, {"sentence": line})
    assert answer.status_code == 200
    assert 'value="2 1/2 in"' in text(answer)
    assert "Preview: 24 members, none stored yet" in text(answer)
    assert "All of white oak." in text(answer)
    assert not Member.objects.exists()


def test_what_the_line_says_that_is_not_understood_is_named(yard, page):
    answer = text(yard.get(page, {"sentence": "frames 1 to 3, with cedar dowels, oak"}))
    assert "“with cedar dowels”, “oak”" in answer
    assert ">FR2S<" in answer  # frames lie on both sides unless the line says otherwise


def test_metric_sizes_in_between_are_whole_millimetres(yard, page, people):
    people["yard"].units = "metric"
    people["yard"].save()
    said = FLOORS | {"last": "5", "station_last": "5", "moulded": "120", "moulded_ends": "75"}
    assert "98 mm" in text(yard.post(page, said))
