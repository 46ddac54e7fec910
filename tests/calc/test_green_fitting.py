"""A member fitted green: take-up along its bolts, and the visits that follow."""

from dataclasses import replace
from datetime import date

import pytest

from restoration.calc.green_fitting import drying_pace, take_up, visits, within_table
from restoration.calc.sawn_green import MOULDED, SIDED, Wanted, accepted_directions
from timber_stock.wood.air_drying import TABLE_ROWS, time_constant_days
from timber_stock.wood.heaviness import green_moisture
from timber_stock.wood.service import PLACES
from timber_stock.wood.species import all_species, species

OAK, EUROPEAN = species("oak_white"), species("oak_european")
DECK, BELOW = PLACES["deck"], PLACES["below_waterline"]
FITTED = date(2026, 3, 11)
QUARTER = Wanted(60.0, 130.0, ("quarter",), MOULDED)


def along(wanted=QUARTER, wood=OAK, service=DECK, **options):
    return {each.through: each for each in take_up(wanted, (60.0, 130.0), wood, service, **options)}


def test_across_the_rings_a_bolt_loses_what_radial_shrinkage_says():
    """Far from the heart the map tends to straight rings: 130 mm by S_R (30 - 15)/30."""
    found = along()[MOULDED]
    assert found.expected_mm == pytest.approx(130 * 5.6 / 100 * 15 / 30, rel=0.02)
    assert found.length_mm == 130


def test_along_the_rings_it_loses_what_tangential_shrinkage_says():
    assert along()[SIDED].expected_mm == pytest.approx(60 * 10.5 / 100 * 15 / 30, rel=0.05)


def test_it_loses_most_at_the_driest():
    for each in along().values():
        assert each.most_mm > each.expected_mm > 0


def test_any_ring_direction_is_never_promised_less_than_one_of_them():
    any_way = Wanted(60.0, 130.0, accepted_directions("any", True), MOULDED)
    alone = [
        along(Wanted(60.0, 130.0, (each,), MOULDED))[MOULDED].most_mm
        for each in accepted_directions("any", True)
    ]
    assert along(any_way)[MOULDED].most_mm == pytest.approx(max(alone))


def test_what_is_half_dry_when_fitted_loses_less():
    assert along(from_percent=20)[MOULDED].most_mm < along()[MOULDED].most_mm


def test_wood_that_would_swell_takes_nothing_up():
    assert along(from_percent=9)[MOULDED].expected_mm == 0


def test_the_pace_is_that_of_the_wood_where_the_table_has_it():
    green = green_moisture(OAK).percent
    assert drying_pace(OAK, 60) == time_constant_days("oak_white", 60, green)


def test_a_wood_the_table_lacks_gets_the_widest_range_of_its_kind_and_it_is_said():
    found = drying_pace(EUROPEAN, 60)
    green = green_moisture(EUROPEAN).percent
    for key in TABLE_ROWS:
        if all_species()[key].wood_group == "hardwood":
            alone = time_constant_days(key, 60, green)
            assert found.least_days <= alone.least_days
            assert found.greatest_days >= alone.greatest_days
    assert found.standing == "A"
    assert "No drying time is known for European oak" in found.basis


def test_visits_come_soon_at_first_then_yearly_and_the_take_up_grows():
    most = along()[MOULDED].most_mm
    found = visits(FITTED, most, OAK, 60, DECK)
    assert [visit.on for visit in found[:3]] == [
        date(2026, 4, 10),
        date(2026, 6, 9),
        date(2026, 9, 7),
    ]
    greatest = [visit.greatest_mm for visit in found]
    assert greatest == sorted(greatest)
    assert greatest[-1] <= most
    assert all(visit.least_mm <= visit.greatest_mm for visit in found)


def test_nothing_to_take_up_needs_no_visit():
    wet = replace(BELOW, least_percent=32.0, expected_percent=34.0)
    most = along(service=wet)[MOULDED].most_mm
    assert most == 0
    assert visits(FITTED, most, OAK, 60, wet) == ()


def test_the_drying_times_are_asked_only_for_thicknesses_they_are_given_for():
    assert [within_table(mm) for mm in (3, 60, 900)] == [10, 60, 400]
