"""The order of a survey's round: everything once, no crawling for nothing, what is left."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.round_order import Stop, by_area, by_side, by_station, neighbours, progress

stops = st.lists(
    st.builds(
        Stop,
        key=st.uuids().map(str),
        area=st.sampled_from(["backbone", "transverse", "shell", "deck", "rig"]),
        kind=st.sampled_from(["keel", "frame", "planking"]),
        side=st.sampled_from("CPSB"),
        station=st.none() | st.integers(0, 9).map(float),
        number=st.none() | st.integers(1, 20),
    ),
    max_size=20,
    unique_by=lambda stop: stop.key,
)


def row(text):
    """Stops from words such as "F3:B:2.5": key, side, station."""
    found = []
    for word in text.split():
        key, side, station = word.split(":")
        found.append(Stop(key, "transverse", key[0], side, float(station) if station else None))
    return found


def keys(order):
    return " ".join(stop.key for stop in order)


@settings(max_examples=60, deadline=None)
@given(stops, st.sampled_from("PS"), st.randoms())
def test_every_round_visits_every_member_once(members, first, random):
    for order in (by_side, by_station, by_area):
        assert sorted(s.key for s in order(members, first_side=first)) == sorted(
            s.key for s in members
        )


@settings(max_examples=60, deadline=None)
@given(stops, st.sampled_from("PS"))
def test_one_side_is_finished_before_the_other_is_begun(members, first):
    sides = [stop.side for stop in by_side(members, first)]
    ranks = [{"C": 0, "B": 0, first: 1}.get(side, 2) for side in sides]
    assert ranks == sorted(ranks)


HULL = row("p9:P:9 s1:S:1 c5:C:5 p1:P:1 s9:S:9 b0:B:0 p4:P:4 s4:S:4 px:P:")


def test_the_round_comes_back_along_the_first_side_and_out_again_on_the_other():
    assert keys(by_side(HULL)) == "b0 c5 p9 p4 p1 px s1 s4 s9"
    assert keys(by_side(HULL, first_side="S")) == "b0 c5 s9 s4 s1 p1 p4 p9 px"


def test_each_pass_may_start_from_forward_instead():
    assert keys(by_side(HULL, come_back=False)) == "b0 c5 p1 p4 p9 px s1 s4 s9"


def test_a_hull_with_nothing_on_the_centreline_is_still_entered_from_forward():
    assert keys(by_side(row("p9:P:9 p1:P:1 s4:S:4 s2:S:2"))) == "p1 p9 s4 s2"


def test_once_through_takes_both_sides_at_each_place():
    assert keys(by_station(HULL)) == "b0 p1 s1 p4 s4 c5 p9 s9 px"
    assert keys(by_station(HULL, first_side="S")) == "b0 s1 p1 s4 p4 c5 s9 p9 px"


def test_a_round_by_area_finishes_one_area_before_the_next():
    members = [
        Stop("deck 8", "deck", "deck_beam", "B", 8),
        Stop("deck 2", "deck", "deck_beam", "B", 2),
        Stop("plank", "shell", "planking", "S", 0),
        Stop("keel", "backbone", "keel", "C", 3),
        Stop("mast", "rig", "mast", "C", 3),
    ]
    assert [s.key for s in by_area(members)] == ["keel", "plank", "deck 2", "deck 8", "mast"]
    found = by_area(members, areas=["deck", "shell"])
    assert [s.key for s in found] == ["deck 2", "deck 8", "plank", "keel", "mast"]


def test_members_at_one_place_go_from_the_backbone_up_and_by_number():
    members = [
        Stop("beam", "deck", "deck_beam", "B", 4),
        Stop("floor 9", "transverse", "floor_timber", "B", 4, 9),
        Stop("floor 8", "transverse", "floor_timber", "B", 4, 8),
        Stop("keel", "backbone", "keel", "C", 4),
    ]
    assert [s.key for s in by_side(members)] == ["keel", "floor 8", "floor 9", "beam"]


def test_a_round_knows_what_is_left_in_order():
    order = by_side(HULL)
    found = progress(order, done={"b0", "p9", "somebody else's"})
    assert (found.done, found.total) == (2, 9)
    assert keys(found.left) == "c5 p4 p1 px s1 s4 s9"
    assert progress(order, [stop.key for stop in order]).left == ()


def test_neighbours_are_the_next_of_the_kind_on_the_same_side():
    members = row("f1:P:1 f3:P:3 f2:P:2 f2s:S:2.5 g2:P:2.2 f9:P:9")
    assert keys(neighbours(members[2], members)) == "f1 f3"
    assert keys(neighbours(members[0], members)) == "f2"
    assert keys(neighbours(members[5], members)) == "f3"
    assert neighbours(row("z:P:1")[0], members) == ()


def test_neighbours_without_stations_go_by_number():
    members = [Stop(f"p{n}", "shell", "planking", "P", None, n) for n in (3, 1, 2, 7)]
    assert keys(neighbours(members[0], members)) == "p2 p7"


def test_an_unknown_side_is_refused_and_not_dropped():
    members = [*HULL, Stop("lost", "shell", "planking", "port", 3)]
    for order in (by_side, by_area):
        with pytest.raises(ValueError, match="side of lost is 'port'"):
            order(members)
    for order in (by_side, by_station, by_area):
        with pytest.raises(ValueError, match="first side"):
            order(HULL, first_side="C")
