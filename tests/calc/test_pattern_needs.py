"""What a pattern needs from the wood: sizes, run-out, crook and bolts."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon

from restoration.calc.pattern import BoltHole, Pattern, PatternLine
from restoration.calc.pattern_needs import needs_of
from restoration.calc.pattern_needs_bolts import check_holes, heart_along
from restoration.calc.pattern_needs_crook import natural_crook
from restoration.calc.pattern_needs_midline import midline
from restoration.calc.pattern_needs_runout import (
    KEPT,
    LIMITS,
    one_in,
    run_out,
    slope_words,
    straightest_deg,
    strength_kept,
)
from restoration.calc.pattern_needs_sizes import (
    blank_along,
    folded_deg,
    hull,
    smallest_flitch,
    smallest_rectangle,
)
from tests.calc.making_patterns import FLOOR, KNEE, arc, mirrored, stars, turned

FEW = settings(max_examples=60, deadline=None)
BAR = ((0, 0), (1000, 0), (1000, 90), (0, 90))
FUTTOCK = arc(1900, -20, 24, 110)


def holds(blank, points, slack=1e-6):
    turn = math.radians(blank.turned_deg)
    first = blank.corners_mm[0]
    for x, y in points:
        along = (x - first[0]) * math.cos(turn) + (y - first[1]) * math.sin(turn)
        across = (y - first[1]) * math.cos(turn) - (x - first[0]) * math.sin(turn)
        assert -slack <= along <= blank.length_mm + slack
        assert -slack <= across <= blank.width_mm + slack


@FEW
@given(stars(), st.floats(-180, 180))
def test_every_blank_holds_the_whole_pattern(points, direction):
    for blank in (smallest_rectangle(points), smallest_flitch(points)):
        holds(blank, points)
    holds(blank_along(points, direction), points)


@FEW
@given(stars(), st.floats(-180, 180))
def test_turned_or_mirrored_a_pattern_needs_the_same_wood(points, degrees):
    area, width = smallest_rectangle(points).area_mm2, smallest_flitch(points).width_mm
    for other in (turned(points, degrees, (310, -75)), mirrored(points)):
        assert smallest_rectangle(other).area_mm2 == pytest.approx(area, rel=1e-6)
        assert smallest_flitch(other).width_mm == pytest.approx(width, rel=1e-6)


@FEW
@given(stars(), st.floats(-90, 90))
def test_no_flitch_that_way_is_narrower_than_the_narrowest(points, direction):
    narrowest = smallest_flitch(points).width_mm
    assert narrowest <= blank_along(points, direction).width_mm + 1e-6
    assert narrowest <= smallest_rectangle(points).width_mm + 1e-6


def many_cornered(count=900):
    """A fair round timber, every corner of it on its hull."""
    turns = [2 * math.pi * n / count for n in range(count)]
    return [(800 * math.cos(a) + 90 * math.sin(a), 170 * math.sin(a)) for a in turns]


@FEW
@given(st.one_of(stars(), st.just(many_cornered())))
def test_the_smallest_of_each_kind_is_the_best_of_those_laid_on_every_side_of_the_hull(points):
    corners = hull(points)
    on_each = [
        blank_along(corners, math.degrees(math.atan2(v - y, u - x)))
        for (x, y), (u, v) in zip(corners, [*corners[1:], corners[0]], strict=True)
    ]
    least = min(blank.area_mm2 for blank in on_each)
    assert smallest_rectangle(points).area_mm2 == pytest.approx(least, rel=1e-9)
    narrowest = min(min(blank.width_mm, blank.length_mm) for blank in on_each)
    assert smallest_flitch(points).width_mm == pytest.approx(narrowest, rel=1e-9)


def test_of_rectangles_that_are_the_same_the_first_round_the_outline_is_taken():
    square = ((0, 0), (400, 0), (400, 400), (0, 400))
    assert smallest_rectangle(square).turned_deg == smallest_flitch(square).turned_deg == 0


@pytest.mark.parametrize("points", [FLOOR, FUTTOCK])
def test_the_width_along_the_middle_is_measured_to_the_nearest_edge_itself(points):
    line, shape = midline(points), Polygon(points)
    middle = [2 * shape.exterior.distance(Point(p)) for p in line.points_mm]
    assert line.width_mm == pytest.approx(sorted(middle)[len(middle) // 2], rel=0.05)


@FEW
@given(st.floats(-170, 170), st.floats(-30, 30))
def test_the_run_out_turns_with_the_pattern_and_its_grain(degrees, grain):
    as_drawn = run_out(midline(FUTTOCK), grain).worst_deg
    other = run_out(midline(turned(FUTTOCK, degrees)), grain + degrees).worst_deg
    # The edge is cut into pieces from elsewhere in a turned outline, which shifts the line a hair.
    assert other == pytest.approx(as_drawn, abs=0.4)
    other = run_out(midline(mirrored(FUTTOCK)), -grain).worst_deg
    assert other == pytest.approx(as_drawn, abs=0.4)


def test_a_straight_bar_has_no_run_out_and_one_laid_askew_has_its_angle():
    assert run_out(midline(BAR), 0).worst_deg == pytest.approx(0, abs=0.05)
    assert run_out(midline(BAR), math.degrees(math.atan(1 / 12))).one_in == pytest.approx(
        12, abs=0.1
    )


def test_a_circle_runs_out_by_half_its_turn_at_its_ends():
    """Of a bar bent through 44 degrees in all what is judged turns by a little less."""
    line = midline(FUTTOCK)
    judged = math.degrees(line.length_mm / 1900)
    assert straightest_deg(line) == pytest.approx(-2, abs=0.3)
    worst = run_out(line, straightest_deg(line))
    assert worst.worst_deg == pytest.approx(judged / 2, abs=0.6)
    assert worst.worst_along_mm in (pytest.approx(0, abs=60), pytest.approx(line.length_mm, abs=60))


@FEW
@given(st.floats(-90, 90))
def test_no_grain_runs_out_less_than_the_straightest(grain):
    line = midline(FLOOR)
    assert run_out(line, straightest_deg(line)).worst_deg <= run_out(line, grain).worst_deg + 1e-9


def test_what_lies_beyond_a_limit_is_its_share_of_the_length():
    worst = run_out(midline(FUTTOCK), -2.0)
    assert LIMITS[0].one_in == 15
    steep = math.degrees(math.atan(1 / 15))
    assert worst.beyond[0] == pytest.approx(
        1 - 2 * steep / math.degrees(midline(FUTTOCK).length_mm / 1900), abs=0.04
    )
    assert list(worst.beyond) == sorted(worst.beyond, reverse=True)


def test_the_strength_kept_follows_the_table_it_stands_for():
    for n, percent in KEPT:
        assert 100 * strength_kept(math.degrees(math.atan(1 / n))) == pytest.approx(
            percent, abs=3.1
        )


@given(st.floats(0, 90), st.floats(0, 90))
def test_steeper_grain_never_keeps_more(one, two):
    low, high = sorted((one, two))
    assert strength_kept(high) <= strength_kept(low) + 1e-12
    assert one_in(high) <= one_in(low)


def test_slopes_are_said_as_one_in_so_many():
    assert slope_words(math.degrees(math.atan(1 / 12))) == "1 in 12"
    assert slope_words(math.degrees(math.atan(1 / 4.5))) == "1 in 4.5"
    assert slope_words(0) == "none to speak of"
    assert slope_words(80) == "across the grain"


def test_a_futtock_of_one_circle_asks_for_a_crook_of_that_sweep_and_then_hardly_runs_out():
    crook = natural_crook(midline(FUTTOCK), FUTTOCK)
    assert not crook.is_knee
    assert crook.radius_mm == pytest.approx(1900, rel=0.02)
    chord = 2 * 1900 * math.sin(math.radians(22))
    assert crook.chord_mm == pytest.approx(chord, rel=0.01)
    assert crook.sweep_mm == pytest.approx(1900 * (1 - math.cos(math.radians(22))), rel=0.02)
    assert crook.width_mm == pytest.approx(110, abs=4)
    assert crook.left.worst_deg < 1
    assert "of sweep in" in crook.words(lambda mm: f"{mm:.0f} mm")


def test_a_knee_is_asked_for_by_its_angle_and_both_arms():
    crook = natural_crook(midline(KNEE), KNEE)
    assert crook.is_knee
    assert crook.inside_deg == pytest.approx(90, abs=3)
    assert sorted(crook.arms_mm) == pytest.approx([555, 653], abs=12)
    assert (
        crook.left.worst_deg < run_out(midline(KNEE), straightest_deg(midline(KNEE))).worst_deg / 2
    )
    assert "grown knee of" in crook.words(lambda mm: f"{mm:.0f} mm")


def test_straight_timber_asks_for_no_crook():
    assert natural_crook(midline(BAR), BAR) is None


def test_a_stout_block_says_that_no_run_of_grain_can_be_told():
    block = Pattern(((0, 0), (200, 0), (205, 190), (0, 200)), 80)
    needs = needs_of(block)
    assert needs.line is None
    assert "about as wide as it is long" in needs.no_line
    assert [way.runs for way in needs.ways] == [None] * len(needs.ways)


def test_a_centreline_along_the_timber_is_taken_and_one_across_it_is_not():
    across = Pattern(BAR, 50, lines=(PatternLine("centre", ((500, 5), (502, 85))),))
    along = Pattern(BAR, 50, lines=(PatternLine("centre", ((30, 20), (970, 70))),))
    assert needs_of(across).ways[0].runs.worst_deg == pytest.approx(0, abs=0.05)
    assert needs_of(along).ways[0].runs.worst_deg == pytest.approx(
        math.degrees(math.atan2(50, 940))
    )


def test_ways_of_laying_that_come_to_the_same_are_told_once():
    (way,) = needs_of(Pattern(BAR, 50)).ways
    assert way.words.startswith("grain as drawn")
    assert "narrowest flitch" in way.words
    assert needs_of(Pattern(BAR, 50)).yield_of(way.blank) == pytest.approx(1)


BOLTED = Pattern(BAR, 50, holes=(BoltHole(300, 45, 16), BoltHole(60, 70, 12), BoltHole(700, 44, 8)))


def test_holes_are_measured_to_the_edge_across_and_to_the_end_along_the_grain():
    middle, corner, small = check_holes(BOLTED, 0, None)
    assert (middle.to_edge_mm, middle.to_end_mm) == pytest.approx((45, 300))
    assert middle.flags == (
        "2.8 diameters from an edge, less than 4: too near where it pulls towards that edge",
    )
    assert (corner.to_edge_mm, corner.to_end_mm) == pytest.approx((20, 60))
    assert [said.split(":")[0] for said in corner.flags] == [
        "1.6 diameters from an edge, less than 4",
        "5.0 diameters of wood along the grain to where it runs out, less than 7",
    ]
    assert small.flags == ()


def test_a_distance_just_short_is_not_rounded_up_to_what_it_falls_short_of():
    (hole,) = check_holes(replace(BOLTED, holes=(BoltHole(500, 45, 11.3),)), 0, None)
    assert hole.flags[0].startswith("3.9 diameters from an edge, less than 4")


def test_grain_across_a_bar_makes_its_edge_an_end():
    middle = check_holes(BOLTED, 90, None)[0]
    assert (middle.to_edge_mm, middle.to_end_mm) == pytest.approx((300, 45))


def test_a_bolt_through_the_heart_is_told_and_one_beside_it_by_how_far():
    heart = heart_along(BOLTED, 0, (40, 60))
    through, beside, clear = check_holes(BOLTED, 0, heart)
    assert through.from_heart_mm < 0
    assert "goes through the heart" in through.flags[-1]
    assert beside.from_heart_mm == pytest.approx(70 - 41.2 - 6, abs=0.1)
    assert not any("heart" in said for said in beside.flags)
    assert clear.from_heart_mm == pytest.approx(10 - 4, abs=0.1)
    assert clear.flags == ("6 mm from the heart: a check from the heart will find it",)


def test_a_heart_far_outside_the_timber_is_refused():
    with pytest.raises(ValueError, match="it is not in this timber"):
        heart_along(BOLTED, 0, (45, 900))


@given(st.floats(-1e4, 1e4))
def test_a_direction_folds_to_the_same_line(angle):
    folded = folded_deg(angle)
    assert -90 < folded <= 90
    assert math.isclose(math.sin(math.radians(2 * (folded - angle))), 0, abs_tol=1e-6)


def test_a_whole_floor_has_all_its_needs():
    needs = needs_of(replace(BOLTED, outline_mm=FLOOR, holes=(BoltHole(328, 20, 19),)))
    assert {way.key for way in needs.ways} >= {"drawn", "straightest", "rectangle"}
    assert needs.volume_mm3 == pytest.approx(needs.area_mm2 * 50)
    assert all(needs.yield_of(way.blank) < 1 for way in needs.ways)
    assert needs.holes[0].flags
