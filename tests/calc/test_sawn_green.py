"""What to ask of the saw: each side at the ring angle that shrinks it most and still passes."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.sawn_green import (
    MOULDED,
    SIDED,
    Allowances,
    Wanted,
    accepted_directions,
    angles_of,
    sawn_side,
    usual_face,
)
from timber_stock.wood.ring_limits import AUTHORITIES, BOXED, FLAT, QUARTER, RIFT
from timber_stock.wood.shrinkage import shrinkage_at_angle_percent

TRADE = AUTHORITIES["hardwood_trade"]
NONE = Allowances(0.0, 0.0, 5.0)
USUAL = Allowances(6.35, 1.5, 5.0)
OAK_TO_15 = (2.8, 5.25)


def side(which=SIDED, *, wanted=None, allowances=NONE, step=1.0, **options):
    wanted = wanted or Wanted(80.0, 140.0, (QUARTER,), MOULDED)
    return sawn_side(wanted, which, OAK_TO_15, TRADE, allowances, step, **options)


def test_the_judged_face_of_a_quarter_piece_is_reckoned_at_its_poorest_angle():
    found = side(MOULDED)
    assert found.at_deg == 60
    assert found.shrinkage_percent == pytest.approx(shrinkage_at_angle_percent(*OAK_TO_15, 60))


def test_the_other_side_of_it_is_reckoned_along_the_rings():
    assert side(SIDED).shrinkage_percent == pytest.approx(5.25)


def test_any_ring_direction_is_reckoned_as_the_worst_on_both_sides():
    any_way = Wanted(80.0, 140.0, accepted_directions("any", False), MOULDED)
    for which in (SIDED, MOULDED):
        assert side(which, wanted=any_way).shrinkage_percent == pytest.approx(5.25)


def test_the_sum_is_rounded_up_to_the_mark_and_never_down():
    found = side(allowances=USUAL)
    assert found.ask_mm >= found.exact_mm
    assert found.ask_mm - found.exact_mm < 1.0
    assert found.ask_mm == pytest.approx(round(found.ask_mm))


def test_a_size_that_sits_on_a_mark_stays_there():
    still = sawn_side(Wanted(63.5, 127, (FLAT,), MOULDED), SIDED, (0, 0), TRADE, NONE, 1.5875)
    assert still.ask_mm == pytest.approx(63.5)


def test_what_goes_in_green_is_worked_to_more_than_it_finishes():
    found = side()
    assert found.work_to_mm * (1 - found.shrinkage_percent / 100) == pytest.approx(80.0)


def test_what_is_dry_already_when_it_goes_in_is_worked_to_its_size():
    assert side(fitted_shrinkages=OAK_TO_15).work_to_mm == pytest.approx(80.0)


def test_what_is_drier_than_it_will_serve_is_worked_to_less():
    assert side(fitted_shrinkages=(3.5, 6.6)).work_to_mm < 80.0


def test_a_leaning_piece_planed_dry_needs_more_than_straight_rings_say():
    rift = Wanted(80.0, 140.0, (RIFT,), MOULDED)
    green, dry = side(MOULDED, wanted=rift), side(MOULDED, wanted=rift, planed_dry=True)
    assert green.true_mm == 0
    assert dry.true_mm > 0.5
    assert dry.exact_mm == pytest.approx(dry.size.target_mm + dry.true_mm)


def test_a_boxed_heart_is_not_planed_true():
    boxed = Wanted(80.0, 140.0, (BOXED,), MOULDED)
    assert side(wanted=boxed, planed_dry=True).true_mm == 0


@settings(max_examples=40)
@given(st.floats(20, 300), st.floats(20, 300), st.floats(0, 90), st.sampled_from([QUARTER, FLAT]))
def test_no_piece_that_passes_shrinks_more_than_was_reckoned(sided, moulded, share, direction):
    low, high = angles_of(direction, TRADE)
    angle = low + (high - low) * share / 90
    wanted = Wanted(sided, moulded, (direction,), usual_face(sided, moulded))
    for which in (SIDED, MOULDED):
        line = angle if which == wanted.face else 90 - angle
        found = sawn_side(wanted, which, OAK_TO_15, TRADE, NONE, 1.0)
        actual = shrinkage_at_angle_percent(*OAK_TO_15, line)
        assert found.shrinkage_percent >= actual - 1e-9


def test_the_wide_face_is_the_usual_one():
    assert usual_face(50, 120) == MOULDED
    assert usual_face(120, 50) == SIDED


def test_heart_may_be_in_only_where_that_is_said():
    assert accepted_directions("flat", True) == (FLAT, BOXED)
    assert accepted_directions("flat", False) == (FLAT,)


@pytest.mark.parametrize(
    ("wrong", "says"),
    [
        ({"sided_mm": 0.0}, "sided size"),
        ({"moulded_mm": float("nan")}, "moulded size"),
        ({"face": "lower"}, "sided face"),
        ({"directions": ()}, "ring direction"),
    ],
)
def test_what_cannot_be_wanted_is_refused(wrong, says):
    right = {"sided_mm": 80.0, "moulded_mm": 140.0, "directions": (QUARTER,), "face": SIDED}
    with pytest.raises(ValueError, match=says):
        Wanted(**{**right, **wrong})


def test_a_mark_of_nothing_and_a_strange_direction_are_refused():
    with pytest.raises(ValueError, match="mark the saw is set to"):
        side(step=0.0)
    with pytest.raises(ValueError, match="no ring direction"):
        angles_of("mixed", TRADE)
