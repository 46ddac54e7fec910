"""Condition, urgency and measure wording against the table it was taken down in.

Source: EN 16096:2012, Conservation of cultural property, condition survey and report of built
cultural heritage (CEN/TC 346). Its scope was read as national bodies publish it; it covers
built heritage and does not name vessels. The class tables were NOT read: the wording below is
from memory, believed right, to be checked against the standard before it is quoted to a
client. So these tests show that the program says what was taken down, word for word and with
its standing beside it; they do not show that the standard says it.
"""

import pytest

from restoration.calc import grading

# Class: condition (CC), urgency (UC), recommendation (RC). From memory.
EN_16096 = {
    0: ("no symptoms", "long term", "no measures"),
    1: ("minor symptoms", "intermediate term", "maintenance or preventive conservation"),
    2: (
        "moderately strong symptoms",
        "short term",
        "moderate repair, or further investigation",
    ),
    3: ("major symptoms", "urgent and immediate", "major intervention, based on diagnosis"),
}

# What each condition prompts for a hull member. Our own derivation, not the standard's.
HULL_PROMPTS = {
    "0": "Examined, nothing found by the methods used.",
    "1": "Surface or small local signs, no loss of section or hold.",
    "2": "Local loss of section, softness, cracked frame, wasted fastening in the sample.",
    "3": "Loss of function, decay through the section, fracture, failed bolts.",
}


@pytest.mark.parametrize("number", EN_16096)
def test_each_class_has_the_wording_and_the_code_taken_down(number):
    condition, urgency, measure = (
        grading.condition(str(number)),
        grading.urgency(number),
        grading.measure(number),
    )
    assert (condition.wording, urgency.wording, measure.wording) == EN_16096[number]
    codes = (condition.code, urgency.code, measure.code)
    assert codes == (f"CC{number}", f"UC{number}", f"RC{number}")


def test_no_class_is_added_to_those_taken_down():
    assert set(grading.URGENCIES) == set(grading.MEASURES) == set(EN_16096)
    assert set(grading.CONDITIONS) == {*map(str, EN_16096), "NE"}


@pytest.mark.parametrize("code", HULL_PROMPTS)
def test_each_condition_says_what_it_means_for_a_hull_member(code):
    assert grading.condition(code).meaning == HULL_PROMPTS[code]


def test_the_standing_of_the_wording_is_said_with_it():
    assert "its scope does not name vessels" in grading.STANDING.lower()
    assert "the wording of the classes here is from memory" in grading.STANDING
