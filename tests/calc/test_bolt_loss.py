"""A wasted bolt: laws, the weakest place, refusals."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.bolt_loss import (
    fastening_metals,
    metric_stress_area_mm2,
    standard_threads,
    tension_left,
    unified_stress_area_mm2,
    wasted_bolt,
)


@settings(max_examples=80, deadline=None)
@given(st.floats(1, 80), st.floats(0, 1))
def test_wasting_costs_bending_more_than_tension_and_tension_more_than_diameter(original, share):
    left = wasted_bolt(original, original * share)
    assert (
        left.bending_fraction
        <= left.bending_fraction_en
        <= left.tension_fraction
        <= left.diameter_fraction
        <= 1
    )
    whole = wasted_bolt(original, original)
    assert left.area_mm2 == pytest.approx(whole.area_mm2 * left.tension_fraction)


def test_a_whole_bolt_has_lost_nothing():
    left = wasted_bolt(19.05, 19.05)
    assert left.diameter_fraction == left.tension_fraction == left.bending_fraction == 1
    assert left.area_mm2 == pytest.approx(math.pi * 19.05**2 / 4)


def test_a_bolt_eaten_through_carries_nothing():
    assert tension_left(wasted_bolt(12.7, 0), 400).newtons == 0


def test_a_bolt_breaks_at_its_thread_until_the_shank_is_thinner_still():
    thread = standard_threads()["M20"]
    slightly, badly = wasted_bolt(20, 19), wasted_bolt(20, 15)
    assert tension_left(slightly, 400, thread).weakest == "thread"
    assert tension_left(slightly, 400, thread).newtons == pytest.approx(thread * 400)
    assert tension_left(badly, 400, thread).weakest == "shank"
    assert tension_left(badly, 400, thread).newtons == pytest.approx(math.pi * 225 / 4 * 400)


@settings(max_examples=60, deadline=None)
@given(st.floats(6, 60), st.floats(0.5, 4))
def test_a_thread_leaves_less_than_the_full_bolt_and_more_than_its_core(diameter, pitch):
    area = metric_stress_area_mm2(diameter, pitch)
    assert math.pi / 4 * (diameter - 1.2269 * pitch) ** 2 < area < math.pi / 4 * diameter**2


def test_every_metal_says_how_it_is_known():
    for metal in fastening_metals().values():
        assert 0 < metal.yield_mpa < metal.tensile_mpa
        assert metal.tensile_evidence in ("READ", "MEMORY")
        assert metal.yield_evidence in ("READ", "MEMORY")
        assert metal.source


@pytest.mark.parametrize(
    ("original", "least", "says"),
    [
        (19, 20, "check which is which"),
        (19, -1, "below 0"),
        (0, 0, "more than 0"),
        (float("nan"), 5, "must be a number"),
        (19, float("inf"), "must be a number"),
    ],
)
def test_an_impossible_bolt_is_refused_with_a_sentence(original, least, says):
    with pytest.raises(ValueError, match=says):
        wasted_bolt(original, least)


def test_an_impossible_thread_or_strength_is_refused_with_a_sentence():
    for area, coarse in ((metric_stress_area_mm2, 7), (unified_stress_area_mm2, 4)):
        with pytest.raises(ValueError, match="leaves nothing"):
            area(6, coarse)
        with pytest.raises(ValueError, match="more than 0"):
            area(6, 0)
    with pytest.raises(ValueError, match="tensile strength"):
        tension_left(wasted_bolt(20, 19), 0)
    with pytest.raises(ValueError, match="thread area"):
        tension_left(wasted_bolt(20, 19), 400, 0)
