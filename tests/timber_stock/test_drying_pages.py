"""Readings as they count, and when a board in stick will be dry enough."""

from datetime import date, timedelta
from math import exp, log

import pytest
from django.core.exceptions import ValidationError
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from timber_stock.actions import keep_climate
from timber_stock.drawings.drying_plot import drying_plot_svg
from timber_stock.drawings.line_plot import round_axis
from timber_stock.models import Board, Climate, MoistureReading, OwnServiceMoisture, figures_of
from timber_stock.models.drying import air_of, counted_reading, daily, forecast_of
from timber_stock.wood.drying import FITTED, PUBLISHED, Reading, forecast

FIRST = date(2025, 3, 11)


def text(response):
    import re

    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def read(board, days, percent, **facts):
    return MoistureReading.objects.create(
        board=board, read_on=FIRST + timedelta(days), percent=percent, **facts
    )


def steady(board, settles=12.0, tau=90.0, days=(0, 31, 77, 130)):
    """Oven readings on an exponential from 61 % towards where it settles."""
    for day in days:
        read(board, day, settles + (61 - settles) * exp(-day / tau), method="oven")


@pytest.fixture
def dry_place(db):
    """The same air all the year: 20 °C and 60 % is 11.0 % by the handbook's equation."""
    return keep_climate(climate=Climate(place="Drying loft", source="own"), months=[(20, 60)] * 12)


def open_page(client, board, **asked):
    return client.get(board.get_absolute_url(), asked)


def test_a_reading_stays_as_it_was_read_and_its_correction_stands_beside_it(signed_in, board):
    read(board, 0, 14, temperature_c=5)  # cold wood reads low: half a point for every 5 °C
    read(board, 40, 14, method="oven")
    read(board, 50, 36, temperature_c=5)
    read(board, 60, 13.5)
    read(board, 70, 13, temperature_c=-4)
    said = text(open_page(signed_in(), board))
    assert "11 March 2025 14 % 15.5 % 5.0 °C".replace("5.0 °C", "5 °C") in said
    assert "14 % weighed" in said
    assert "36 % outside a meter's range" in said.replace("&#x27;", "'")
    assert "13.5 % no temperature" in said
    assert "13 % too cold or too hot" in said
    assert "Corrected by: A meter&#x27;s instruction sheet, calibrated at 20 °C read" in said
    assert "No published correction for sea salt is known" in said
    assert MoistureReading.objects.first().percent == 14


def test_a_reading_near_a_known_pair_for_its_wood_is_corrected_for_the_wood_too(woods, mill):
    board = Board.objects.create(
        tag="T1", species=woods["teak"], supplier=mill, thickness_mm=30, width_mm=150,
        length_mm=2000,
    )  # fmt: skip
    counted = counted_reading(read(board, 0, 24.5, temperature_c=20), figures_of(board.species))
    assert counted.percent == pytest.approx(20.5)  # 24 is 20, by one maker's sheet
    oven = read(board, 1, 24.5, method="oven")
    assert counted_reading(oven, figures_of(board.species)).percent == 24.5


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"percent": "180"}, "The reading is 180 %; European larch, with basic specific gravity"),
        ({"percent": "-1"}, "between 0 and 300"),
        ({"temperature_c": "mild"}, "is not a temperature"),
        ({"temperature_c": "150"}, "between -60 and 100"),
        ({"method": "nose"}, "Choose one of those listed"),
    ],
)
def test_a_reading_no_wood_can_give_is_refused_and_what_was_typed_stays(
    signed_in, board, changes, says
):
    sent = {"read_on": "2026-02-09", "percent": "15", "temperature_c": "64 F", "method": "meter",
            "read_by": "Hanne", **changes}  # fmt: skip
    response = signed_in().post(reverse("timber_stock:moisture_new", args=[board.pk]), sent)
    html = response.content.decode()
    assert response.status_code == 422
    assert says in html
    assert f'value="{sent["temperature_c"]}"' in html
    assert "Hanne" in html
    assert not MoistureReading.objects.exists()


