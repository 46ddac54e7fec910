"""What a leaning sling leg carries, against a sling-maker's chart and a university example."""

import pytest

from timber_stock.wood.slings import leg_tension_kg

# A sling-maker's chart: share of the rated capacity left, percent, by the angle from horizontal.
CAPACITY_LEFT = [(90, 100.0), (75, 96.6), (60, 86.6), (45, 70.7), (30, 50.0)]


@pytest.mark.parametrize(("angle_deg", "left_percent"), CAPACITY_LEFT)
def test_the_capacity_left_is_as_the_chart_prints_it(angle_deg, left_percent):
    upright = leg_tension_kg(1000, 90)
    assert 100 * upright / leg_tension_kg(1000, angle_deg) == pytest.approx(left_percent, abs=0.05)


# Michigan State University, rigging page: 2,000 lb on two legs, angles from the vertical.
@pytest.mark.parametrize(("from_vertical_deg", "pounds"), [(30, 1154), (60, 2000)])
def test_two_legs_carry_what_the_university_example_says(from_vertical_deg, pounds):
    assert leg_tension_kg(2000, 90 - from_vertical_deg) == pytest.approx(pounds, abs=0.9)
