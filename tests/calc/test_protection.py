"""Hull potentials against a metal's own: states, notes, refusals."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from restoration.calc.protection import CONFLICT, judge_reading
from restoration.calc.tables import rows

STATES = ["unprotected", "between", "protected", "over"]


@pytest.mark.parametrize(
    ("reading", "state"),
    [
        (-0.20, "unprotected"),
        (-0.30, "between"),
        (-0.45, "between"),
        (-0.55, "protected"),
        (-0.70, "over"),
    ],
)
def test_a_bronze_fitting_is_judged_by_how_far_it_is_driven(reading, state):
    found = judge_reading("silicon_bronze", reading, "ACA")
    assert found.state == state
    assert found.sentence.startswith("Silicon bronze ")
    assert found.least_shift_v == pytest.approx(-0.29 - reading)
    assert found.greatest_shift_v == pytest.approx(-0.25 - reading)


@given(st.floats(-1.9, 0.9), st.floats(0, 0.1))
def test_a_more_negative_reading_is_never_judged_less_protected(reading, further):
    one = judge_reading("copper", reading, "ACA").state
    other = judge_reading("copper", reading - further, "ACA").state
    assert STATES.index(other) >= STATES.index(one)


def test_a_fitting_down_at_zincs_potential_is_said_to_be_over_protected():
    found = judge_reading("tin_bronze", -0.99, "ACA")
    assert any("heavily over-protected" in note for note in found.notes)
    assert not any("over-protected" in note for note in judge_reading("zinc", -0.99, "ACA").notes)
    assert not any(
        "over-protected" in note for note in judge_reading("tin_bronze", -0.90, "ACA").notes
    )


def test_what_sources_disagree_on_is_said_when_it_matters():
    assert CONFLICT in judge_reading("copper", -0.60, "ACA").notes
    assert CONFLICT not in judge_reading("copper", -0.35, "ACA").notes


@pytest.mark.parametrize(
    ("reading", "place"), [(-0.50, "above"), (-0.56, "inside"), (-0.60, "inside"), (-0.7, "below")]
)
def test_a_band_the_surveyor_types_is_compared_either_way_round(reading, place):
    for band in ((-0.55, -0.60), (-0.60, -0.55)):
        assert judge_reading("copper", reading, "ACA", band).typed_band == place


def test_without_a_typed_band_none_is_assumed():
    assert judge_reading("copper", -0.58, "ACA").typed_band == ""


def test_no_figure_of_low_confidence_is_held():
    for row in rows("protection_potentials"):
        assert row["evidence"] in ("READ", "MEMORY")
    assert "wood hull" not in str(rows("protection_potentials")).lower()


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("copper", -550, "ACA"), "is it in millivolts"),
        (("copper", float("nan"), "ACA"), "must be a number"),
        (("galvanised_steel", -0.9, "ACA"), "no value for Galvanised steel"),
        (("unobtainium", -0.5, "ACA"), "is no metal"),
        (("copper", -0.5, "ACA", (-550, -600)), "is it in millivolts"),
    ],
)
def test_an_impossible_reading_is_refused_with_a_sentence(arguments, says):
    with pytest.raises(ValueError, match=says):
        judge_reading(*arguments)
