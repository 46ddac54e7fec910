"""Setting a usual hull out: proposed and drawn first, stored at once, sized by range."""

import re

import pytest
from django.urls import reverse

from restoration.models import HullLines, Member

pytestmark = pytest.mark.django_db
USUAL = {
    "hull": "long_keel", "station_spaces": "20", "frame_kind": "frame_steamed",
    "first_frame": "", "last_frame": "", "frame_spacing": "1'", "floors_every": "2",
    "strakes": "11", "beams": "9", "keel_bolts": "5",
}  # fmt: skip


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    return client


def set_out(vessel):
    return reverse("restoration:set_out", args=[vessel.pk])


def by_range(vessel):
    return reverse("restoration:members_by_range", args=[vessel.pk])


def text(page):
    return page.content.decode().replace("&#x27;", "'")


def previewed(page):
    return re.search(r'name="previewed" value="(\w+)"', text(page))[1]


def propose_and_store(client, vessel, sent=USUAL):
    page = client.post(set_out(vessel), sent | {"preview": ""})
    return client.post(set_out(vessel), sent | {"make": "", "previewed": previewed(page)})


def test_a_proposal_is_drawn_and_nothing_is_stored(yard, vessel):
    page = yard.post(set_out(vessel), USUAL | {"preview": ""})
    assert page.status_code == 200
    assert "<title>FRB1P, steamed frame, proposed</title>" in text(page)
    assert not Member.objects.exists()
    assert not HullLines.objects.exists()


def test_the_set_is_stored_at_once_with_the_lines_that_give_its_stations_meaning(yard, vessel):
    answer = propose_and_store(yard, vessel)
    assert answer.status_code == 302
    assert answer.url == by_range(vessel)
    frames = vessel.members.filter(kind="frame_steamed", side="P").order_by("number")
    assert [frame.number for frame in frames[:3]] == [1, 2, 3]
    apart = (frames[1].station_from - frames[0].station_from) * vessel.loa_mm / 20
    assert apart == pytest.approx(304.8, abs=1)
    assert HullLines.objects.get().station_spaces == 20
    assert vessel.members.filter(kind="floor_timber").count() < frames.count()
    assert vessel.members.filter(kind="keel_bolt").count() == 5


def test_marks_she_has_already_are_named_and_left_alone(yard, vessel):
    mine = Member.objects.create(vessel=vessel, kind="keel", mark="k", sided_mm=178)
    page = yard.post(set_out(vessel), USUAL | {"preview": ""})
    assert re.search(r"1 of these marks already; they are left alone: <[^>]+>K<", text(page))
    assert propose_and_store(yard, vessel).status_code == 302
    assert vessel.members.filter(mark__iexact="K").get() == mine
    mine.refresh_from_db()
    assert mine.sided_mm == 178


def test_only_what_was_looked_through_is_stored(yard, vessel):
    page = yard.post(set_out(vessel), USUAL | {"preview": ""})
    changed = USUAL | {"beams": "12", "make": "", "previewed": previewed(page)}
    answer = yard.post(set_out(vessel), changed)
    assert answer.status_code == 422
    assert "changed after the preview" in text(answer)
    assert not Member.objects.exists()


def test_a_mark_entered_meanwhile_stops_the_whole_set(vessel):
    from django.core.exceptions import ValidationError

    from restoration.actions.setting_out import set_out as store
    from restoration.calc.setting_out import ProposedMember

    proposed = [
        ProposedMember("keel", "K", None, "C", 2.0, 15.0),
        ProposedMember("stem", "ST", None, "C", 0.0, 1.0),
    ]
    Member.objects.create(vessel=vessel, kind="stem", mark="st")
    with pytest.raises(ValidationError, match="meanwhile"):
        store(vessel=vessel, proposed=proposed)
    assert vessel.members.count() == 1


def test_what_she_has_not_is_left_out(yard, vessel):
    assert propose_and_store(yard, vessel, USUAL | {"leave_out": ["coachroof", "apron"]})
    kinds = set(vessel.members.values_list("kind", flat=True))
    assert "keel" in kinds
    assert not kinds & {"coachroof", "apron"}


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"frame_spacing": "-1'"}, "is negative"),
        ({"frame_spacing": "0"}, "more than 0"),
        ({"frame_spacing": "1/16"}, "At most 200 frames"),
        ({"first_frame": "20'", "last_frame": "10'"}, "forward to aft"),
        ({"last_frame": "60'"}, "lie on the hull"),
        ({"station_spaces": "101"}, "Give 100 or less."),
        ({"strakes": "1"}, "Give 2 or more."),
    ],
)
def test_what_cannot_be_set_out_is_refused_and_kept_as_typed(yard, vessel, wrong, says):
    answer = yard.post(set_out(vessel), USUAL | wrong | {"preview": ""})
    assert answer.status_code == 422
    assert says in text(answer)
    for name, typed in wrong.items():
        assert answer.context["form"][name].value() == typed
    assert not Member.objects.exists()


