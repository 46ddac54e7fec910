"""Couples of metals in a named series: laws, warnings, disagreements, refusals."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from restoration.calc import galvanic
from restoration.calc.galvanic import couple, couples, disagreements, metals, potential

IN_ACA = [code for code in metals() if potential(code, "ACA")]
in_aca = st.sampled_from(IN_ACA)


@given(in_aca, in_aca)
def test_the_order_in_which_two_metals_are_named_makes_no_difference(one, other):
    first, second = couple(one, other, "ACA"), couple(other, one, "ACA")
    assert (first.least_v, first.greatest_v) == (second.least_v, second.greatest_v)
    if first.noble_potential.middle_v != first.wastes_potential.middle_v:
        assert first == second


@given(in_aca, in_aca)
def test_the_metal_that_wastes_is_never_the_nobler(one, other):
    pair = couple(one, other, "ACA")
    assert pair.wastes_potential.middle_v <= pair.noble_potential.middle_v
    assert 0 <= pair.least_v <= pair.greatest_v


def test_the_metals_are_listed_from_noble_to_base():
    middles = [potential(code, "ACA").middle_v for code in IN_ACA]
    assert middles == sorted(middles, reverse=True)


def test_iron_beside_copper_is_warned_of_and_the_iron_wastes():
    pair = couple("copper", "mild_steel", "ACA")
    assert pair.wastes.code == "mild_steel"
    assert (pair.least_v, pair.greatest_v) == (0.23, 0.42)
    texts = " ".join(warning.text for warning in pair.warnings)
    assert "will waste" in texts
    assert "acid by the mild steel and alkaline by the copper" in texts


def test_bronze_beside_copper_is_not_warned_of_as_far_apart():
    pair = couple("silicon_bronze", "copper", "ACA")
    assert not any("apart" in warning.text for warning in pair.warnings)
    assert (pair.least_v, pair.greatest_v) == (0.01, 0.12)


def test_a_pair_that_may_be_far_apart_is_said_so_with_may():
    pair = couple("lead", "stainless_316_active", "ACA")
    assert pair.least_v < 0.2 < pair.greatest_v
    assert any("may waste" in warning.text for warning in pair.warnings)


def test_ranges_that_overlap_may_go_either_way():
    pair = couple("brass", "aluminium_bronze", "ACA")
    assert pair.least_v == 0
    assert any("either may waste" in warning.text for warning in pair.warnings)


def test_stainless_is_warned_to_have_two_states():
    pair = couple("stainless_316_passive", "silicon_bronze", "ACA")
    assert pair.wastes.code == "silicon_bronze"
    assert couple("stainless_316_active", "silicon_bronze", "ACA").wastes.code.startswith("stain")
    assert any("starved of oxygen instead" in warning.text for warning in pair.warnings)


def test_high_zinc_brass_is_warned_of_with_any_partner():
    pair = couple("manganese_bronze", "silicon_bronze", "ACA")
    assert any("spongy" in warning.text for warning in pair.warnings)


def test_every_warning_names_its_source():
    for one in IN_ACA:
        for warning in couple(one, "mild_steel", "ACA").warnings:
            assert warning.source
            assert warning.text


def test_the_pairs_in_a_joint_come_furthest_apart_first():
    found = couples(["mild_steel", "copper", "zinc", "copper"], "ACA")
    assert len(found) == 3, "a metal named twice is one metal"
    assert [pair.greatest_v for pair in found] == [0.73, 0.43, 0.42]
    assert couples(["lead"], "ACA") == ()


def test_the_doubtful_end_of_copper_is_shown():
    (only,) = disagreements("copper")
    assert "misprint" in only
    assert "PBB100 has −0.30 to −0.57 V (Ag/AgCl)" in only


def test_the_series_that_disagree_on_active_stainless_are_shown():
    found = disagreements("stainless_316_active")
    assert any("ACA has −0.33 to −0.46 V (SCE), L36 has −0.18 V (SCE)" in text for text in found)


def test_a_couple_is_warned_of_what_the_series_disagree_on():
    texts = [warning.text for warning in couple("copper", "lead", "ACA").warnings]
    assert any(text.startswith("Copper: PBB100 has") for text in texts)


def test_series_that_agree_are_not_said_to_disagree():
    assert disagreements("silicon_bronze") == ()
    assert disagreements("aluminium") == ()
    assert disagreements("nickel_copper") == ()


def test_every_series_is_named_by_its_publication():
    assert set(galvanic.series_titles()) == {"ACA", "PBB100", "WESTLAWN", "L36"}
    assert all(len(title) > 10 for title in galvanic.series_titles().values())


def test_every_metal_stands_in_a_line_that_names_it():
    for code, metal in metals().items():
        words = {"mild_steel": "steel", "wrought_iron": "iron", "cast_iron": "cast iron"}
        word = words.get(code, code.split("_")[-1].removesuffix("ised"))
        word = {"active": "active", "passive": "passive", "10": "90-10", "30": "70-30"}.get(
            word, word
        )
        for found in galvanic.potentials(code).values():
            assert word in found.line.lower().replace("galvanised iron", "galvanised steel"), code
            if metal.other_state:
                assert "stainless" in found.line.lower()


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("copper", "mithril", "ACA"), "“mithril” is no metal"),
        (("copper", "lead", "MINE"), "“MINE” is no galvanic series"),
        (("copper", "galvanised_steel", "ACA"), "no value for Galvanised steel; these do: WEST"),
    ],
)
def test_what_the_tables_do_not_hold_is_refused_with_a_sentence(arguments, says):
    with pytest.raises(ValueError, match=says):
        couple(*arguments)
