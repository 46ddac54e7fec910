"""A yard's own figures laid over the published ones, and what hangs on them reckoned again."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from timber_stock.wood.density import maximum_moisture_percent
from timber_stock.wood.figures import KINDS
from timber_stock.wood.heaviness import (
    green_moisture,
    green_volume_density_kg_m3,
    held_moisture,
    most_moisture_percent,
    present_density_kg_m3,
)
from timber_stock.wood.species import all_species, own_species, species
from timber_stock.wood.temperature import (
    fahrenheit_from_celsius,
    format_temperature,
    parse_temperature_c,
)
from timber_stock.wood.yard_figures import STANDING_WORDS, laid_over, own_figure

SAID = "Three offcuts of L07, dried and weighed"


def over(key, **figures):
    own = [own_figure(name, str(value), SAID) for name, value in figures.items()]
    return laid_over(species(key), own)


def test_a_published_figure_is_never_changed_by_laying_nothing_over_it():
    for wood in all_species().values():
        merged = laid_over(wood, [])
        for name, figure in wood.figures.items():
            assert merged.figures[name] == figure


def test_what_follows_from_printed_figures_is_added_and_called_computed():
    oak = laid_over(species("oak_european"), [])  # printed: 702 kg/m3 at 12 %, 4.3 and 8.9 %
    assert species("oak_european").figure("basic_specific_gravity") is None
    assert oak.require("volumetric_percent") == pytest.approx(12.8173)  # 100 - 95.7 x 91.1/100
    assert oak.require("basic_specific_gravity") == pytest.approx(702 / 1120 * (1 - 0.0769038))
    assert oak.figure("basic_specific_gravity").standing == "C"
    assert laid_over(species("pine_scots"), []).number("basic_specific_gravity") is None


def test_a_figure_computed_from_another_does_not_outlive_it():
    teak = over("teak", basic_specific_gravity="0,61", radial_percent=2.9)
    assert teak.require("density_12_kg_m3") == pytest.approx(0.61 / (1 - 0.042) * 1120)
    assert teak.require("radial_coefficient") == pytest.approx(2.9 / 3000 / (1 - 2.9 / 150))
    assert teak.figure("tangential_coefficient") == species("teak").figure("tangential_coefficient")
    ash = over("ash_white", specific_gravity_12=0.66)
    assert ash.require("density_12_kg_m3") == pytest.approx(739.2)


def test_a_printed_coefficient_stays_beside_the_yards_own_shrinkage():
    oak = over("oak_white", radial_percent=4.1)
    assert oak.figure("radial_coefficient").standing == "R"
    assert oak.figure("radial_percent").standing == "Y"


@pytest.mark.parametrize(
    ("name", "typed", "says"),
    [
        ("weight", "3", "no figure of a wood"),
        ("radial_percent", "", "Give the radial shrinkage"),
        ("radial_percent", "about four", "is a number, such as 4.3, not “about four”"),
        ("radial_percent", "45", "between 0.5 % and 20 %"),
        ("radial_percent", "nan", "finite"),
        ("basic_specific_gravity", "1.45", "between 0.05 and 1.4"),
        ("durability_class", "6", "1 to 5 or a range such as 2-3"),
    ],
)
def test_an_own_figure_that_cannot_be_is_refused_in_a_sentence(name, typed, says):
    with pytest.raises(ValueError, match=says):
        own_figure(name, typed, SAID)


def test_every_standing_that_occurs_has_a_word():
    standings = {f.standing for wood in all_species().values() for f in wood.figures.values()}
    assert standings <= set(STANDING_WORDS)


@given(st.sampled_from(sorted(all_species())), st.floats(0.5, 20), st.floats(0.5, 25))
def test_own_shrinkage_always_shows_as_the_yards_and_keeps_the_coefficients_alike(key, r, t):
    wood = over(key, radial_percent=r, tangential_percent=t)
    assert wood.figure("radial_percent").standing == "Y"
    assert wood.require("tangential_percent") == pytest.approx(t)
    assert set(wood.figures) <= set(KINDS)
    if wood.figure("radial_coefficient").standing == "C":
        c = wood.require("radial_coefficient")
        assert 3000 * c / (1 + 20 * c) == pytest.approx(r)


def test_moisture_beyond_what_the_wood_holds_is_refused_with_the_reason():
    oak = laid_over(species("oak_white"), [])  # full at 100 (1.54 - 0.6)/(1.54 x 0.6) = 101.7 %
    assert held_moisture(oak, 101.7) == 101.7
    with pytest.raises(
        ValueError, match=r"white oak, with basic .* 0\.60, is full of water at 101.7"
    ):
        held_moisture(oak, 104)
    with pytest.raises(ValueError, match="less than no water"):
        held_moisture(oak, -1)
    pear = own_species("pear", "Pyrus communis", "pear", "hardwood")
    assert most_moisture_percent(pear) is None
    assert held_moisture(pear, 260) == 260
    with pytest.raises(ValueError, match=r"pear, is full of water at 300\.0"):
        held_moisture(pear, 301)


def test_green_moisture_is_the_tabled_one_or_assumed_and_says_which():
    fir = species("douglas_fir_coast")
    assert green_moisture(fir).percent == 37
    assert green_moisture(fir, sapwood=True).percent == 115
    juniper = species("cedar_eastern_red")  # heartwood 33 %, sapwood not printed
    assert green_moisture(juniper, sapwood=True).percent == 33
    assumed = green_moisture(species("pine_scots"))
    assert (assumed.percent, assumed.figure) == (75, None)
    assert "assumed" in assumed.words
    ipe = species("ipe")  # so dense that it cannot hold as much as is assumed
    assert green_moisture(ipe).percent == pytest.approx(maximum_moisture_percent(0.92))


def test_drying_a_piece_takes_off_its_water_and_no_wood():
    oak = laid_over(species("oak_white"), [])
    green, dry = (green_volume_density_kg_m3(oak, m) for m in (64, 12))
    assert green == pytest.approx(600 * 1.64)
    assert dry == pytest.approx(600 * 1.12)
    assert present_density_kg_m3(oak, 12) == pytest.approx(600 / (1 - 0.163 * 0.6) * 1.12)
    with pytest.raises(ValueError, match="No basic specific gravity is known for Scots pine"):
        green_volume_density_kg_m3(species("pine_scots"), 12)


@given(st.floats(-40, 130))
def test_a_temperature_typed_in_either_scale_is_the_same(celsius):
    celsius = round(celsius, 2)
    fahrenheit = round(fahrenheit_from_celsius(celsius), 4)
    assert parse_temperature_c(f"{celsius} C", "F") == pytest.approx(celsius)
    assert parse_temperature_c(f"{fahrenheit}") == pytest.approx(fahrenheit)
    assert parse_temperature_c(f"{fahrenheit} °F") == pytest.approx(celsius, abs=1e-3)


def test_temperatures_are_read_as_they_are_written():
    assert parse_temperature_c("64 F") == pytest.approx(17.7778, abs=1e-4)
    assert parse_temperature_c("−3,5") == -3.5
    assert parse_temperature_c("50", "F") == 10
    assert format_temperature(17.7778, "F") == "64 °F"
    assert format_temperature(-0.26) == "-0.3 °C"


@pytest.mark.parametrize("typed", ["warm", "", "20 K", "1e3", "nan", "20 20", "99999"])
def test_what_is_no_temperature_is_refused(typed):
    with pytest.raises(ValueError, match=r"is not a temperature\. Write 18, 18 C or 64 F"):
        parse_temperature_c(typed)


def test_nothing_is_colder_than_cold():
    with pytest.raises(ValueError, match="colder than anything can be"):
        parse_temperature_c("-500 F")
