"""Boards in stick: the fit, its honest band, and what is said when there is too little to fit."""

import math
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from timber_stock.wood.air_drying import (
    exponential_days,
    red_oak_kiln_time_constant_days,
    table_days,
    time_constant_days,
)
from timber_stock.wood.drying import Reading, forecast, wrong_way
from timber_stock.wood.drying_fit import RATES, STUDENT_90, fit

START = date(2024, 4, 1)


def readings(days, me=14.0, height=40.0, tau=120.0, off=None):
    off = off or [0.0] * len(days)
    return [
        Reading(START + timedelta(d), me + height * math.exp(-d / tau) + o)
        for d, o in zip(days, off, strict=True)
    ]


def days_to(found):
    dates = (found.earliest_on, found.likely_on, found.latest_on)
    return [None if day is None else (day - START).days for day in dates]


@given(st.floats(30, 400), st.floats(20, 60), st.floats(16, 19.5))
@settings(max_examples=25, deadline=None)
def test_clean_readings_give_back_the_curve_they_came_from(tau, height, wanted):
    found = forecast(readings((0, 25, 60, 95, 140), height=height, tau=tau), wanted, 14)
    true = tau * math.log(height / (wanted - 14))
    soonest, likely, latest = days_to(found)
    assert likely == pytest.approx(true, rel=0.012, abs=1)
    assert soonest <= likely
    assert latest is None or latest >= likely
    assert found.basis == "fitted"
    assert found.time_constant_days == pytest.approx(tau, rel=0.012)


def test_the_band_of_dates_widens_for_a_drier_aim():
    widths = []
    for wanted in (28, 22, 19, 17):
        soonest, _, latest = days_to(forecast(readings((0, 30, 60)), wanted, 14))
        widths.append(latest - soonest)
    assert widths == sorted(widths)
    assert widths[-1] > 2 * widths[0]


def test_more_readings_narrow_the_band():
    few = days_to(forecast(readings((0, 30, 60)), 18, 14))
    many = days_to(forecast(readings((0, 15, 30, 45, 60, 90, 120, 150)), 18, 14))
    assert many[2] - many[0] < few[2] - few[0]


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_band_holds_the_truth_about_four_times_in_five(seed):
    """Readings scattered by a point about a known curve; the equilibrium known exactly."""
    rng = np.random.default_rng(seed)
    true, held, runs = 120 * math.log(40 / 5), 0, 150
    days = np.array([0.0, 20, 40, 60, 90, 120])
    for _ in range(runs):
        values = 14 + 40 * np.exp(-days / 120) + rng.normal(0, 1, len(days))
        low, high = fit(days, values, 14, 1.0).days_range(19)
        held += low <= true <= high
    assert 0.72 < held / runs < 0.95


def test_among_the_readings_the_band_is_as_wide_as_their_scatter_allows():
    """In the middle of n readings a curve is known to about t s/sqrt(n) either way."""
    days = np.array([0.0, 30, 60, 90, 120])
    low, likely, high = fit(days, 14 + 40 * np.exp(-days / 120), 14, 1.0).band(60)
    expected = 1.638 / math.sqrt(5)
    assert likely - low == pytest.approx(expected, rel=0.25)
    assert high - likely == pytest.approx(expected, rel=0.25)


def test_a_reading_that_goes_the_wrong_way_is_kept_shown_and_widens_the_band():
    days = (0, 30, 60, 90, 120, 150)
    clean = forecast(readings(days), 19, 14)
    odd = forecast(readings(days, off=[0, 0, 0, 9, 0, 0]), 19, 14)
    assert clean.wrong_way == ()
    assert [r.on for r in odd.wrong_way] == [START + timedelta(90)]
    # a rise that the later readings take back is as wide a doubt about the date
    clean_days, odd_days = days_to(clean), days_to(odd)
    assert odd_days[2] - odd_days[0] > 2 * (clean_days[2] - clean_days[0])


def test_wrong_way_is_told_by_date_and_not_by_the_order_given():
    steps = readings((0, 30, 60))
    assert wrong_way(steps[::-1]) == ()
    wet = [*steps, Reading(START + timedelta(80), 40.0)]
    assert wrong_way(wet) == (wet[-1],)


def test_the_order_of_the_readings_does_not_matter():
    steps = readings((0, 30, 60, 100))
    assert forecast(steps, 19, 14) == forecast(steps[::-1], 19, 14)


def test_wood_that_hardly_dries_is_given_no_latest_date():
    found = forecast(readings((0, 30, 60, 90), height=30, tau=5000), 18, 14)
    assert found.latest_on is None
    assert "never gets there" in found.explanation


def test_an_aim_below_what_the_place_allows_is_never_promised():
    found = forecast(readings((0, 30, 60, 90)), 13, 14)
    assert found.likely_on is None
    assert found.latest_on is None
    assert "will not reach 13 %" in found.explanation


def test_an_aim_within_the_doubt_of_the_equilibrium_has_no_latest_date():
    found = forecast(readings((0, 30, 60, 90)), 14.6, 14)
    assert found.likely_on is not None
    assert found.latest_on is None


