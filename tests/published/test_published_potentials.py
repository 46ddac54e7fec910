"""Potentials as the published galvanic series print them."""

import pytest

from restoration.calc.galvanic import FAR_APART_V, potential
from restoration.calc.protection import PROTECTED_V


@pytest.mark.parametrize(
    ("metal", "more_noble", "less_noble"),
    [
        ("silicon_bronze", -0.25, -0.29),
        ("zinc", -0.98, -1.03),
        ("stainless_316_passive", 0.00, -0.10),
        ("stainless_316_active", -0.33, -0.46),
        ("mild_steel", -0.60, -0.72),
        ("cast_iron", -0.60, -0.72),
        ("nickel_copper", -0.03, -0.14),
        ("lead", -0.19, -0.25),
        ("copper", -0.30, -0.37),
        ("brass", -0.31, -0.40),
        ("aluminium", -0.76, -1.00),
        ("graphite", 0.30, 0.20),
    ],
)
def test_potentials_in_flowing_sea_water(metal, more_noble, less_noble):
    """Corrosion potentials in flowing seawater, Australasian Corrosion Association education
    guide; V against the saturated calomel electrode."""
    found = potential(metal, "ACA")
    assert (found.more_noble_v, found.less_noble_v) == (more_noble, less_noble)
    assert found.electrode == "SCE"


@pytest.mark.parametrize(
    ("metal", "volts"),
    [
        ("galvanised_steel", -1.140),
        ("zinc", -1.050),
        ("mild_steel", -0.790),
        ("silicon_bronze", -0.260),
    ],
)
def test_potentials_of_a_design_schools_chart(metal, volts):
    """The galvanic series (chart), Westlawn Institute, The Masthead, December 2010; V against
    silver chloride at 77 F."""
    found = potential(metal, "WESTLAWN")
    assert found.more_noble_v == found.less_noble_v == volts


def test_a_series_that_prints_no_value_gives_none():
    """Galvanic series of metals in seawater, after Professional BoatBuilder no. 100: galvanised
    steel stands in the list without a value."""
    assert potential("galvanised_steel", "PBB100") is None


def test_the_guide_figures_of_the_chart():
    """The same design school's chart: a pair more than 200 mV apart; 200 to 400 mV below free."""
    assert FAR_APART_V == 0.200
    assert PROTECTED_V == (0.200, 0.400)
