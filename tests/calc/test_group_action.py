"""Rows of fastenings along the load: what each of them keeps, and what is a row."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.fastening_face import Face, Hole
from restoration.calc.fastening_rows import apart_from_next, rows_along
from restoration.calc.fastening_timbers import Timber, wood_figures
from restoration.calc.group_action import GroupAction, group_action, group_action_factor, joined
from timber_stock.wood.species import species

LAWS = settings(max_examples=120, deadline=None)
OAK = wood_figures(species("oak_white"))
FACE = Face(900, 180)
GREEN = 8620.0  # N/mm2: 1.25 million psi, Wood Handbook table 5-3
numbers, apart = st.integers(2, 40), st.floats(20, 600)
diameters, stiff = st.floats(6.4, 25.4), st.floats(1e5, 1e10)


@LAWS
@given(numbers, apart, diameters, stiff, stiff)
def test_each_of_a_row_keeps_something_and_never_more_than_one_alone(n, s, d, main, side):
    kept = group_action_factor(n, s, d, main, side)
    assert 0 < kept <= 1
    assert group_action_factor(1, s, d, main, side) == 1
    assert kept == pytest.approx(group_action_factor(n, s, d, side, main))


@LAWS
@given(numbers, apart, diameters, stiff, stiff)
def test_longer_rows_keep_less_for_each_and_never_less_in_all(n, s, d, main, side):
    here, longer = (group_action_factor(k, s, d, main, side) for k in (n, n + 1))
    assert longer <= here * (1 + 1e-9)
    assert (n + 1) * longer >= n * here * (1 - 1e-9)


@LAWS
@given(numbers, apart, diameters, stiff, stiff)
def test_wider_gaps_thicker_bolts_and_slighter_timbers_share_worse(n, s, d, main, side):
    kept = group_action_factor(n, s, d, main, side) * (1 + 1e-9)
    assert group_action_factor(n, 1.3 * s, d, main, side) <= kept
    assert group_action_factor(n, s, min(25.4, 1.3 * d), main, side) <= kept
    assert group_action_factor(n, s, d, main / 1.3, side / 1.3) <= kept


def test_timbers_that_do_not_stretch_share_evenly_and_small_fastenings_too():
    assert group_action_factor(12, 100, 20, 1e18, 1e18) == pytest.approx(1)
    assert group_action_factor(12, 100, 20, 1e40, 1e40) == 1
    assert group_action_factor(12, 100, 20, 1e6, 1e6) < 0.2
    assert group_action_factor(12, 100, 6.3, 1e6, 1e6) == 1


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ((0, 100, 20, 1e8, 1e8), "one fastening or more"),
        ((3, 0, 20, 1e8, 1e8), "distance in the row"),
        ((3, 100, 26, 1e8, 1e8), "up to 1 in"),
        ((3, 100, 20, math.nan, 1e8), "stiffness"),
        ((3, 100, 20, 1e8, math.inf), "stiffness"),
    ],
)
def test_what_means_nothing_is_refused_in_a_sentence(asked, says):
    with pytest.raises(ValueError, match=says):
        group_action_factor(*asked)


def hole(x, y, number=1, diameter=20.0):
    return Hole(number, x, y, "bolt", diameter, 75)


def kept(holes, load=0.0, grain=(0.0, 0.0), woods=(OAK, OAK), **more):
    head = Timber("A1", 75, grain[0], woods[0])
    point = Timber("K1", 150, grain[1], woods[1])
    return group_action(holes, FACE, head, point, load, **({"dry": False} | more))


TWO_ROWS = [hole(x, y) for y in (50, 130) for x in (100, 250, 400, 560)]


def test_a_layout_is_reckoned_by_its_widest_gap_and_the_green_stiffness_of_the_whole_section():
    """Two rows of four, 160 mm at most apart: white oak green 8.62 GPa, 180 mm wide."""
    found = kept(TWO_ROWS)
    assert found.rows == (4, 4)
    by_hand = group_action_factor(4, 160, 20, GREEN * 180 * 150, GREEN * 180 * 75)
    assert found.factor == pytest.approx(by_hand, rel=1e-4)
    assert "2 rows of 4 along the load: each keeps" in found.said
    assert kept(TWO_ROWS, dry=True).factor > found.factor
    assert kept(TWO_ROWS, planes=2).factor > found.factor


def test_across_the_grain_a_strip_as_wide_as_the_group_bears():
    """Rows of two across the face, four of them from 100 to 560 mm: 460 mm wide."""
    found = kept(TWO_ROWS, load=90, grain=(0.0, 90.0))
    assert found.rows == (2, 2, 2, 2)
    by_hand = group_action_factor(2, 80, 20, GREEN * 900 * 150, GREEN * 460 * 75)
    assert found.factor == pytest.approx(by_hand, rel=1e-4)
    row = [hole(100, 40), hole(100, 90), hole(100, 150)]
    one = group_action_factor(3, 60, 20, GREEN * 900 * 150, GREEN * 50 * 75)
    assert kept(row, load=90, grain=(0.0, 90.0)).factor == pytest.approx(one, rel=1e-4)


def test_fastenings_that_stand_in_no_row_keep_all_and_nothing_is_said():
    alone = kept([hole(100, 50), hole(120, 130)])
    assert alone == GroupAction((1, 1), 1.0)
    assert alone.said == ""
    assert kept([]).factor == 1


def test_staggered_rows_close_together_are_one():
    """70 mm apart along and 15 across: less than a quarter, so one row of four."""
    near = [hole(100, 50), hole(240, 50), hole(170, 65), hole(310, 65)]
    far = [hole(100, 50), hole(240, 50), hole(170, 90), hole(310, 90)]
    assert kept(near).rows == (4,)
    assert kept(far).rows == (2, 2)
    assert [len(row) for row in joined(rows_along([*near, hole(400, 80)], 0))] == [4, 1]


def test_a_wood_whose_stiffness_is_not_known_is_named_and_the_rows_are_said_all_the_same():
    poui = replace(OAK, name="black poui", elasticity_green_gpa=None)
    found = kept(TWO_ROWS, woods=(OAK, poui))
    assert found.factor is None
    assert "How stiff green black poui is, is not known" in found.said
    assert "2 rows of 4" in found.said


def test_ballast_is_not_taken_for_a_wood_of_unknown_stiffness():
    iron = Timber("BK1", 350, 0, None, is_wood=False)
    found = group_action(TWO_ROWS, FACE, Timber("K1", 200, 0, OAK), iron, 0, dry=False)
    assert found.factor is None
    assert found.why_not == "BK1 is not of wood: the factor held is for wood to wood."


def test_a_hole_knows_how_far_the_next_row_is():
    rows = rows_along(TWO_ROWS, 0)
    assert apart_from_next(TWO_ROWS[0], rows, 0) == pytest.approx(80)
    assert apart_from_next(TWO_ROWS[0], rows[:1], 0) == 0