def test_a_temperature_in_fahrenheit_is_kept_in_celsius(signed_in, board):
    sent = {"read_on": "2026-02-09", "percent": "15", "temperature_c": "41 F"}
    signed_in().post(reverse("timber_stock:moisture_new", args=[board.pk]), sent)
    kept = MoistureReading.objects.get()
    assert (kept.temperature_c, kept.method) == (pytest.approx(5.0), "meter")


def test_a_steady_board_is_dry_when_the_curve_through_its_readings_says_so(
    signed_in, board, dry_place
):
    settles = dry_place.year().mean_percent
    steady(board, settles=settles)
    response = open_page(signed_in(), board, wanted="15")
    found = response.context["forecast"]
    true_days = 90 * -log((15 - settles) / (61 - settles))
    assert found.basis == FITTED
    assert abs((found.likely_on - FIRST).days - true_days) < 12
    assert found.earliest_on < found.likely_on < (found.latest_on or date.max)
    said = text(response)
    assert "Goes towards 11.0 % ± 1.0, the mean of the year at Drying loft" in said
    assert "Fitted to 4 readings" in said
    assert "An estimate, not a promise" in said
    assert "curve fitted" in said


def test_dry_enough_is_for_a_place_in_the_boat_unless_a_moisture_is_asked_for(signed_in, board):
    client = signed_in()
    assert open_page(client, board).context["wanted"] == 15  # topsides, assumed
    assert open_page(client, board, wanted_for="wind_and_water").context["wanted"] == 22
    both = open_page(client, board, wanted_for="wind_and_water", wanted="17.5")
    assert both.context["wanted"] == 17.5
    OwnServiceMoisture.objects.create(
        place="topsides", expected_percent=16, least_percent=13, greatest_percent=19, basis="a b",
        entered_by="Ane",
    )  # fmt: skip
    assert open_page(client, board).context["wanted"] == 16


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ({"wanted": "3"}, "Ask for a moisture from 4 to 60 percent"),
        ({"wanted": "61"}, "Ask for a moisture from 4 to 60 percent"),
        ({"wanted": "dry"}, "Write a number"),
        ({"wanted_for": "attic"}, "Choose one of those listed"),
        ({"at": "99999"}, "Choose one of those listed"),
    ],
)
def test_a_moisture_that_cannot_be_wanted_is_refused_and_the_page_still_opens(
    signed_in, board, asked, says
):
    steady(board)
    response = open_page(signed_in(), board, **asked)
    assert response.status_code == 422
    assert says in response.content.decode()
    assert response.context["wanted"] == 15
    if value := asked.get("wanted"):
        assert f'value="{value}"' in response.content.decode()


def test_without_a_climate_the_air_is_assumed_and_called_so(signed_in, board):
    steady(board, settles=13)
    response = open_page(signed_in(), board, wanted="20")
    assert "13 %, assumed: no climate is entered yet" in text(response)
    assert response.context["forecast"].basis == FITTED


def test_another_place_can_be_asked_and_damp_air_never_gives_dry_wood(signed_in, board, dry_place):
    damp = keep_climate(
        climate=Climate(place="Boat shed", source="own"), months=[(8, 86)] * 6 + [(12, 81)] * 6
    )
    steady(board)
    client = signed_in()
    response = open_page(client, board, at=damp.pk, wanted="14")
    assert "settles at" in response.context["forecast"].explanation
    assert response.context["forecast"].likely_on is None
    assert "not to be told" in text(response)
    assert response.context["air"].spread_points >= 1
    assert open_page(client, board, at=dry_place.pk, wanted="14").context["forecast"].likely_on


