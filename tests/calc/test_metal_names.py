"""What a yard writes down for a metal, and the metal of the tables it is taken for."""

import pytest

from restoration.calc import evidence, galvanic
from restoration.calc.metal_names import _RULES, metal_named, signs_of_metals


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ("Galvanised iron", "galvanised_steel"),
        ("wrought iron", "wrought_iron"),
        ("iron", "mild_steel"),
        ("cast lead", "lead"),
        ("silicon bronze", "silicon_bronze"),
        ("bronze", ""),
        ("aluminum bronze", "aluminium_bronze"),
        ("A4 stainless", "stainless_316_passive"),
        ("stainless 304", "stainless_304_passive"),
        ("copper rivets", "copper"),
        ("copper-nickel", ""),
        ("locust", ""),
        ("leaded paint", ""),
    ],
)
def test_a_metal_is_taken_for_what_its_words_say_and_no_more(words, code):
    assert metal_named(words) == code


def test_every_metal_that_is_named_stands_in_the_galvanic_tables():
    assert {code for _, code in _RULES if code} <= set(galvanic.metals())


def test_the_signs_that_metals_tick_are_in_the_evidence_table():
    ticked = signs_of_metals({"mild_steel", "brass", "stainless_304_passive"})
    assert ticked == {"iron_fastening", "brass_present", "stainless_present"}
    assert ticked <= set(evidence.signs())
    assert signs_of_metals({"copper"}) == set()
