"""Plank and frame rules as their sources print them."""

import pytest

from restoration.calc.frame_rules import SisterFrame, check_sister
from restoration.calc.plank_rules import Butt, check_butts, check_new_plank
from restoration.calc.rule_check import broken

FRAMES = [12 * 25.4 * number for number in range(20)]
FOOT = 304.8


def pair(strakes_apart, bays_apart):
    half = FOOT / 2
    return [
        Butt("a", "port", 3, FOOT * 4 + half),
        Butt("b", "port", 3 + strakes_apart, FOOT * (4 + bays_apart) + half),
    ]


@pytest.mark.parametrize(
    ("strakes_apart", "bays_apart", "good"),
    [(1, 2, False), (1, 3, True), (3, 0, False), (4, 0, True), (2, 1, True)],
)
def test_the_butt_rule_of_the_army_bulletin(strakes_apart, bays_apart, good):
    """US Army TB 55-1900-201-45/1, paragraph 2-13: three frame spaces between butts in adjacent
    strakes; three solid strakes between butts in the same frame bay."""
    assert (broken(check_butts(pair(strakes_apart, bays_apart), FRAMES)) == ()) is good


@pytest.mark.parametrize(
    ("strakes_apart", "feet", "good"),
    [(1, 4.99, False), (1, 5, True), (2, 3.99, False), (2, 4, True)],
)
def test_the_rule_in_feet_for_unusual_spacing(strakes_apart, feet, good):
    """The same paragraph: 5 ft in adjacent strakes. With one solid strake between, 4 ft: Board of
    Lake Underwriters rules, 1866 (the bulletin's text was cut off there)."""
    wide = [0, 3 * FOOT, 6 * FOOT, 9 * FOOT, 12 * FOOT]
    butts = [
        Butt("a", "port", 3, 2.9 * FOOT),
        Butt("b", "port", 3 + strakes_apart, (2.9 + feet) * FOOT),
    ]
    assert (broken(check_butts(butts, wide, usual_spacing=False)) == ()) is good


@pytest.mark.parametrize(
    ("frame_spaces", "relaxed", "good"),
    [(5.9, False, False), (6, False, True), (4.9, True, False), (5, True, True)],
)
def test_the_length_of_a_new_plank(frame_spaces, relaxed, good):
    """Paragraph 2-12: six frame spaces; 5 ft where the rule is modified. Frames at 1 ft here."""
    found = check_new_plank(frame_spaces * FOOT, FOOT, relaxed=relaxed)
    assert (broken(found) == ()) is good


@pytest.mark.parametrize(
    ("damaged", "decayed", "reach_in", "good"),
    [
        ({5}, set(), 18, True),
        ({5, 6}, set(), 18, True),
        ({4, 5, 6}, set(), 18, False),
        ({5}, {5}, 18, False),
        ({5}, set(), 17.9, False),
    ],
)
def test_when_a_sister_frame_may_be_fitted(damaged, decayed, reach_in, good):
    """Paragraph 2-15: not with more than two adjacent frames damaged, never beside decay. Reach of
    18 in past the damage: a surveyors' lexicon, reproducing US guidance on framing repairs."""
    sister = SisterFrame(5, reach_in * 25.4, 40, 45, 40, 45)
    assert (broken(check_sister(sister, damaged, decayed)) == ()) is good