def test_with_fewer_than_three_readings_a_published_range_is_given_and_called_that(
    signed_in, woods, mill, dry_place
):
    oak = Board.objects.create(
        tag="W1", species=woods["oak_white"], supplier=mill, thickness_mm=54, width_mm=220,
        length_mm=3000, state="in_stick", received_on=FIRST,
    )  # fmt: skip
    read(oak, 10, 58, method="oven")
    response = open_page(signed_in(), oak, wanted="20")
    found = response.context["forecast"]
    assert found.basis == PUBLISHED
    assert found.likely_on is None
    assert found.earliest_on < found.latest_on
    assert "From memory of Air Drying of Lumber" in text(response)
    assert "published rule" in text(response)
    MoistureReading.objects.all().delete()
    assert open_page(signed_in(), oak, wanted="20").context["forecast"].basis == PUBLISHED


def test_a_wood_the_published_table_does_not_know_is_named_as_people_name_it(signed_in, board):
    read(board, 0, 50, method="oven")
    explanation = open_page(signed_in(), board, wanted="20").context["forecast"].explanation
    assert "no row for European larch" in explanation


def test_a_reading_that_goes_the_wrong_way_is_shown_flagged_and_widens_the_band(
    signed_in, board, dry_place
):
    steady(board, settles=11)
    wood, air = figures_of(board.species), air_of(dry_place)

    def width():
        counted = [counted_reading(r, wood) for r in board.moisture_readings.all()]
        found = forecast_of(board, counted, wood, air, 18)
        return ((found.latest_on or date(2125, 1, 1)) - found.earliest_on).days

    before = width()
    read(board, 100, 33, method="oven")
    assert width() > before
    said = text(open_page(signed_in(), board))
    assert "Wetter than before on 19 June 2025" in said
    assert "19 June 2025 wetter than before 33 % weighed" in said
    assert "reading wetter than the one before" in said


def test_a_deep_and_a_shallow_reading_of_one_day_are_no_wetting(board):
    counted = [
        counted_reading(read(board, day, percent, method="oven"), figures_of(board.species))
        for day, percent in ((0, 40), (0, 48), (30, 36), (30, 30))
    ]
    assert [(r.on, r.moisture_percent) for r in daily(counted)] == [
        (FIRST, 44), (FIRST + timedelta(30), 33),
    ]  # fmt: skip


def test_what_the_last_reading_says_stands_before_the_dates(signed_in, board, dry_place):
    steady(board, settles=11, tau=40, days=(0, 20, 60, 200))
    client = signed_in()
    assert "is dry enough already" in text(open_page(client, board, wanted="15"))
    read(board, 320, 17, method="oven")
    late = text(open_page(client, board, wanted="15"))
    assert "wetter than the curve by then" in late


def test_only_a_board_in_stick_says_when_it_will_be_dry(signed_in, board):
    steady(board)
    Board.objects.filter(pk=board.pk).update(state="ready")
    html = open_page(signed_in(), board).content.decode()
    assert "When it will be dry enough" not in html
    assert "date of the reading" in html


def test_a_new_reading_by_htmx_brings_the_curve_with_it(signed_in, board):
    steady(board, days=(0, 40))
    sent = {"read_on": "2025-08-01", "percent": "25", "method": "oven", "wanted": "19"}
    response = signed_in().post(
        reverse("timber_stock:moisture_new", args=[board.pk]), sent, headers={"HX-Request": "true"}
    )
    assert "Fitted to 3 readings" in text(response)
    assert response.context["wanted"] == 19  # what was asked before stays asked


def test_a_reading_with_its_year_typed_wrong_is_still_drawn_to_be_seen():
    readings = [Reading(date(202, 3, 1), 31.0), Reading(date(2026, 3, 1), 24.0)]
    assert drying_plot_svg(readings, forecast(readings, 18, 13.5)).startswith("<svg")