@pytest.fixture
def floors(vessel, woods):
    return [
        Member.objects.create(
            vessel=vessel, kind="floor_timber", mark=f"F{n}", number=n, side="B",
            station_from=n, station_to=n, sided_mm=60 + n, moulded_mm=127,
        )
        for n in range(1, 12)
    ]  # fmt: skip


def change(client, vessel, **sent):
    page = client.post(by_range(vessel), sent | {"preview": ""})
    return client.post(by_range(vessel), sent | {"change": "", "previewed": previewed(page)})


def test_a_line_is_read_into_the_form(yard, vessel, floors):
    page = yard.get(by_range(vessel), {"sentence": "floors 4 to 9: sided 3 in"})
    form = page.context["form"]
    said = [form[name].value() for name in ("kind", "first", "last", "sided")]
    assert said == ["floor_timber", "4", "9", "3 in"]
    assert page.context["unread"] == ()


def test_a_range_gets_its_size_and_the_others_keep_theirs(yard, vessel, floors):
    kind = {"kind": "floor_timber", "first": "4", "last": "9", "sided": "3 in"}
    page = yard.post(by_range(vessel), kind | {"preview": ""})
    assert "6 members, none changed yet" in text(page)
    assert change(yard, vessel, **kind).status_code == 302
    sided = dict(vessel.members.values_list("number", "sided_mm"))
    assert [sided[n] for n in (3, 4, 9, 10)] == pytest.approx([63, 76.2, 76.2, 70])
    assert set(vessel.members.values_list("moulded_mm", flat=True)) == {127}
    assert vessel.members.get(number=4).as_typed["sided_mm"] == "3 in"


def test_every_one_of_a_kind_gets_its_wood(yard, vessel, floors, woods):
    assert change(yard, vessel, kind="floor_timber", wood=str(woods["oak_white"].pk)).status_code
    assert set(vessel.members.values_list("wood", flat=True)) == {woods["oak_white"].pk}


def test_one_side_alone_gets_its_size(yard, vessel):
    for side in ("P", "S"):
        Member.objects.create(vessel=vessel, kind="frame", mark=f"FR7{side}", number=7, side=side)
    change(yard, vessel, kind="frame", first="7", last="7", side="S", moulded="2 1/4")
    sizes = dict(vessel.members.values_list("side", "moulded_mm"))
    assert sizes == {"P": None, "S": pytest.approx(57.15)}


def test_a_member_changed_meanwhile_stops_the_whole_change(yard, vessel, floors):
    sent = {"kind": "floor_timber", "first": "4", "last": "9", "sided": "3 in"}
    page = yard.post(by_range(vessel), sent | {"preview": ""})
    Member.objects.filter(mark="F6").update(sided_mm=99)
    answer = yard.post(by_range(vessel), sent | {"change": "", "previewed": previewed(page)})
    assert answer.status_code == 422
    assert vessel.members.get(mark="F4").sided_mm == 64


def test_what_was_read_before_another_changed_it_is_not_overwritten(vessel, floors):
    from django.core.exceptions import ValidationError

    from restoration.actions.setting_out import change_range

    Member.objects.filter(mark="F6").update(sided_mm=99)
    with pytest.raises(ValidationError, match="F6 was changed meanwhile"):
        change_range(members=floors[3:9], changes={"sided_mm": 76.2})
    assert vessel.members.get(mark="F4").sided_mm == 64


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"first": "9", "last": "4"}, "runs backwards"),
        ({"first": "40", "last": "50"}, "no floor timber in that range"),
        ({"sided": ""}, "Say what they get"),
        ({"sided": "-3"}, "is negative"),
        ({"sided": "0"}, "More than nothing"),
        ({"kind": "frame"}, "Choose one of those listed"),
    ],
)
def test_a_range_that_cannot_be_is_refused_and_kept_as_typed(yard, vessel, floors, wrong, says):
    sent = {"kind": "floor_timber", "first": "4", "last": "9", "sided": "3 in"} | wrong
    answer = yard.post(by_range(vessel), sent | {"preview": ""})
    assert answer.status_code == 422
    assert says in text(answer)
    assert answer.context["form"]["sided"].value() == sent["sided"]
