"""Lists that can grow are shown a page at a time, and ask no more of the database for more rows."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from restoration.models import Client, Member, Survey, Vessel
from timber_stock.models import Supplier

pytestmark = pytest.mark.django_db
MANY = 103


@pytest.fixture
def many(vessel, people):
    clients = Client.objects.bulk_create([Client(name=f"Client {n:03}") for n in range(MANY)])
    vessels = Vessel.objects.bulk_create(
        [Vessel(code=f"V{n:03}", name=f"Ketch {n:03}", client=clients[n]) for n in range(MANY)]
    )
    Supplier.objects.bulk_create([Supplier(name=f"Mill {n:03}") for n in range(MANY)])
    Member.objects.bulk_create([Member(vessel=each, kind="keel", mark="K1") for each in vessels])
    Survey.objects.bulk_create(
        [
            Survey(
                vessel=each, surveyed_on="2026-02-03", place="Sallow", lying="shed",
                surveyor_name="P. Prober", recorded_by=people["surveyor"],
            )
            for each in vessels
        ]
    )  # fmt: skip
    return vessels


@pytest.mark.parametrize(
    ("address", "first", "last"),
    [
        ("/vessels/", "Ketch 000", "Ketch 102"),
        ("/clients/", "Client 000", "Client 102"),
        ("/timber/suppliers/", "Mill 000", "Mill 102"),
        ("/papers/", "Ketch 000", "Ketch 102"),
    ],
)
def test_a_long_list_goes_on_over_pages(client, people, many, address, first, last):
    client.force_login(people["yard"])
    shown = client.get(address).content.decode()
    assert first in shown
    assert last not in shown
    assert 'rel="next"' in shown
    assert last in client.get(address, {"page": 99}).content.decode()


def test_the_first_page_of_home_names_some_vessels_and_leads_to_all(client, people, many):
    client.force_login(people["yard"])
    answer = client.get("/")
    assert len(answer.context["vessels"]) == 24
    assert len(answer.context["open_surveys"]) == 12
    assert "All vessels, and how far each is" in answer.content.decode()


def test_a_survey_of_a_vessel_beyond_the_first_hundred_starts_from_her_own_page(
    client, people, many
):
    client.force_login(people["surveyor"])
    answer = client.get("/surveys/")
    assert len(answer.context["vessels"]) == 100
    assert "These are the first 100." in answer.content.decode()


@pytest.mark.parametrize(
    "address",
    ["/", "/vessels/", "/clients/", "/timber/suppliers/", "/surveys/", "/reports/", "/papers/"],
)
def test_a_long_list_asks_no_more_than_a_short_one(
    client, people, vessel, survey, address, request
):
    Supplier.objects.create(name="Mill of one")
    client.force_login(people["yard"])

    def count():
        with CaptureQueriesContext(connection) as asked:
            assert client.get(address).status_code == 200
        return len(asked)

    few = count()
    request.getfixturevalue("many")
    assert count() == few
