"""Members laid out in one step: numbers, sides, stations and the taper of their moulding."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from restoration.calc.repeated_members import MOST, Run, lay_out, usual_side

FLOORS = Run(kind="floor_timber", first=1, last=24, sided_mm=63.5, moulded_mm=127.0)
INCH = 25.4


def test_floors_1_to_24_each_lie_at_their_own_station():
    floors = lay_out(FLOORS)
    assert len(floors) == 24
    assert [floor.mark for floor in floors][:2] == ["F1", "F2"]
    assert floors[16].mark == "F17"
    assert [floor.station for floor in floors] == [float(number) for number in range(1, 25)]
    assert {(floor.side, floor.sided_mm, floor.moulded_mm) for floor in floors} == {
        ("C", 63.5, 127.0)
    }


def test_frames_to_both_sides_come_in_pairs_port_first():
    frames = lay_out(Run(kind="frame", first=7, last=9, side="pair"))
    assert [frame.mark for frame in frames] == ["FR7P", "FR7S", "FR8P", "FR8S", "FR9P", "FR9S"]
    assert [frame.side for frame in frames] == ["P", "S"] * 3
    assert [frame.station for frame in frames] == [7, 7, 8, 8, 9, 9]


@pytest.mark.parametrize(
    ("kind", "side"),
    [("floor_timber", "C"), ("frame", "pair"), ("deck_beam", "B"), ("keel_bolt", "C")],
)
def test_a_kind_lies_where_the_member_table_says_it_does(kind, side):
    assert usual_side(kind) == side


@pytest.mark.parametrize(
    ("said", "stations"),
    [
        ({}, [3, 4, 5, 6]),
        ({"station_first": 10.0}, [10, 11, 12, 13]),
        ({"station_first": 2.0, "station_spacing": 0.5}, [2, 2.5, 3, 3.5]),
        ({"station_first": 2.0, "station_last": 4.0}, [2, 2.667, 3.333, 4]),
        ({"station_last": 9.0}, [3, 5, 7, 9]),
        ({"station_first": 8.0, "station_spacing": -2.0}, [8, 6, 4, 2]),
    ],
)
def test_stations_follow_the_numbers_or_what_was_said(said, stations):
    beams = lay_out(Run(kind="deck_beam", first=3, last=6, **said))
    assert [beam.station for beam in beams] == stations


def test_moulding_tapers_straight_from_the_middle_one_to_both_ends():
    five = Run(
        kind="floor_timber", first=1, last=5, moulded_mm=120, moulded_ends_mm=60, rounded_to_mm=1
    )
    assert [floor.moulded_mm for floor in lay_out(five)] == [60, 90, 120, 90, 60]


def test_of_an_even_run_the_two_in_the_middle_have_the_full_moulding():
    four = Run(kind="floor_timber", first=1, last=4, moulded_mm=120, moulded_ends_mm=60)
    assert [floor.moulded_mm for floor in lay_out(four)] == [60, 120, 120, 60]
    two = replace(four, last=2)
    assert [floor.moulded_mm for floor in lay_out(two)] == [120, 120]


def test_sizes_in_between_are_rounded_to_what_a_rule_can_show_and_the_said_ones_are_not():
    run = replace(FLOORS, last=9, moulded_mm=127.3, moulded_ends_mm=70.1, rounded_to_mm=INCH / 16)
    sizes = [floor.moulded_mm for floor in lay_out(run)]
    assert (sizes[0], sizes[4], sizes[8]) == (70.1, 127.3, 70.1)
    for size in sizes[1:4] + sizes[5:8]:
        assert math.isclose(size / INCH * 16, round(size / INCH * 16), abs_tol=1e-9)


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"first": 9, "last": 3}, "Numbers run upwards"),
        ({"first": -1}, "Numbers run upwards"),
        ({"last": 10_000}, "between 0 and 9999"),
        ({"last": 401}, "this would make 401"),
        ({"last": 201, "side": "pair"}, "this would make 402"),
        ({"side": "X"}, "no side"),
        ({"kind": "sided"}, "no kind of member"),
        ({"sided_mm": 0}, "sided size must be more than 0"),
        ({"length_mm": -3.0}, "length must be more than 0"),
        ({"moulded_mm": math.nan}, "moulded size must be a number"),
        ({"moulded_mm": None, "moulded_ends_mm": 60.0}, "amidships too"),
        ({"rounded_to_mm": 0.0}, "step to round to"),
        ({"station_first": math.inf}, "station must be a number"),
        ({"station_last": 24.0, "station_spacing": 1.0}, "not both"),
        ({"station_spacing": 0.0}, "every member at one station"),
        ({"last": 1, "station_last": 5.0}, "One member lies at one station"),
    ],
)
def test_a_run_that_cannot_be_is_refused_with_a_sentence(changed, sentence):
    with pytest.raises(ValueError, match=sentence):
        lay_out(replace(FLOORS, **changed))


@st.composite
def runs(draw):
    first = draw(st.integers(0, 300))
    ends = draw(st.none() | st.floats(20, 400))
    return Run(
        kind=draw(st.sampled_from(["floor_timber", "frame", "deck_beam", "keel"])),
        first=first,
        last=first + draw(st.integers(0, 60)),
        side=draw(st.sampled_from(["C", "P", "S", "B", "pair"])),
        station_first=draw(st.none() | st.floats(-5, 40)),
        moulded_mm=draw(st.floats(20, 400)),
        moulded_ends_mm=ends,
        rounded_to_mm=draw(st.sampled_from([1.0, INCH / 16])),
    )


@given(runs())
def test_every_number_is_made_once_a_side_and_no_mark_twice(run):
    made = lay_out(run)
    assert len({member.mark for member in made}) == len(made) <= MOST
    assert {member.number for member in made} == set(range(run.first, run.last + 1))
    assert [member.station for member in made] == sorted(member.station for member in made)


@given(runs())
def test_moulding_stays_between_ends_and_middle_and_is_alike_fore_and_aft(run):
    sizes = [member.moulded_mm for member in lay_out(run)]
    ends = run.moulded_mm if run.moulded_ends_mm is None else run.moulded_ends_mm
    low, high = sorted([run.moulded_mm, ends])
    step = run.rounded_to_mm
    assert all(low - step / 2 - 1e-9 <= size <= high + step / 2 + 1e-9 for size in sizes)
    assert sizes == pytest.approx(sizes[::-1])