def test_the_plot_says_in_words_what_it_shows_and_draws_what_it_names():
    readings = [
        Reading(FIRST + timedelta(d), m) for d, m in ((0, 55), (30, 41), (60, 44), (90, 30))
    ]
    svg = drying_plot_svg(readings, forecast(readings, 18, 13.5))
    assert "last reading 30.0 % on 9 June 2025" in svg
    assert svg.count("<polygon") == 1
    assert svg.count('r="5"') == 2  # one reading the wrong way, and its key
    assert svg.count('r="3.5"') == 4
    assert drying_plot_svg([], forecast([], 18, 13.5)) == ""
    single = drying_plot_svg(readings[:1], forecast(readings[:1], 18, 13.5))
    assert "11 Mar 2025" in single


@pytest.mark.parametrize(
    ("most", "ticks"), [(8.9, [0, 2, 4, 6, 8, 10]), (74, [0, 20, 40, 60, 80]), (0.7, None)]
)
def test_an_axis_ends_on_a_round_number_above_all_that_is_drawn(most, ticks):
    axis = round_axis("x", most)
    assert axis.high >= most
    assert 3 <= len(axis.ticks) <= 8
    if ticks:
        assert [value for value, _ in axis.ticks] == ticks


def test_a_board_says_what_it_weighs_green_now_and_dry(signed_in, flitch):
    read(flitch, 0, 31, method="oven")
    shown = open_page(signed_in(), flitch).context["weights"]
    volume = 0.076 * 0.36 * 4.1  # sawn here, so measured green; white oak, basic 0.60
    assert [(w.state, w.kg) for w in shown] == [
        ("green", pytest.approx(volume * 600 * 1.64)),
        ("now", pytest.approx(volume * 600 * 1.31)),
        ("dry", pytest.approx(volume * 600 * 1.12)),
    ]
    Board.objects.filter(pk=flitch.pk).update(has_sapwood=True)
    wetter = open_page(signed_in(), flitch).context["weights"][0]
    assert wetter.kg == pytest.approx(volume * 600 * 1.78)


def test_a_board_bought_dry_weighs_what_it_measures_now(signed_in, woods, mill):
    board = Board.objects.create(
        tag="D1", species=woods["oak_white"], supplier=mill, thickness_mm=50, width_mm=200,
        length_mm=2000, state="ready",
    )  # fmt: skip
    only = open_page(signed_in(), board).context["weights"]
    assert [(w.state, w.kg) for w in only] == [
        ("dry", pytest.approx(0.02 * 600 / (1 - 0.163 * 0.6) * 1.12))
    ]


def test_a_log_says_what_is_left_of_it_weighs_and_where_it_balances(signed_in, log, flitch):
    response = signed_in().get(log.get_absolute_url())
    green, dry = response.context["weights"]
    log.refresh_from_db()
    left = log.unsawn_mm3() / log.solid_mm3
    whole = 3.14159265 * 4.2 * (0.41**2 + 0.41 * 0.53 + 0.53**2) / 12
    assert dry.kg == pytest.approx(whole * left * 600 * 1.12)
    assert whole * left * 600 * 1.64 < green.kg < whole * left * 600 * 1.78
    assert "sapwood 78 %" in green.moisture
    far, end = response.context["balance"]
    assert end == "top"
    assert 2100 < far < 2500  # nearer the thick end than half way
    assert "a lot may be 20 % heavier green" in text(response)


def test_moisture_by_an_unknown_way_or_of_impossible_wood_is_not_kept(board):
    for wrong in ({"method": "nose"}, {"temperature_c": 120}):
        with pytest.raises(ValidationError):
            MoistureReading(board=board, read_on=FIRST, percent=12, **wrong).full_clean()


def test_a_board_page_asks_the_database_as_often_for_many_readings_as_for_few(
    signed_in, board, dry_place
):
    client = signed_in()

    def queries():
        with CaptureQueriesContext(connection) as caught:
            assert open_page(client, board).status_code == 200
        return len(caught)

    steady(board, days=(0, 30, 60))
    few = queries()
    steady(board, days=range(61, 90))
    for n in range(5):
        keep_climate(climate=Climate(place=f"P{n}", source="own"), months=[(n, 70)] * 12)
    assert queries() == few
