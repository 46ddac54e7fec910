"""Equilibrium moisture, climates and service moisture: laws and refusals."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from timber_stock.wood.moisture import (
    climate_year,
    equilibrium_cautions,
    equilibrium_moisture_percent,
    equilibrium_moisture_percent_f,
    moisture_percent,
)
from timber_stock.wood.service import PLACES

warmth = st.floats(-30, 60)
damp = st.floats(0, 100)


@given(warmth, damp, damp)
@settings(max_examples=80)
def test_damper_air_never_means_drier_wood(t, one, other):
    low, high = sorted((one, other))
    assert equilibrium_moisture_percent(t, low) <= equilibrium_moisture_percent(t, high) + 1e-12


@given(st.floats(0, 60), st.floats(0, 60), st.floats(1, 99))
@settings(max_examples=80)
def test_warmer_air_of_the_same_humidity_never_means_wetter_wood(one, other, h):
    cold, warm = sorted((one, other))
    assert equilibrium_moisture_percent(warm, h) <= equilibrium_moisture_percent(cold, h) + 0.15


@given(st.floats(-1, 54), damp)
@settings(max_examples=60)
def test_both_forms_of_the_equation_say_the_same(t, h):
    by_f = equilibrium_moisture_percent_f(1.8 * t + 32, h)
    assert equilibrium_moisture_percent(t, h) == pytest.approx(by_f, abs=0.06)


def test_bone_dry_air_dries_wood_through():
    assert equilibrium_moisture_percent(20, 0) == 0


@pytest.mark.parametrize("humidity", [-0.1, 100.1, float("nan"), float("inf")])
def test_a_humidity_outside_nought_to_a_hundred_is_refused(humidity):
    with pytest.raises(ValueError, match="Relative humidity"):
        equilibrium_moisture_percent(20, humidity)
    with pytest.raises(ValueError, match="Relative humidity"):
        equilibrium_moisture_percent_f(68, humidity)


def test_the_refusal_says_both_limits():
    with pytest.raises(ValueError, match=r"101 %; it must lie between 0 % and 100 %"):
        equilibrium_moisture_percent(20, 101)


@pytest.mark.parametrize("t", [-41, 131, float("nan"), None, True])
def test_an_impossible_temperature_is_refused(t):
    with pytest.raises(ValueError, match="The temperature"):
        equilibrium_moisture_percent(t, 60)


def test_where_the_equation_is_weak_it_says_so():
    assert equilibrium_cautions(20, 65) == ()
    assert len(equilibrium_cautions(20, 96)) == 1
    assert len(equilibrium_cautions(60, 97)) == 2


def test_a_climate_of_twelve_months_gives_mean_least_and_greatest():
    cold = (4, 4, 6, 9, 12, 15, 17, 17, 15, 11, 7, 5)
    wet = (88, 85, 81, 77, 74, 73, 75, 78, 81, 84, 87, 89)
    year = climate_year("the creek", cold, wet)
    by_month = [equilibrium_moisture_percent(t, h) for t, h in zip(cold, wet, strict=True)]
    assert year.monthly_percent == tuple(by_month)
    assert year.mean_percent == pytest.approx(sum(by_month) / 12)
    assert (year.driest_month, year.wettest_month) == ("June", "December")
    assert year.least_percent < year.mean_percent < year.greatest_percent
    assert year.standing == "C"
    with pytest.raises(ValueError, match="twelve temperatures"):
        climate_year("the creek", cold[:11], wet)
    with pytest.raises(ValueError, match="Relative humidity"):
        climate_year("the creek", cold, (*wet[:11], 105))


def test_a_weighed_sample():
    assert moisture_percent(191.4, 120.0) == pytest.approx(59.5)
    with pytest.raises(ValueError, match="less than the ovendry mass"):
        moisture_percent(119, 120)
    with pytest.raises(ValueError, match="ovendry mass"):
        moisture_percent(119, 0)


def test_service_moistures_are_shown_as_assumptions_and_in_order():
    for place in PLACES.values():
        assert place.standing == "A"
        assert "ssumed" in place.basis
        assert place.least_percent < place.expected_percent < place.greatest_percent
    assert PLACES["topsides"].expected_percent == 15
    assert PLACES["bilge"].expected_percent > PLACES["deck"].expected_percent
