import json
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.sawing.making_requests import requests
from timber_stock.sawing import engine, kernel
from timber_stock.sawing.compiled import Compiled
from timber_stock.sawing.layout import Bolt
from timber_stock.sawing.limits import stock
from timber_stock.sawing.plain_search import PlainSearch
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.search import Allowance, search

CASES = sorted((Path(__file__).parents[2] / "fixtures" / "sawing").glob("case-*.json"))
needs_kernel = pytest.mark.skipif(
    kernel.library() is None, reason="this machine has no C compiler, so there is only one search"
)


@needs_kernel
@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(requests(), st.integers(0, 2**60), st.floats(0, 90), st.booleans())
def test_the_plain_search_and_the_compiled_one_give_the_same_layout(asked, seed, roll, in_two):
    request = parse_request(asked)
    if seed % 3 == 0:
        request = request.with_settings(turn_cost_mm3=5e5, most_turns=4, quartered=seed % 2 == 0)
    length = request.log.length_mm
    bolts = (Bolt(0.0, length, roll),)
    if in_two:
        bolts = (Bolt(0.0, length * 0.4, roll), Bolt(length * 0.4 + 7, length, 90 - roll))
    plain, compiled = PlainSearch(stock(request)), Compiled(request)
    for one in (plain, compiled):
        one.begin(bolts, seed)
    for heat in (0.03, 0.0):
        assert plain.run(4, heat) == compiled.run(4, heat)
    assert plain.best() == compiled.best()


@needs_kernel
def test_a_plan_is_the_same_without_a_compiler(monkeypatch):
    request = parse_request(json.loads(CASES[2].read_text()))
    compiled = search(request, Allowance(steps=25), 3)
    monkeypatch.setattr(engine.kernel, "library", lambda: None)
    assert search(request, Allowance(steps=25), 3) == compiled


def test_a_search_can_be_stopped_and_keeps_its_best_so_far():
    request = parse_request(json.loads(CASES[4].read_text()))
    told = []

    def stop():
        return len(told) >= 12

    def progress(share, best_mm3):
        told.append((share, best_mm3))

    found = search(request, Allowance(steps=1e7), stop=stop, progress=progress)
    assert len(told) <= 13  # it stops as soon as it is told to
    assert found.cut_short
    assert found.value_mm3 > 0
    bests = [best for _, best in told]
    assert bests == sorted(bests)


def test_a_layout_that_reaches_the_bound_ends_the_search():
    request = parse_request(json.loads(CASES[3].read_text()))
    everything = sum(t.worth_mm3 * t.quantity for t in request.wanted)
    found = search(request, Allowance(steps=1e7), goal_mm3=everything)
    assert found.value_mm3 == pytest.approx(everything)
    assert not found.cut_short


def test_a_plan_made_in_some_seconds_is_found_again_by_its_steps_and_seed():
    request = parse_request(json.loads(CASES[5].read_text()))
    found = search(request, Allowance(seconds=0.4), 11)
    if not found.cut_short:
        assert search(request, Allowance(steps=found.steps), found.seed) == found


@pytest.mark.parametrize("compiled", [pytest.param(True, marks=needs_kernel), False])
def test_a_pinned_timber_stays_though_the_roll_of_its_bolt_was_never_settled(compiled):
    request = parse_request(json.loads(CASES[1].read_text()))
    begun = search(request, Allowance(steps=60), 2).layout
    start = tuple(
        replace(b, timbers=tuple(replace(t, pinned=True) for t in b.timbers[:1])) for b in begun
    )
    pins = [t for bolt in start for t in bolt.timbers]
    assert pins
    assert not any(bolt.roll_settled for bolt in start)
    for seed in range(4):
        one = Compiled(request) if compiled else PlainSearch(stock(request))
        one.begin(start, seed)
        one.run(40 if compiled else 10, 0.5)
        found = one.best()
        assert [t for bolt in found for t in bolt.timbers if t.pinned] == pins
        assert [b.roll_deg for b in found] == [b.roll_deg for b in start]
        assert not any(bolt.roll_settled for bolt in found)
