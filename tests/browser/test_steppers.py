"""A reading set with plus and minus: sixteenths for inches, tenths for pH, words left alone."""

from datetime import date

import pytest

from restoration.models import Member, Survey

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def form(phone, client, people, vessel):
    survey = Survey.objects.create(
        vessel=vessel, surveyed_on=date(2026, 3, 4), place="Sallow Creek", lying="ashore",
        surveyor_name="P. Prober", methods="spike", not_reached="none",
        recorded_by=people["surveyor"],
    )  # fmt: skip
    floor = Member.objects.create(vessel=vessel, kind="floor_timber", mark="F1", station_from=1)

    def open_it(units):
        people["surveyor"].units = units
        people["surveyor"].save()
        page = phone(people["surveyor"], client)
        page.goto(f"{survey.get_absolute_url()}members/{floor.pk}/")
        return page

    return open_it


def step(page, kind, typed, taps):
    figure = page.get_by_label("Figure or word")
    page.get_by_label("Reading", exact=True).last.select_option(kind)
    figure.fill(typed)
    names = {"--": "much less", "-": "less", "+": "more", "++": "much more"}
    for tap in taps.split():
        page.get_by_role("button", name=names[tap], exact=True).tap()
    return figure.input_value()


INCHES = [
    ("probe", "", "+ + +", "3/16"),
    ("probe", "7/8", "+ +", "1"),
    ("probe", "1 7/16", "++ -", "1 7/8"),
    ("bolt", "0.5", "+", "9/16"),
    ("probe", "11 mm", "+", "12 mm"),
    ("probe", "1/16", "- -", "0"),
    ("moisture", "", "++ ++ ++ +", "15.5"),
    ("moisture", "31,5 %", "-", "31 %"),
    ("ph", "8", "- -", "7.8"),
    ("sounding", "dull", "+ ++", "dull"),
    ("probe", "about an inch", "+", "about an inch"),
]


def test_each_kind_of_reading_has_its_own_steps(form):
    page = form("imperial")
    assert [step(page, *row[:3]) for row in INCHES] == [row[3] for row in INCHES]


def test_a_metric_hand_steps_in_millimetres(form):
    page = form("metric")
    assert step(page, "probe", "", "++ + +") == "12"
    assert step(page, "probe", "1/2 in", "+") == "9/16 in"
