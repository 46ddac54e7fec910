"""What to saw, and what a bolt through green wood gives up."""

import math
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from timber_stock.wood.air_drying import DayRange, time_constant_days
from timber_stock.wood.distortion import dry_section
from timber_stock.wood.outline import rectangle_mm
from timber_stock.wood.section_change import rectangle_change
from timber_stock.wood.shrinkage import shrinkage_at_angle_percent
from timber_stock.wood.take_up import (
    bolt_take_up_mm,
    nut_turns,
    retightening,
    share_come,
    stack_take_up_mm,
)
from timber_stock.wood.target_size import (
    green_size_at,
    sawing_variation,
    target_size,
    undersize_z,
)

FITTED = date(2025, 3, 1)


@given(st.floats(10, 400), st.floats(0, 12), st.floats(0, 10), st.floats(0.1, 4))
@settings(max_examples=60)
def test_the_critical_size_dries_to_exactly_the_finished_size_and_its_planing(f, s, p, spread):
    found = target_size(f, s, p, spread, undersize_percent=2)
    assert found.critical_mm * (1 - s / 100) == pytest.approx(f + p)
    assert found.target_mm == pytest.approx(found.critical_mm + undersize_z(2) * spread)


def test_fewer_undersize_pieces_ask_for_more_wood():
    shares = (0, 1, 2.5, 5, 15, 50)
    z = [undersize_z(share) for share in shares]
    assert z == sorted(z, reverse=True)
    assert z[-1] == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize(
    ("centre", "pith"),
    [((0, 140), (0, 0)), ((260, 40), (0, 0)), ((150, 150), (10, -5)), ((0, 20), (0, 0))],
)
def test_the_green_size_at_a_place_planes_to_the_finished_one(centre, pith):
    width, thickness = green_size_at(180, 130, centre, pith, 2.8, 5.25, planing_mm=5)
    box = rectangle_mm((centre[0] - width / 2, centre[1] - thickness / 2), width, thickness)
    change = rectangle_change(dry_section(box, pith, 2.8, 5.25))
    assert change.clean_width_mm == pytest.approx(185, abs=2e-3)
    assert change.clean_thickness_mm == pytest.approx(135, abs=2e-3)


def test_cup_and_diamonding_ask_for_more_than_the_straight_formula():
    shrinkage = shrinkage_at_angle_percent(2.8, 5.25, 45)
    straight = [target_size(size, shrinkage, 5, 0) for size in (180, 130)]
    width, thickness = green_size_at(180, 130, (150, 150), (0, 0), 2.8, 5.25, planing_mm=5)
    assert width > straight[0].critical_mm + 0.8
    assert thickness > straight[1].critical_mm + 0.8


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: target_size(0, 5, 2, 1), "The finished size"),
        (lambda: target_size(50, math.nan, 2, 1), "Shrinkage to service moisture"),
        (lambda: target_size(50, 5, -2, 1), "The planing allowance"),
        (lambda: target_size(50, 5, 2, -1), "standard deviation of sawing"),
        (lambda: target_size(50, 5, 2, 1, 51), "share of undersize pieces"),
        (lambda: sawing_variation([[25.1, 25.4]]), "two boards or more"),
        (lambda: sawing_variation([[25.1, 25.4], [25.2]]), "two readings or more"),
        (lambda: green_size_at(-1, 50, (0, 90), (0, 0), 3, 6), "The finished width"),
    ],
)
def test_a_size_that_makes_no_sense_is_refused(call, says):
    with pytest.raises(ValueError, match=says):
        call()


FLAT = rectangle_mm((-100, 30), 200, 150)
BOXED = rectangle_mm((-100, -90), 200, 150)


def test_a_bolt_along_a_radius_gives_up_the_radial_shrinkage():
    assert bolt_take_up_mm(FLAT, (0, 0), (0, 30), (0, 180), 3, 6) == pytest.approx(4.5)


def test_a_bolt_across_the_rings_gives_up_nearly_the_tangential_far_from_the_pith():
    far = rectangle_mm((-100, 30000), 200, 150)
    found = bolt_take_up_mm(far, (0, 0), (-100, 30100), (100, 30100), 3, 6)
    assert found == pytest.approx(12.0, abs=0.01)


