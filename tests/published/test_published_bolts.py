"""Threads, wasted bolts and their strengths against printed figures."""

import pytest

from restoration.calc.bolt_loss import (
    fastening_metals,
    standard_threads,
    tension_left,
    wasted_bolt,
)
from restoration.calc.tables import rows
from timber_stock.measure import MM_PER_INCH

NEWTONS_PER_POUND = 4.4482216152605
THREADS = rows("threads")


@pytest.mark.parametrize("row", THREADS, ids=[row["thread"] for row in THREADS])
def test_tensile_stress_areas_of_threads(row):
    """The source is in the row; agreement to the last digit printed."""
    area = standard_threads()[row["thread"]]
    if row["area_unit"] == "in2":
        area /= MM_PER_INCH**2
    decimals = len(row["stress_area"].partition(".")[2])
    assert area == pytest.approx(float(row["stress_area"]), abs=0.51 * 10**-decimals)


@pytest.mark.parametrize(
    ("percent_lost", "tension", "bending", "bending_en"),
    [
        (5, 0.9025, 0.8574, 0.8751),
        (10, 0.8100, 0.7290, 0.7604),
        (20, 0.6400, 0.5120, 0.5598),
        (25, 0.5625, 0.4219, 0.4733),
        (30, 0.4900, 0.3430, 0.3956),
        (40, 0.3600, 0.2160, 0.2650),
        (50, 0.2500, 0.1250, 0.1649),
    ],
)
def test_what_is_left_of_a_wasted_fastening(percent_lost, tension, bending, bending_en):
    """Geometry, and the exponent of EN 1995-1-1 (recalled): powers 2, 3 and 2.6 of what is left,
    as a pocket calculator gives them."""
    left = wasted_bolt(100, 100 - percent_lost)
    assert left.tension_fraction == pytest.approx(tension, abs=0.00005)
    assert left.bending_fraction == pytest.approx(bending, abs=0.00005)
    assert left.bending_fraction_en == pytest.approx(bending_en, abs=0.00005)


def test_a_keel_bolt_that_lost_a_sixteenth():
    """An owner's published account (2007): a 3/4 in mild-steel keel bolt lost just over 1/16 in
    where it passed an oak floor; that is a little over 16 % of its area, 84 % left."""
    left = wasted_bolt(0.75 * MM_PER_INCH, (0.75 - 0.0625) * MM_PER_INCH)
    assert left.tension_fraction == pytest.approx(0.840, abs=0.0005)


@pytest.mark.parametrize(
    ("thread", "metal", "pounds"),
    [
        ("1/2-13", "silicon_bronze_655", 7_095),
        ("1/2-13", "silicon_bronze_651", 9_933),
        ("1/2-13", "mild_steel_a307", 8_514),
        ("1/2-13", "stainless_316_cw1", 14_190),
        ("3/4-10", "silicon_bronze_655", 16_723),
        ("3/4-10", "silicon_bronze_651", 23_412),
        ("3/4-10", "mild_steel_a307", 20_068),
        ("3/4-10", "stainless_316_cw2", 28_429),
    ],
)
def test_tension_at_the_least_tensile_strength(thread, metal, pounds):
    """Printed stress area x least tensile strength of ASTM F468, F593 or A307, worked by hand.
    C65500 is from memory, the others from summaries of the standards."""
    whole = wasted_bolt(0.75 * MM_PER_INCH, 0.75 * MM_PER_INCH)
    carried = tension_left(whole, fastening_metals()[metal].tensile_mpa, standard_threads()[thread])
    assert carried.weakest == "thread"
    assert carried.newtons / NEWTONS_PER_POUND == pytest.approx(pounds, rel=0.0005)
