"""Meter readings: corrected where a rule is known, refused beyond the meter, salt never hidden."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from timber_stock.wood.meter import (
    SALT_CAUTION,
    TEMPERATURE_RULES,
    TREATED_CAUTION,
    SpeciesCorrection,
    corrected_reading,
)


@given(st.floats(6, 30), st.floats(10, 32), st.floats(10, 32))
@settings(max_examples=60)
def test_by_every_rule_cold_wood_is_never_wetter_than_its_reading_says_less(reading, one, other):
    cold, warm = sorted((one, other))
    for rule in TEMPERATURE_RULES:
        at_cold = corrected_reading(reading, cold, rule=rule).corrected_percent
        at_warm = corrected_reading(reading, warm, rule=rule).corrected_percent
        assert at_cold >= at_warm - 1e-9


@pytest.mark.parametrize(
    ("reading", "word"),
    [
        (6, "below the calibrated range"),
        (6.9, "below the calibrated range"),
        (7, "measured"),
        (26, "measured"),
        (26.1, "about or above fibre saturation, not measured"),
        (30, "about or above fibre saturation, not measured"),
    ],
)
def test_how_far_a_reading_can_be_called_measured(reading, word):
    assert corrected_reading(reading).word == word


@pytest.mark.parametrize("reading", [5.9, 30.1, 64])
def test_a_reading_outside_the_meter_is_refused_and_says_what_to_do(reading):
    with pytest.raises(ValueError, match=r"6 to 30 %: it measures nothing. Dry and weigh"):
        corrected_reading(reading)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        ({"reading_percent": float("nan")}, "The meter reading"),
        ({"reading_percent": 15, "wood_temperature_c": -3}, "between 0 °C and 50 °C"),
        ({"reading_percent": 15, "wood_temperature_c": 33, "rule": "none_needed"}, "10 °C and 32"),
        ({"reading_percent": 15, "wood_temperature_c": 20, "rule": "ours"}, "No temperature rule"),
    ],
)
def test_a_rule_is_not_stretched_beyond_what_it_was_made_for(arguments, says):
    with pytest.raises(ValueError, match=says):
        corrected_reading(**arguments)


def test_species_and_temperature_add_up_and_each_step_names_its_source():
    found = corrected_reading(15.5, 10, "spruce_sitka")
    assert [step.points for step in found.steps] == pytest.approx([1.0, 1.0])
    assert found.corrected_percent == pytest.approx(17.5)
    assert all(step.source and step.standing in {"R", "M"} for step in found.steps)


def test_away_from_the_one_known_pair_nothing_is_corrected_and_it_says_so():
    found = corrected_reading(20, 20, "spruce_sitka")
    assert found.corrected_percent == 20
    assert any("none made" in said for said in found.cautions)
    assert any("none made" in said for said in corrected_reading(15, 20, "oak_white").cautions)


def test_between_two_pairs_of_the_yards_own_the_correction_runs_straight():
    own = (
        SpeciesCorrection("oak_white", 10, 9.0, "own ovendry samples", "Y"),
        SpeciesCorrection("oak_white", 20, 17.0, "own ovendry samples", "Y"),
        SpeciesCorrection("teak", 15, 11.0, "own ovendry samples", "Y"),
    )
    assert corrected_reading(15, 20, "oak_white", corrections=own).corrected_percent == 13.0
    assert corrected_reading(25, 20, "oak_white", corrections=own).corrected_percent == 25


def test_the_salt_caution_comes_with_every_reading_from_a_salt_water_hull():
    assert SALT_CAUTION in corrected_reading(22, 15, salt_water=True).cautions
    assert SALT_CAUTION not in corrected_reading(22, 15).cautions
    assert TREATED_CAUTION in corrected_reading(22, 15, treated=True).cautions


def test_a_reading_without_its_temperature_is_left_alone_with_a_caution():
    found = corrected_reading(14)
    assert (found.corrected_percent, found.steps) == (14, ())
    assert any("No wood temperature" in said for said in found.cautions)


def test_far_from_fifteen_a_flat_correction_is_called_weak():
    assert any("grow with the reading" in said for said in corrected_reading(24, 10).cautions)
    assert not any("grow with the reading" in said for said in corrected_reading(16, 10).cautions)