@given(st.floats(0, 2 * math.pi))
@settings(max_examples=30)
def test_the_take_up_is_the_change_between_dried_corners(turn):
    pith = (400 * math.cos(turn), 400 * math.sin(turn))
    dried = dry_section(rectangle_mm((-100, -75), 200, 150), pith, 3, 6)
    for a, b in ((0, 1), (0, 2), (1, 3)):
        green, dry = dried.green_corners_mm, dried.corners_mm
        expected = math.dist(green[a], green[b]) - math.dist(dry[a], dry[b])
        found = bolt_take_up_mm(dried.green_corners_mm, pith, green[a], green[b], 3, 6)
        assert found == pytest.approx(expected, abs=1e-9)


def test_a_bolt_over_the_check_is_loosened_less_than_one_below_the_heart():
    """The check of this boxed heart opens upwards: above the pith the wood parts."""
    over = bolt_take_up_mm(BOXED, (0, 0), (-100, 40), (100, 40), 3, 6)
    below = bolt_take_up_mm(BOXED, (0, 0), (-100, -40), (100, -40), 3, 6)
    assert over < 3 < below


def test_a_bolt_end_outside_the_timber_is_refused():
    with pytest.raises(ValueError, match=r"The nut of the bolt lies 20.0 mm outside"):
        bolt_take_up_mm(FLAT, (0, 0), (0, 30), (0, 200), 3, 6)


def test_a_bolt_through_several_timbers_adds_up_and_is_told_in_turns():
    assert stack_take_up_mm([2.2, 0.7, 1.6]) == pytest.approx(4.5)
    assert nut_turns(4.5, 2.5) == pytest.approx(1.8)
    assert nut_turns(-1, 2.5) == 0
    with pytest.raises(ValueError, match="pitch of the thread"):
        nut_turns(4.5, 0)


@given(st.floats(0.001, 5), st.floats(0.001, 5), st.floats(25, 120), st.floats(5, 24))
@settings(max_examples=60)
def test_shrinkage_in_place_only_ever_goes_on(one, other, start, settled):
    early, late = sorted((one, other))
    assert 0 <= share_come(early, start, settled) <= share_come(late, start, settled) + 1e-9
    assert share_come(12, start, settled) == pytest.approx(1, abs=1e-3)
    assert share_come(0, start, settled) == 0


def test_the_shell_shrinks_while_the_timber_is_still_wet_on_average():
    """FPL R1424 (1942): it starts long before the average comes below fibre saturation."""
    assert 0.02 < share_come(0.1, 80, 16) < 0.3


def test_below_fibre_saturation_the_shares_are_those_of_plain_diffusion():
    """The mean excess moisture of a plate is the sum of 8/(n pi)^2 exp(-n^2 t/tau), n odd."""
    for elapsed in (0.05, 0.4, 1.5):
        left = sum(8 / (n * math.pi) ** 2 * math.exp(-n * n * elapsed) for n in range(1, 60, 2))
        assert share_come(elapsed, 28, 14) == pytest.approx(1 - left, abs=2e-3)


def test_visits_come_at_set_times_and_end_when_the_slow_estimate_is_nearly_done():
    visits = retightening(FITTED, 6.0, 75, 18, time_constant_days("oak_white", 60))
    assert [(visit.on - FITTED).days for visit in visits[:5]] == [30, 90, 180, 365, 730]
    for visit in visits:
        assert 0 <= visit.least_mm <= visit.greatest_mm <= 6.0
    assert visits[-1].least_mm >= 5.4
    assert visits[-2].least_mm < 5.4


def test_a_timber_with_nothing_to_give_up_needs_no_visit():
    tau = DayRange(100, 300, "test")
    assert retightening(FITTED, 0, 75, 18, tau) == ()
    assert retightening(FITTED, 5, 75, 30, tau) == ()  # it stays at fibre saturation
    assert retightening(FITTED, 5, 18, 18, tau) == ()
    with pytest.raises(ValueError, match="Service moisture"):
        retightening(FITTED, 5, 18, 22, tau)


def test_a_heavy_timber_is_visited_for_fifteen_years_and_no_longer():
    visits = retightening(FITTED, 6.0, 75, 18, time_constant_days("oak_white", 300))
    assert (visits[-1].on - FITTED).days == 15 * 365
