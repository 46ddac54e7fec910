import json
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from timber_stock.sawing.bench import Measured, heading, means, measure, row
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.rivals import Choice, _meeting, by_chance_mm3

CASES = sorted((Path(__file__).parents[2] / "fixtures" / "sawing").glob("case-*.json"))
spot = st.tuples(*[st.integers(0, 30).map(float)] * 3)
size = st.tuples(*[st.integers(4, 15).map(float)] * 3)


@given(st.lists(st.tuples(spot, size), min_size=2, max_size=9))
def test_the_solver_is_told_of_every_two_places_that_meet_and_of_no_others(found):
    choices = [
        Choice(0, 0, low, tuple(a + b for a, b in zip(low, grown, strict=True)))
        for low, grown in found
    ]
    told = {pair for rivals in _meeting(choices) for pair in combinations(sorted(rivals), 2)}
    for i, k in combinations(range(len(choices)), 2):
        a, b = choices[i], choices[k]
        meet = all(a.low[x] < b.high[x] and b.low[x] < a.high[x] for x in range(3))
        assert ((i, k) in told) == meet


def test_a_request_is_measured_against_the_other_ways():
    request = parse_request(json.loads(CASES[3].read_text()))
    found = measure("D", request, 0.3, 0.0, 405687989)
    assert 0 < found.of_bound <= 1 + 1e-9
    assert found.of_best_known == pytest.approx(found.worth_mm3 / 405687989)
    assert found.through_and_through > 0
    assert found.by_solver is None
    assert len(row(found)) == len(heading())


def test_means_are_taken_over_what_was_measured():
    some = Measured("A", 1.0, 1.0, 0.5, 0.9, 0.8, 0.7, None)
    more = Measured("B", 1.0, 1.0, 0.5, None, 0.2, 0.7, None)
    lines = list(means([some, more]))
    assert "through and through: geometric mean 0.4000, least 0.2000" in lines
    assert "of best known: geometric mean 0.9000, least 0.9000" in lines
    assert not any(line.startswith("by solver") for line in lines)


def test_filling_by_chance_finds_something_and_never_more_than_is_wanted():
    request = parse_request(json.loads(CASES[7].read_text()))
    everything = sum(t.worth_mm3 * t.quantity for t in request.wanted)
    assert 0 < by_chance_mm3(request, 0.2) <= everything