def test_wood_already_dry_enough_is_dated_when_it_got_there():
    found = forecast(readings((0, 60, 120, 400)), 17, 14)
    soonest, likely, latest = days_to(found)
    assert soonest <= likely <= 400
    assert likely == pytest.approx(120 * math.log(40 / 3), rel=0.03)
    assert latest < 800


def test_no_date_before_the_last_reading_while_it_is_still_too_wet():
    steps = [*readings((0, 30, 60)), Reading(START + timedelta(300), 30.0)]
    assert all(d is None or d >= 300 for d in days_to(forecast(steps, 20, 14)))


def test_the_curve_for_the_plot_holds_the_likely_line_inside_its_band():
    found = forecast(readings((0, 30, 60, 90)), 18, 14)
    assert found.curve[0].on == START
    assert found.curve[-1].on >= found.latest_on or len(found.curve) > 30
    for point in found.curve:
        assert point.low_percent <= point.likely_percent <= point.high_percent
    spans = {p.on: p.high_percent - p.low_percent for p in found.curve}
    measured = [s for day, s in spans.items() if day <= START + timedelta(90)]
    beyond = [s for day, s in spans.items() if day > START + timedelta(110)]
    assert max(beyond) > min(measured)


def test_two_readings_give_a_published_range_and_say_so():
    found = forecast(readings((0, 30)), 18, 14, species_key="oak_white", thickness_mm=60)
    tau = time_constant_days("oak_white", 60)
    last = 14 + 40 * math.exp(-0.25)
    assert found.basis == "published rule"
    assert found.likely_on is None
    assert days_to(found)[0] == 30 + round(exponential_days(tau.least_days, last, 18, 14))
    assert days_to(found)[2] == 30 + round(exponential_days(tau.greatest_days, last, 18, 14))
    assert "From memory of Air Drying of Lumber" in found.explanation
    assert found.curve == ()


def test_three_readings_on_two_days_are_still_too_few_to_fit():
    steps = [*readings((0, 30)), Reading(START, 53.0)]
    assert forecast(steps, 18, 14).basis == "none"


def test_no_reading_but_the_day_it_was_piled():
    found = forecast([], 20, 13, species_key="ash_white", thickness_mm=25.4, piled_on=START)
    assert days_to(found)[0] == pytest.approx(60, abs=1)
    assert days_to(found)[2] == pytest.approx(200, abs=1)


def test_where_no_rule_is_known_no_date_is_given():
    assert forecast([], 20, 13).basis == "none"
    assert forecast([], 20, 13, species_key="teak", thickness_mm=25, piled_on=START).basis == "none"
    damp = forecast([], 12, 13, species_key="ash_white", thickness_mm=25, piled_on=START)
    assert (damp.basis, damp.latest_on) == ("none", None)
    assert "will not reach 12 %" in damp.explanation


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: forecast(readings((0, 30, 60)), 2, 14), "The wanted moisture"),
        (lambda: forecast(readings((0, 30, 60)), 18, 40), "Equilibrium moisture"),
        (lambda: forecast(readings((0, 30, 60)), 18, math.nan), "Equilibrium moisture"),
        (lambda: forecast([Reading(START, -4)], 18, 14), "The reading of 2024-04-01"),
        (lambda: table_days("ash_white", 5), "The thickness"),
        (lambda: table_days("teak", 50), "no row for 'teak'"),
        (lambda: time_constant_days("ash_white", 25, 20), "Green moisture"),
        (lambda: exponential_days(50, 60, 12, 14), "too damp"),
        (lambda: exponential_days(50, 20, 30, 14), "The second moisture"),
        (lambda: exponential_days(0, 60, 20, 14), "time constant"),
        (lambda: red_oak_kiln_time_constant_days(25, 1), "vapour pressure"),
    ],
)
def test_numbers_beyond_reason_are_refused(call, says):
    with pytest.raises(ValueError, match=says):
        call()


def test_twice_as_thick_takes_nearly_three_times_as_long():
    one, two = table_days("oak_white", 25.4), table_days("oak_white", 50.8)
    assert two.least_days / one.least_days == pytest.approx(2**1.5)


def test_the_students_t_used_are_exceeded_by_one_in_ten():
    """Integrated numerically from the density of Student's t."""
    for freedom in (1, 2, 5, 20):
        x = np.linspace(0, STUDENT_90[freedom - 1], 20001)
        shape = (1 + x**2 / freedom) ** (-(freedom + 1) / 2)
        scale = math.gamma((freedom + 1) / 2) / math.gamma(freedom / 2)
        area = np.trapezoid(shape, x) * scale / math.sqrt(freedom * math.pi)
        assert 0.5 - area == pytest.approx(0.1, abs=1e-4)  # printed to three places


def test_the_rates_looked_at_begin_with_no_drying_at_all():
    assert RATES[0] == 0
    assert np.all(np.diff(RATES) > 0)
