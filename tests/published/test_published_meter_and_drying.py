"""Meter corrections and drying ranges as printed, each with its source."""

import pytest

from timber_stock.wood.air_drying import (
    exponential_days,
    red_oak_kiln_time_constant_days,
    table_days,
    time_constant_days,
)
from timber_stock.wood.durability import decay_risk, durability, scheffer_word
from timber_stock.wood.meter import corrected_reading
from timber_stock.wood.ring_limits import AUTHORITIES
from timber_stock.wood.species import species


@pytest.mark.parametrize(("celsius", "points"), [(15, 0.5), (10, 1.0), (25, -0.5), (35, -1.5)])
def test_half_a_point_for_every_five_degrees(celsius, points):
    """A meter's instruction sheet, calibrated at 20 C (read)."""
    assert corrected_reading(15, celsius).corrected_percent == pytest.approx(15 + points)


@pytest.mark.parametrize(("celsius", "points"), [(10, 2), (40, -3), (50, -4)])
def test_the_other_makers_table_at_a_reading_of_fifteen(celsius, points):
    """Another maker's sheet, whole numbers (read)."""
    found = corrected_reading(15, celsius, rule="table_at_fifteen")
    assert found.corrected_percent == pytest.approx(15 + points)


@pytest.mark.parametrize(
    ("wood", "reading", "printed"), [("spruce_sitka", 15, 16), ("teak", 24, 20)]
)
def test_the_two_printed_species_examples(wood, reading, printed):
    """One maker's sheet (read): Sitka spruce 15 becomes 16, teak 24 becomes 20."""
    assert corrected_reading(reading, None, wood).corrected_percent == printed


def test_air_drying_days_of_red_oak_from_memory():
    """Air Drying of Lumber, from memory: 70 to 200 days; the quoted 82, 154, 184 lie inside."""
    days = table_days("oak_northern_red", 25.4)
    assert (days.least_days, days.greatest_days) == (70, 200)
    assert all(days.least_days <= quoted <= days.greatest_days for quoted in (82, 154, 184))
    assert days.standing == "M"


def test_the_kiln_formula_is_far_too_quick_outdoors():
    """At 60 F (p 13.25 mmHg), Me 13 %, it gives 30.5 days from 85 to 20 % (worked)."""
    tau = red_oak_kiln_time_constant_days(25.4, 13.25)
    assert exponential_days(tau, 85, 20, 13) == pytest.approx(30.5, abs=0.05)
    slow = time_constant_days("oak_northern_red", 25.4, 85)
    assert exponential_days(slow.least_days, 85, 20, 13) == pytest.approx(70)


@pytest.mark.parametrize(
    ("moisture", "celsius", "word"),
    [(19.9, 20, "none"), (20, 20, "watch"), (30.5, 20, "serious"), (40, 2, "at rest"),
     (40, 38, "at rest"), (40, 9.9, "slow"), (40, 35.1, "slow"), (40, None, "serious")],
)  # fmt: skip
def test_decay_limits_of_the_handbook(moisture, celsius, word):
    """Wood Handbook ch. 5 (20 %) and ch. 14 (fibre saturation; 10, 35, 2 and 38 C), read."""
    assert decay_risk(moisture, celsius).word == word


@pytest.mark.parametrize(
    ("key", "best", "worst"),
    [("oak_european", 2, 2), ("oak_white", 2, 3), ("oak_northern_red", 4, 4),
     ("locust_black", 1, 2), ("larch_european", 3, 4), ("spruce_sitka", 4, 5),
     ("beech_european", 5, 5), ("teak", 1, 1)],
)  # fmt: skip
def test_durability_classes_as_quoted(key, best, worst):
    """EN 350-2:1994 as quoted by trade bodies."""
    found = durability(species(key))
    assert (found.best_class, found.worst_class) == (best, worst)


@pytest.mark.parametrize(
    ("index", "word"), [(34.9, "low"), (35, "moderate"), (65, "moderate"), (65.1, "high")]
)
def test_the_climate_index_classes(index, word):
    """Whole Building Design Guide (read): under 35 low, 35 to 65 moderate, over 65 high."""
    assert scheffer_word(index) == word


@pytest.mark.parametrize(
    ("key", "flat_below", "quarter_from"),
    [("hardwood_trade", 30, 60), ("architectural_woodwork", 30, 60), ("forest_service", 45, 45),
     ("oak_catalogue", 45, 75), ("softwood_rules", 45, 45), ("older_handbooks", 30, 60)],
)  # fmt: skip
def test_ring_angle_limits_by_authority(key, flat_below, quarter_from):
    """Each entry of AUTHORITIES names its publication and whether it was read."""
    limits = AUTHORITIES[key]
    assert (limits.flat_below_deg, limits.quarter_from_deg) == (flat_below, quarter_from)


def test_the_hardwood_rules_ask_for_four_fifths_of_the_face():
    """NHLA Rules Book (2023) paragraph 35: 80 % of the surface at 45 degrees or steeper."""
    rules = AUTHORITIES["hardwood_rules"]
    assert (rules.quarter_from_deg, rules.face_share) == (45, 0.80)
