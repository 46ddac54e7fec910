"""Which free length each replacement comes out of: laws on any yard, and brute force on small."""

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.free_length import HAIR_MM, Stretch
from restoration.calc.matching_assign import NOBODY, Task, assign, greedy, laid_out


@st.composite
def yards(draw, most_free=4, most_wanted=5):
    """A few free lengths, a few replacements, which of them would serve, and at what cost."""
    free = draw(st.lists(st.floats(200, 4000), min_size=1, max_size=most_free))
    wanted = draw(st.lists(st.floats(100, 3000), min_size=1, max_size=most_wanted))
    pairs = [
        (row, column, draw(st.integers(0, 900)) * 1000.0)
        for row in range(len(free))
        for column in range(len(wanted))
        if draw(st.integers(0, 3))
    ]
    return free, wanted, pairs, draw(st.sampled_from([0.0, 3.2, 9.5]))


def best_by_trying_all(free, wanted, pairs, kerf):
    """The most that can be met and the least that costs, without a line of the solver's."""
    cost = {(row, column): c for row, column, c in pairs}
    best = (0, 0.0)
    options = [[r for r in range(len(free)) if (r, c) in cost] for c in range(len(wanted))]
    for choice in itertools.product(*[[None, *rows] for rows in options]):
        used = [0.0] * len(free)
        for column, row in enumerate(choice):
            if row is not None:
                used[row] += wanted[column] + (kerf if used[row] else 0.0)
        if any(u > f + HAIR_MM for u, f in zip(used, free, strict=True)):
            continue
        met = sum(row is not None for row in choice)
        spent = sum(cost[row, column] for column, row in enumerate(choice) if row is not None)
        best = max(best, (met, -spent))
    return best[0], -best[1]


@settings(max_examples=60, deadline=None)
@given(yards())
def test_it_meets_as_many_at_as_little_cost_as_trying_every_choice(yard):
    free, wanted, pairs, kerf = yard
    found = assign(Task.of(free, wanted, pairs, kerf), seconds=5)
    met, cost = best_by_trying_all(*yard)
    assert (found.met, found.proven) == (met, True)
    assert found.cost == pytest.approx(cost, abs=1.0)
    assert found.at_most == met


@settings(max_examples=40, deadline=None)
@given(yards(most_free=9, most_wanted=14))
def test_no_length_is_promised_twice_nor_past_its_end_and_a_kerf_lies_between(yard):
    free, wanted, pairs, kerf = yard
    lengths = [Stretch(70.0 * n, 70.0 * n + mm) for n, mm in enumerate(free)]
    found = assign(Task.of(free, wanted, pairs, kerf))
    lying = laid_out(lengths, wanted, found.row_of, kerf)
    allowed = {(row, column) for row, column, _ in pairs}
    for row, stretch in enumerate(lengths):
        mine = [
            (piece, wanted[column], column)
            for column, piece in enumerate(lying)
            if found.row_of[column] == row
        ]
        for piece, asked, column in mine:
            assert (row, column) in allowed
            assert stretch.from_mm <= piece.from_mm
            assert piece.to_mm <= stretch.to_mm
            assert piece.length_mm >= asked - HAIR_MM - 1e-6
        for (one, *_), (other, *_) in itertools.pairwise(mine):
            assert other.from_mm >= one.to_mm + kerf - 1e-9


@settings(max_examples=40, deadline=None)
@given(yards(most_free=9, most_wanted=14))
def test_never_fewer_are_met_than_by_taking_the_cheapest_one_after_another(yard):
    free, wanted, pairs, kerf = yard
    task = Task.of(free, wanted, pairs, kerf)
    found = assign(task)
    assert found.met >= np.count_nonzero(greedy(task) != NOBODY)
    assert found.met <= found.at_most


def test_a_dear_board_is_taken_where_only_so_both_can_be_met():
    """The short one would rather have the first, which is the only one for the long one."""
    pairs = [(0, 0, 5.0), (0, 1, 1.0), (1, 1, 900.0)]
    found = assign(Task.of([2000, 900], [1900, 800], pairs))
    assert found.row_of == (0, 1)
    assert (found.cost, found.proven) == (905.0, True)


def test_three_pieces_come_out_of_one_board_end_to_end_and_a_fourth_does_not():
    pairs = [(0, column, 1.0) for column in range(4)]
    task = Task.of([3018.0], [1000.0] * 4, pairs, kerf_mm=9.0)
    found = assign(task)
    assert found.met == 3
    lying = laid_out([Stretch(400, 3418)], [1000.0] * 4, found.row_of, 9.0)
    assert [piece.from_mm for piece in lying if piece] == [400, 1409, 2418]
    assert assign(Task.of([3017.0], [1000.0] * 4, pairs, kerf_mm=9.0)).met == 2


def test_what_serves_nobody_leaves_everybody_waiting_and_that_is_proven():
    found = assign(Task.of([500.0], [900.0, 700.0], [(0, 0, 1.0), (0, 1, 2.0)]))
    assert (found.row_of, found.proven, found.at_most) == ((NOBODY, NOBODY), True, 0)


def test_more_laid_in_a_length_than_it_holds_is_refused():
    with pytest.raises(ValueError, match="More is laid"):
        laid_out([Stretch(0, 1500)], [800.0, 800.0], [0, 0], 3.0)


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), -1.0])
def test_a_length_a_kerf_or_a_cost_that_is_none_is_refused(bad):
    with pytest.raises(ValueError, match="length"):
        Task.of([bad], [1.0], [])
    with pytest.raises(ValueError, match="kerf"):
        Task.of([1.0], [1.0], [], kerf_mm=bad)
    with pytest.raises(ValueError, match="cost"):
        Task.of([1.0], [1.0], [(0, 0, bad)])
    with pytest.raises(ValueError, match="time"):
        assign(Task.of([1.0], [1.0], []), seconds=bad)
