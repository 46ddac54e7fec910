"""Shrinkage, movement and weight: laws and refusals."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from timber_stock.wood.density import density_kg_m3, maximum_moisture_percent
from timber_stock.wood.shrinkage import (
    change_by_coefficient_mm,
    coefficient_from_total,
    mixed_grain_shrinkage_percent,
    seam_movement,
    shrinkage_at_angle_percent,
    shrinkage_percent,
    size_at_moisture_mm,
    total_from_coefficient,
)
from timber_stock.wood.strength import PER_POINT, strength_at_moisture
from timber_stock.wood.weights import (
    balance_from_small_end_mm,
    board_weight_kg,
    lift_weight_kg,
    log_weight_kg,
)

total = st.floats(0, 15)
content = st.floats(0, 60)
gravity = st.floats(0.2, 1.0)


@given(st.floats(1, 1000), total, content, content, content)
@settings(max_examples=80)
def test_a_size_depends_on_the_moisture_and_not_on_the_way_there(size, s, a, b, c):
    straight = size_at_moisture_mm(size, s, a, c)
    round_about = size_at_moisture_mm(size_at_moisture_mm(size, s, a, b), s, b, c)
    assert round_about == pytest.approx(straight, rel=1e-12)
    assert size_at_moisture_mm(straight, s, c, a) == pytest.approx(size, rel=1e-12)


@given(total, st.floats(30, 250), st.floats(30, 250))
@settings(max_examples=30)
def test_above_fibre_saturation_nothing_moves(s, a, b):
    assert shrinkage_percent(s, a) == 0
    assert size_at_moisture_mm(123, s, a, b) == 123


def test_ovendry_is_the_whole_shrinkage():
    assert shrinkage_percent(10.5, 0) == 10.5
    assert shrinkage_percent(10.5, 14, fibre_saturation_percent=28) == pytest.approx(5.25)


@given(st.floats(0.1, 14))
@settings(max_examples=40)
def test_coefficient_and_total_are_one_figure_said_two_ways(s):
    assert total_from_coefficient(coefficient_from_total(s)) == pytest.approx(s, rel=1e-12)


def test_within_its_range_the_coefficient_agrees_with_the_whole_formula():
    exact = size_at_moisture_mm(200, 7.7, 10, 14) - 200
    assert change_by_coefficient_mm(200, coefficient_from_total(7.7), 10, 14) == pytest.approx(
        exact, rel=1e-9
    )


@given(st.floats(0, 8), st.floats(0, 8), st.floats(0, 90))
@settings(max_examples=60)
def test_at_any_angle_the_shrinkage_lies_between_radial_and_tangential(r, t, angle):
    found = shrinkage_at_angle_percent(r, t, angle)
    assert min(r, t) - 1e-9 <= found <= max(r, t) + 1e-9
    small = t * math.cos(math.radians(angle)) ** 2 + r * math.sin(math.radians(angle)) ** 2
    assert found == pytest.approx(small, abs=0.15)


def test_a_seam_closes_and_then_squeezes():
    dry = seam_movement(140, 9, 3.0, 7.4, 12, 20)
    grown = size_at_moisture_mm(140, 7.4, 12, 20) - 140
    assert dry.plank_mm == pytest.approx(grown)
    assert dry.all_planks_mm == pytest.approx(9 * grown)
    assert dry.seam_mm == pytest.approx(3.0 - grown)
    assert dry.squeeze_mm == 0
    wet = seam_movement(140, 9, 1.0, 7.4, 12, 30)
    assert (wet.seam_mm, wet.squeeze_mm) == (0, pytest.approx(wet.plank_mm - 1.0))
    opened = seam_movement(140, 9, 1.0, 7.4, 18, 12)
    assert opened.seam_mm > 1.0
    with pytest.raises(ValueError, match="at least one plank"):
        seam_movement(140, 0, 1, 7.4, 18, 12)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: shrinkage_percent(10.5, -1), "less than no water"),
        (lambda: shrinkage_percent(10.5, math.nan), "finite"),
        (lambda: shrinkage_percent(-1, 12), "between 0 % and 50 %"),
        (lambda: shrinkage_percent(60, 12), "between 0 % and 50 %"),
        (lambda: shrinkage_percent(10, 12, 50), "Fibre saturation"),
        (lambda: size_at_moisture_mm(0, 10.5, 30, 12), "more than nought"),
        (lambda: size_at_moisture_mm(100, 10.5, 30, math.inf), "finite"),
        (lambda: change_by_coefficient_mm(100, 0.003, 6, 18), "between 6 % and 14 %"),
        (lambda: change_by_coefficient_mm(100, 0.3, 6, 12), "The coefficient"),
        (lambda: mixed_grain_shrinkage_percent(25), "between 8 % and 19 %"),
        (lambda: shrinkage_at_angle_percent(3, 6, 91), "The ring angle"),
        (lambda: density_kg_m3(0.6, -0.5), "less than no water"),
        (lambda: density_kg_m3(0.6, 102), r"full at 101.7 %"),
        (lambda: density_kg_m3(0, 12), "Basic specific gravity"),
        (lambda: density_kg_m3(1.6, 12), "Basic specific gravity"),
        (lambda: density_kg_m3(0.6, 12, 51), "Volumetric shrinkage"),
        (lambda: density_kg_m3(0.6, 12, math.nan), "Volumetric shrinkage"),
        (lambda: board_weight_kg(100, -5, 1000, 700), "The thickness in mm"),
        (lambda: board_weight_kg(100, 50, 1000, 7), "The density"),
        (lambda: log_weight_kg(400, 450, 4000, 984, 1000, 200), "leaves no heartwood"),
        (lambda: lift_weight_kg([100, 0]), "The weight of a piece"),
        (lambda: lift_weight_kg([100], allowance_percent=-5), "The allowance"),
        (lambda: strength_at_moisture(80, 4, 12, 40), "The second moisture"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(call, says):
    with pytest.raises(ValueError, match=says):
        call()


@given(st.floats(0.2, 0.8), st.floats(0, 0.999))  # heavier, the 26.5 rule shrinks wood too far
@settings(max_examples=60)
def test_wetter_wood_is_heavier_and_full_wood_the_heaviest(g, share):
    most = maximum_moisture_percent(g)
    assert density_kg_m3(g, share * most) < density_kg_m3(g, most) + 1e-9
    if most > 30:
        # full wood is cell wall and water alone: 1000 (G + 1 - G/1.54) kg to the cubic metre
        assert density_kg_m3(g, most) == pytest.approx(1000 * (g + 1 - g / 1.54))


@given(gravity, st.floats(0, 16))
@settings(max_examples=40)
def test_the_ovendry_mass_of_a_green_metre_does_not_change_as_it_dries(g, shrinkage):
    for percent in (2, 9, 17, 29):
        volume = 1 - shrinkage / 100 * (30 - percent) / 30
        mass = density_kg_m3(g, percent, shrinkage) * volume / (1 + percent / 100)
        assert mass == pytest.approx(1000 * g)


def test_a_log_is_the_sum_of_its_heartwood_and_its_sapwood():
    even = log_weight_kg(480, 560, 5200, 900)
    assert log_weight_kg(480, 560, 5200, 900, 900, 40) == pytest.approx(even)
    heart = log_weight_kg(400, 480, 5200, 900)
    wet = log_weight_kg(480, 560, 5200, 900, 1100, 40)
    assert wet == pytest.approx(heart + (even - heart) * 1100 / 900)
    cylinder = log_weight_kg(500, 500, 4000, 1000)
    assert cylinder == pytest.approx(math.pi / 4 * 0.25 * 4 * 1000)
    assert balance_from_small_end_mm(500, 500, 4000) == pytest.approx(2000)


def test_a_lift_carries_its_allowance_and_its_gear():
    board = board_weight_kg(300, 60, 4500, 900)
    assert board == pytest.approx(72.9)
    assert lift_weight_kg([board, board], gear_kg=35) == pytest.approx(145.8 * 1.2 + 35)


def test_drying_strengthens_and_wetting_undoes_it():
    for rates in PER_POINT.values():
        stronger = strength_at_moisture(60, rates["rupture"], 20, 12)
        assert stronger > 60
        assert strength_at_moisture(stronger, rates["rupture"], 12, 20) == pytest.approx(60)
