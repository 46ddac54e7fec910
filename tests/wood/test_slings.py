"""Slings that are too flat are refused, and a stiff load never counts on more than two legs."""

import pytest

from timber_stock.wood.slings import leg_tension_kg


@pytest.mark.parametrize("angle_deg", [29.9, 0, -45, float("nan")])
def test_a_sling_flatter_than_30_degrees_is_refused(angle_deg):
    with pytest.raises(ValueError, match=r"30|number"):
        leg_tension_kg(700, angle_deg)


def test_one_upright_leg_carries_all_of_it():
    assert leg_tension_kg(730, 90, legs=1) == pytest.approx(730)


def test_a_third_leg_is_not_counted_on():
    with pytest.raises(ValueError, match="one leg or two"):
        leg_tension_kg(730, 90, legs=3)
