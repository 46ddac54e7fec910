"""Screws by the thickness of the plank."""

import pytest

from restoration.calc.plank_screws import plank_screws, screw_for_plank
from timber_stock.measure import MM_PER_INCH


def test_a_plank_of_an_inch_and_an_eighth_has_a_number_18_screw():
    """Screw table for planking attributed to N.G. Herreshoff and the Nevins rules."""
    row = screw_for_plank(28.6)
    assert (row.gauge, row.bung) == (18, "5/8")
    assert row.length_mm == pytest.approx(2.25 * MM_PER_INCH)
    assert row.body_mm == pytest.approx(19 / 64 * MM_PER_INCH)


def test_the_body_agrees_with_the_number_to_a_64th():
    """Body of a wood screw by its number: 0.060 + 0.013 x number, inches (common practice)."""
    for row in plank_screws():
        by_number = (0.060 + 0.013 * row.gauge) * MM_PER_INCH
        assert row.body_mm == pytest.approx(by_number, abs=MM_PER_INCH / 64)


def test_to_an_inch_and_a_quarter_a_screw_is_twice_as_long_as_its_plank_is_thick():
    for row in plank_screws():
        if row.plank_mm <= 1.25 * MM_PER_INCH + 0.01:
            assert row.length_mm == pytest.approx(2 * row.plank_mm)


def test_planks_beyond_the_table_get_no_guess():
    assert screw_for_plank(70) is None
    assert screw_for_plank(4) is None
    with pytest.raises(ValueError, match="more than 0"):
        screw_for_plank(0)
