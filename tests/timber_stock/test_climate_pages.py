"""The climate of a place and the moisture to expect in the boat."""

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, connection, transaction
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from timber_stock.actions import keep_climate
from timber_stock.models import Climate, ClimateMonth, OwnServiceMoisture, service_moistures
from timber_stock.wood.service import PLACES

# A lopsided year: no two months alike, the damp at the wrong end.
YEAR = [(-3.5, 88), (1, 81), (4, 77), (8.5, 70), (13, 61), (17, 58),
        (20, 55), (19, 63), (15, 72), (9, 79), (4.5, 84), (0, 90)]  # fmt: skip


def url(name, *args):
    return reverse(f"timber_stock:{name}", args=args)


def typed(place="Aldermoor", source="The weir's own instruments", year=YEAR, **changes):
    sent = {"place": place, "source": source, "unit": "C"}
    for n, (temperature, humidity) in enumerate(year, start=1):
        sent |= {f"temperature_{n}": str(temperature), f"humidity_{n}": str(humidity)}
    return {**sent, **changes}


def kept(place="Aldermoor", year=YEAR, **facts):
    return keep_climate(climate=Climate(place=place, source="own", **facts), months=year)


def test_the_first_climate_entered_is_the_stocks_and_its_year_is_shown(signed_in):
    client = signed_in()
    empty = client.get(url("climates")).content.decode()
    assert "No climate is entered yet" in empty
    assert "13 % is assumed" in empty
    response = client.post(url("climate_new"), typed())
    assert response.status_code == 302
    climate = Climate.objects.get()
    assert climate.is_default
    html = client.get(response.url).content.decode()
    assert "10.1 % in July" in html  # 20 °C and 55 %: the handbook's table has 10.1
    assert html.count('<th scope="row">March</th>') == 1
    assert "Equilibrium moisture at Aldermoor" in html  # the plot says in words what it shows
    assert "-3.5 °C" in html


def test_both_forms_of_the_handbook_are_shown_and_agree(signed_in):
    kept()
    months = signed_in().get(url("climates")).context["months"]
    assert [row["month"].name() for row in months][:2] == ["January", "February"]
    for row in months:
        assert row["celsius_form"] == pytest.approx(row["fahrenheit_form"], abs=0.05)
    assert {row["celsius_form"] == row["fahrenheit_form"] for row in months} == {False}


def test_a_climate_typed_in_fahrenheit_is_kept_in_celsius_and_read_back_as_typed(signed_in):
    client = signed_in()
    year = [(23 + 3 * n, 60 + n) for n in range(12)]
    client.post(url("climate_new"), typed(year=year, unit="F", temperature_3="7 C"))
    climate = Climate.objects.get()
    months = list(climate.months.all())
    assert [months[0].temperature_c, months[2].temperature_c] == pytest.approx([-5.0, 7.0])
    form = client.get(url("climate_edit", climate.pk)).content.decode()
    assert 'name="temperature_1" value="23"' in form
    assert 'name="humidity_12" value="71"' in form
    assert "23 °F" in client.get(url("climates")).content.decode()


def test_the_stock_lies_in_one_place_and_another_can_become_it(signed_in):
    first, second = kept("Aldermoor"), kept("Skarv Sound")
    assert (first.is_default, second.is_default) == (True, False)
    client = signed_in()
    client.post(url("climate_edit", second.pk), typed("Skarv Sound", lies_here="on"))
    assert Climate.objects.for_the_stock().place == "Skarv Sound"
    client.post(url("climate_edit", second.pk), typed("Skarv Sound"))
    assert Climate.objects.for_the_stock().place == "Skarv Sound"  # it has to lie somewhere
    html = client.get(url("climates"), {"place": first.pk}).content.decode()
    assert "The year at Aldermoor" in html
    assert "lies elsewhere" in html
    assert "The year at Skarv" in client.get(url("climates"), {"place": "zz"}).content.decode()
    with pytest.raises(IntegrityError), transaction.atomic():
        Climate.objects.filter(pk=first.pk).update(is_default=True)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"humidity_4": "101"}, "Relative humidity lies between 0 and 100 percent"),
        ({"humidity_4": "-2"}, "Relative humidity lies between 0 and 100 percent"),
        ({"humidity_4": "damp"}, "Write a number"),
        ({"humidity_4": ""}, "Fill this in: it is needed"),
        ({"temperature_9": "warm"}, "is not a temperature. Write 18, 18 C or 64 F"),
        ({"temperature_9": "64"}, "mean lies between -40 and 60 °C"),
        ({"temperature_9": "-45 F"}, "mean lies between -40 and 60 °C"),
        ({"place": "KIRK HAVEN"}, "kept already"),
        ({"source": ""}, "Fill this in: it is needed"),
    ],
)
def test_a_climate_that_cannot_be_is_refused_in_a_sentence_and_stays_as_typed(
    signed_in, changes, says
):
    kept("Kirk Haven")
    response = signed_in().post(url("climate_new"), typed(**changes))
    html = response.content.decode()
    assert response.status_code == 422
    assert says in html
    for value in {"humidity_5": "61", "temperature_1": "-3.5", **changes}.values():
        assert f'value="{value}"' in html or not value
    assert Climate.objects.count() == 1


