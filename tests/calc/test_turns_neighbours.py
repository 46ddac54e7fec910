"""Which members hold the hull for one another, by our rule."""

import pytest

from restoration.calc.turns_neighbours import Standing, neighbours


def floor(n, station, **more):
    return Standing(f"F{n}", "floor_timber", "transverse", "C", station, station, n, **more)


def frame(n, side, station):
    return Standing(f"FR{n}{side}", "frame", "transverse", side, station, station, n)


def strake(kind, n, side, *ends):
    return Standing(f"{kind[0].upper()}{n}{side}{ends[:1]}", kind, "shell", side, *ends, number=n)


def pairs(*members, joined=()):
    return {(pair.one, pair.other): pair.why for pair in neighbours(members, joined)}


def test_the_next_floor_fore_and_aft_is_a_neighbour_and_the_one_after_is_not():
    found = pairs(floor(1, 3), floor(2, 4.5), floor(3, 6))
    assert set(found) == {("F1", "F2"), ("F2", "F3")}
    assert found["F1", "F2"] == "next to each other along the hull"


def test_the_next_floor_is_no_neighbour_when_it_stands_more_than_two_stations_off():
    assert pairs(floor(1, 3), floor(2, 5.01)) == {}


def test_which_floor_is_next_depends_on_those_that_stay_in_too():
    assert ("F1", "F3") in pairs(floor(1, 3), floor(3, 5))
    assert ("F1", "F3") not in pairs(floor(1, 3), floor(2, 4), floor(3, 5))


def test_a_floor_and_the_frames_at_its_station_meet_and_the_two_frames_do_not():
    found = pairs(floor(1, 3), frame(1, "P", 3), frame(1, "S", 3), frame(2, "P", 4))
    assert set(found) == {("F1", "FR1P"), ("F1", "FR1S"), ("FR1P", "FR2P")}


def test_steamed_and_sawn_frames_stand_in_one_row():
    sawn = Standing("FRS2P", "frame_sawn", "transverse", "P", 4, 4, 2)
    assert ("FR1P", "FRS2P") in pairs(frame(1, "P", 3), sawn)


def test_stem_and_stem_foot_meet_at_a_station_and_stem_and_keel_do_not():
    stem = Standing("ST1", "stem", "backbone", "C", 0, 1)
    foot = Standing("SF1", "stem_foot", "backbone", "C", 1, 3)
    keel = Standing("K1", "keel", "backbone", "C", 3, 20)
    assert set(pairs(stem, foot, keel)) == {("ST1", "SF1"), ("SF1", "K1")}


def test_members_without_stations_are_neighbours_by_following_numbers():
    loose = [Standing(f"F{n}", "floor_timber", "transverse", "C", number=n) for n in (1, 2, 4)]
    assert pairs(*loose) == {("F1", "F2"): "next to each other by number"}


def test_strakes_meet_edge_to_edge_from_the_keel_up_on_their_own_side():
    found = pairs(
        strake("garboard", 1, "P"), strake("planking", 1, "P"), strake("planking", 2, "P"),
        strake("sheer_strake", 1, "P"), strake("planking", 2, "S"),
    )  # fmt: skip
    assert set(found) == {
        ("G1P()", "P1P()"), ("P1P()", "P2P()"), ("P2P()", "S1P()"),
    }  # fmt: skip


def test_planks_of_one_strake_meet_at_their_butt_and_others_only_where_they_lie_alongside():
    found = pairs(
        strake("planking", 3, "P", 0, 10), strake("planking", 3, "P", 10, 20),
        strake("planking", 4, "P", 12, 20),
    )  # fmt: skip
    assert found == {
        ("P3P(0,)", "P3P(10,)"): "end to end in one strake",
        ("P3P(10,)", "P4P(12,)"): "edge to edge in the planking",
    }


def test_what_is_joined_is_a_neighbour_whatever_it_is():
    rail = Standing("TL1P", "toe_rail", "deck", "P", 0, 20)
    beam = Standing("B4", "deck_beam", "deck", "C", 4, 4, 4)
    assert pairs(rail, beam) == {}
    assert pairs(rail, beam, joined=[("B4", "TL1P")]) == {("TL1P", "B4"): "joined"}


def test_a_mark_that_stands_twice_is_refused():
    with pytest.raises(ValueError, match="same mark"):
        neighbours([floor(1, 3), floor(1, 4)])


@pytest.mark.parametrize("station", [float("nan"), float("inf")])
def test_a_station_that_is_no_number_is_refused(station):
    with pytest.raises(ValueError, match="no number"):
        floor(1, station)
