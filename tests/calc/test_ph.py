"""pH of wood by a metal: places, prompts, standing, refusals."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from restoration.calc.ph import FIGURES, SOUND_OAK, SOUND_WOOD, compare_ph

ORDER = ["acid", "natural", "raised", "alkaline"]


@pytest.mark.parametrize(
    ("ph", "place"),
    [
        (2.8, "acid"),
        (3.49, "acid"),
        (3.5, "natural"),
        (6.0, "natural"),
        (6.1, "raised"),
        (8.5, "raised"),
        (8.6, "alkaline"),
        (12.0, "alkaline"),
    ],
)
def test_a_reading_is_placed_against_the_range_of_sound_wood(ph, place):
    assert compare_ph(ph).place == place


def test_oak_is_more_acid_by_nature():
    assert compare_ph(3.4).place == "acid"
    assert compare_ph(3.4, oak=True).place == "natural"
    assert compare_ph(5.0, oak=True).place == "raised"
    assert compare_ph(5.0, oak=True).against[0] == SOUND_OAK
    assert compare_ph(5.0).against[0] == SOUND_WOOD


@given(st.floats(0, 14), st.floats(0, 14), st.booleans())
def test_a_higher_ph_is_never_placed_as_more_acid(one, other, oak):
    low, high = sorted((one, other))
    assert ORDER.index(compare_ph(low, oak=oak).place) <= ORDER.index(
        compare_ph(high, oak=oak).place
    )


def test_the_difference_from_sound_wood_is_given():
    assert compare_ph(9.4, 4.7).above_sound == 4.7
    assert compare_ph(2.9, 4.4).above_sound == -1.5
    assert compare_ph(9.4).above_sound is None


def test_without_a_second_reading_the_program_asks_for_one():
    assert "150 mm" in compare_ph(9.4).prompt
    assert "150 mm" not in compare_ph(9.4, 5.0).prompt


def test_no_figure_is_passed_off_as_published():
    assert {figure.evidence for figure in FIGURES} == {"MEMORY", "DERIVED"}
    for ph in (2, 5, 7, 12):
        assert set(compare_ph(ph).against) <= set(FIGURES)


@pytest.mark.parametrize(("damaged", "sound"), [(-0.1, None), (14.1, 5), (7, 15), (7, -1)])
def test_a_ph_off_the_scale_is_refused_with_a_sentence(damaged, sound):
    with pytest.raises(ValueError, match="between 0 and 14"):
        compare_ph(damaged, sound)


def test_a_ph_that_is_no_number_is_refused():
    with pytest.raises(ValueError, match="pH must be a number"):
        compare_ph(float("nan"))