def test_a_year_has_twelve_months_and_the_database_believes_no_other_air(db):
    with pytest.raises(ValidationError, match=r"twelve months; 11 were given"):
        kept(year=YEAR[:11])
    with pytest.raises(ValidationError, match="between 0 and 100"):
        kept(year=[*YEAR[:11], (3, 140)])
    assert not Climate.objects.exists()
    climate = kept()
    with pytest.raises(IntegrityError), transaction.atomic():
        ClimateMonth.objects.create(climate=climate, month=1, temperature_c=1, humidity_percent=1)
    with pytest.raises(IntegrityError), transaction.atomic():
        climate.months.update(humidity_percent=100.5)


def test_weak_ground_of_the_equation_is_said(signed_in):
    kept(year=[*YEAR[:11], (3, 97)])
    html = signed_in().get(url("climates")).content.decode()
    assert "Above 95 % humidity the equation is not to be relied on" in html
    assert "Outside -1 to 54 °C" in html  # January


def test_the_moisture_to_expect_is_shown_as_assumed_until_the_yard_sets_its_own(signed_in):
    client = signed_in()
    rows = {row["key"]: row for row in client.get(url("climates")).context["service"]}
    assert set(rows) == set(PLACES)
    assert rows["deck"]["moisture"].standing == "A"
    form = client.get(url("service_set", "deck")).content.decode()
    assert 'value="15"' in form  # begins with what is assumed
    sent = {"expected_percent": "17", "least_percent": "12.5", "greatest_percent": "23",
            "basis": "Forty readings on three decks, June"}  # fmt: skip
    assert client.post(url("service_set", "deck"), sent).status_code == 302
    deck = service_moistures()["deck"]
    assert (deck.expected_percent, deck.greatest_percent, deck.standing) == (17, 23, "Y")
    html = client.get(url("climates")).content.decode()
    assert "Forty readings on three decks, June" in html
    assert "Assumed: 15 %, 11 to 20 %" in html
    client.post(url("service_clear", "deck"))
    assert service_moistures()["deck"] == PLACES["deck"]


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"least_percent": "18"}, "lies between the least and the greatest"),
        ({"greatest_percent": "210"}, "between 0 and 200"),
        ({"least_percent": "-1"}, "between 0 and 200"),
        ({"expected_percent": "nan"}, "Write a number"),
        ({"basis": "felt"}, "Say in a sentence where it comes from"),
    ],
)
def test_a_service_moisture_that_cannot_be_is_refused_in_a_sentence(signed_in, changes, says):
    sent = {"expected_percent": "17", "least_percent": "12", "greatest_percent": "23",
            "basis": "Forty readings, June", **changes}  # fmt: skip
    response = signed_in().post(url("service_set", "deck"), sent)
    assert response.status_code == 422
    html = response.content.decode()
    assert says in html
    for value in sent.values():
        assert f'value="{value}"' in html
    assert not OwnServiceMoisture.objects.exists()


def test_there_are_no_places_in_the_boat_but_those_named(signed_in):
    client = signed_in()
    assert client.get(url("service_set", "attic")).status_code == 404
    assert client.post(url("service_clear", "attic")).status_code == 404
    with pytest.raises(ValidationError, match="no such place"):
        OwnServiceMoisture(
            place="attic", expected_percent=1, least_percent=1, greatest_percent=1, basis="a b"
        ).full_clean()


def test_the_climate_page_asks_the_database_as_often_for_many_places_as_for_one(signed_in):
    client = signed_in()

    def queries():
        with CaptureQueriesContext(connection) as caught:
            assert client.get(url("climates")).status_code == 200
        return len(caught)

    kept()
    few = queries()
    for n in range(6):
        kept(f"Place {n}")
    assert queries() == few


def test_a_place_is_left_out_but_not_the_one_the_stock_lies_in_while_another_is_entered(signed_in):
    stocks, other = kept(), kept("Skarv Sound")
    client = signed_in()
    page = client.get(url("climate_delete", stocks.pk)).content.decode()
    assert "Say first where the stock lies instead" in page
    refused = client.post(url("climate_delete", stocks.pk))
    assert refused.status_code == 422
    assert "Say first of another place that the stock lies there" in refused.content.decode()
    assert client.post(url("climate_delete", other.pk), follow=True).status_code == 200
    assert list(Climate.objects.all()) == [stocks]
    assert ClimateMonth.objects.count() == 12


def test_the_last_place_is_left_out_after_saying_what_is_assumed_then(signed_in):
    last = kept()
    client = signed_in()
    assert "13 % is assumed" in client.get(url("climate_delete", last.pk)).content.decode()
    after = client.post(url("climate_delete", last.pk), follow=True).content.decode()
    assert "The climate of Aldermoor is left out." in after
    assert "No climate is entered yet" in after


def test_a_surveyor_leaves_no_climate_out(signed_in):
    assert signed_in("surveyor").post(url("climate_delete", kept().pk)).status_code == 403
    assert Climate.objects.exists()
