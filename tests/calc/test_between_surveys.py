"""What becomes of a member between two surveys."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from restoration.calc.between_surveys import OUTCOMES, Seen, goes_on, in_short, outcome

EARLIER, LATER = date(2024, 10, 14), date(2026, 2, 9)
CONDITIONS = st.sampled_from([None, "NE", "0", "1", "2", "3"])
DAYS = st.none() | st.dates(date(2020, 1, 1), date(2030, 1, 1))


@pytest.mark.parametrize(
    ("was", "now", "became"),
    [
        ("1", "3", "worse"),
        ("0", "1", "worse"),
        ("3", "1", "better"),
        ("2", "2", "same"),
        ("NE", "2", "found"),
        (None, "1", "found"),
        ("NE", "0", "same"),
        ("2", "NE", "dropped"),
        ("0", None, "dropped"),
        ("NE", None, "unseen"),
        (None, None, "unseen"),
    ],
)
def test_the_two_classes_say_what_became_of_a_member(was, now, became):
    assert outcome(Seen(was, now), EARLIER, LATER) == became


def test_a_replacement_fitted_after_the_earlier_survey_puts_right():
    assert outcome(Seen("1", "3", date(2026, 3, 11)), EARLIER, LATER) == "right"
    assert outcome(Seen("3", "0", date(2025, 3, 11)), EARLIER, LATER) == "right"
    assert outcome(Seen("3", None, EARLIER), EARLIER, LATER) == "right"


def test_a_replacement_from_before_the_earlier_survey_puts_nothing_right():
    assert outcome(Seen("1", "3", date(2024, 10, 13)), EARLIER, LATER) == "worse"


def test_symptoms_of_the_replacement_itself_are_found_and_not_put_right():
    assert outcome(Seen("3", "2", date(2025, 3, 11)), EARLIER, LATER) == "found"


def test_surveys_in_the_wrong_order_are_refused():
    with pytest.raises(ValueError, match="earlier of two surveys"):
        outcome(Seen("1", "2"), LATER, EARLIER)


@given(CONDITIONS, CONDITIONS, DAYS)
def test_every_member_has_one_of_the_outcomes(was, now, fitted_on):
    assert outcome(Seen(was, now, fitted_on), EARLIER, LATER) in OUTCOMES


@given(CONDITIONS, CONDITIONS)
def test_what_got_worse_one_way_is_better_the_other_way(was, now):
    there, back = (outcome(Seen(*pair), EARLIER, LATER) for pair in ((was, now), (now, was)))
    assert (there == "worse") == (back == "better")


def test_rot_and_corrosion_go_on_and_a_blow_does_not():
    assert goes_on("1", ["BROWN_ROT"])
    assert goes_on("3", ["MECH_OVERLOAD", "FASTENER_IRON"])
    assert not goes_on("3", ["MECH_OVERLOAD"])
    assert not goes_on("2", [])
    assert not goes_on("0", ["BROWN_ROT"])
    assert not goes_on("NE", ["BROWN_ROT"])
    with pytest.raises(ValueError, match="no cause of failure"):
        goes_on("2", ["WOODWORM_FEVER"])


def test_the_badge_shows_both_classes_and_a_dash_for_none():
    assert in_short(Seen("1", "3")) == "1→3"
    assert in_short(Seen(None, "NE")) == "–→NE"
