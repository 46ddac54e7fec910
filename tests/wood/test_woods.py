"""Woods: what is known, how well, and the yard's own figures over it."""

import dataclasses

import pytest

from timber_stock.wood.cautions import cautions, trade_controlled
from timber_stock.wood.durability import SAPWOOD_CAUTION, durability, scheffer_index_c
from timber_stock.wood.figures import KINDS
from timber_stock.wood.species import all_species, own_species, species


def test_a_figure_that_is_not_known_is_none_and_not_nought():
    afzelia = species("afzelia")
    assert afzelia.figure("radial_percent") is None
    assert afzelia.number("basic_specific_gravity") is None
    with pytest.raises(ValueError, match=r"No radial shrinkage.* is known for afzelia"):
        afzelia.require("radial_percent")


def test_standings_are_those_of_each_group():
    oak = species("oak_white")
    assert oak.figure("radial_percent").standing == "R"
    assert oak.figure("radial_percent").source == "Read in Wood Handbook FPL-GTR-282 Table 4-3."
    assert oak.figure("green_heartwood_percent").to_be_checked
    assert oak.figure("durability_class").source.startswith("Quoted by others from EN 350")
    assert species("oak_european").figure("density_12_kg_m3").standing == "S"
    assert "Computed" in species("teak").figure("radial_coefficient").source


def test_a_figure_calculated_back_names_the_table_it_came_from():
    maple = species("maple_sugar")
    assert maple.figure("radial_percent").standing == "B"
    assert "Table 13-5" in maple.figure("radial_percent").source
    assert maple.figure("volumetric_percent").standing == "M"


def test_a_misspelt_figure_or_wood_is_an_error_not_an_unknown():
    with pytest.raises(ValueError, match="no figure of a wood"):
        species("teak").figure("radial")
    with pytest.raises(ValueError, match="No wood is known"):
        species("teek")
    with pytest.raises(ValueError, match="a word, not a number"):
        species("teak").number("durability_class")


def test_the_yards_own_figure_is_marked_and_leaves_the_published_wood_alone():
    oak = species("oak_european").with_own(
        {"basic_specific_gravity": 0.57, "radial_percent": 4.5}, "weighed from three offcuts"
    )
    assert oak.number("basic_specific_gravity") == 0.57
    assert oak.figure("radial_percent").standing == "Y"
    assert oak.figure("radial_percent").source == "weighed from three offcuts"
    assert oak.figure("tangential_percent").standing == "S"
    assert species("oak_european").number("radial_percent") == 4.3
    with pytest.raises(dataclasses.FrozenInstanceError):
        oak.common = "oak"
    with pytest.raises(TypeError):
        oak.figures["radial_percent"] = None


@pytest.mark.parametrize(
    ("values", "source", "says"),
    [
        ({"radial_percent": 45}, "a guess", "between 0.5 % and 20 %"),
        ({"radial_percent": float("nan")}, "a guess", "finite"),
        ({"radial_percent": 4.5}, "  ", "where the yard's own figure comes from"),
        ({"weight": 4.5}, "a guess", "no figure of a wood"),
    ],
)
def test_an_own_figure_that_cannot_be_is_refused(values, source, says):
    with pytest.raises(ValueError, match=says):
        species("teak").with_own(values, source)


def test_a_yard_can_add_a_wood():
    pear = own_species("pear", "Pyrus communis", "pear", "hardwood")
    assert pear.figures == {}
    assert pear.with_own({"tangential_percent": 9}, "own").require("tangential_percent") == 9
    with pytest.raises(ValueError, match="hardwood or a softwood"):
        own_species("pear", "", "pear", "fruit")
    with pytest.raises(ValueError, match="key and a common name"):
        own_species("", "", "pear", "hardwood")


def test_every_published_figure_lies_within_the_limits_an_own_one_must_keep():
    for wood in all_species().values():
        for name, figure in wood.figures.items():
            kind = KINDS[name]
            assert kind.is_word or kind.low <= figure.value <= kind.high, (wood.key, name)


def test_durability_in_words_with_the_sapwood_always_perishable():
    robinia = durability(species("locust_black"))
    assert robinia.words == "very durable to durable"
    assert SAPWOOD_CAUTION in robinia.cautions
    assert durability(species("oak_live")).words == "no class known"
    iroko = durability(species("iroko"))
    assert any("from memory" in said for said in iroko.cautions)
    with pytest.raises(ValueError, match="1 to 5 or a range"):
        durability(species("teak").with_own({"durability_class": "best"}, "own"))


def test_dry_and_cold_months_count_nought_in_the_climate_index():
    mild = scheffer_index_c([10] * 12, [13] * 12)
    assert mild == pytest.approx(12 * 8 * 10 / 16.7)
    assert scheffer_index_c([10] * 6 + [-5] * 6, [13] * 12) == pytest.approx(mild / 2)
    assert scheffer_index_c([10] * 12, [13] * 6 + [1] * 6) == pytest.approx(mild / 2)
    with pytest.raises(ValueError, match="twelve monthly"):
        scheffer_index_c([10] * 11, [13] * 12)
    with pytest.raises(ValueError, match="wet days"):
        scheffer_index_c([10] * 12, [32] * 12)


def test_every_wood_has_its_dust_caution_and_listed_ones_their_papers():
    for wood in all_species():
        kinds = [caution.kind for caution in cautions(wood)]
        assert kinds.count("dust") >= 1
        assert (kinds.count("trade") == 2) == trade_controlled(wood)
        assert all(caution.standing == "M" for caution in cautions(wood))
    listed = {wood for wood in all_species() if trade_controlled(wood)}
    assert listed == {
        "mahogany_true", "mahogany_african", "spanish_cedar", "afrormosia", "lignumvitae",
        "afzelia", "ipe",
    }  # fmt: skip
    assert len(cautions("oak_white")) == 3
    assert len(cautions("a wood of our own")) == 2
