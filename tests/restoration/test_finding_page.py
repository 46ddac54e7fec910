"""A finding read whole, and its photographs given only to those who may see them."""

import io

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from PIL import Image

from restoration.actions.findings import PhotographToKeep, record_finding
from restoration.models import Finding, FindingCause, Member, Photograph, Reading
from timber_stock.web.pictures import take_in


@pytest.fixture
def floor(vessel):
    return Member.objects.create(vessel=vessel, kind="floor_timber", mark="F12", length_mm=1100)


@pytest.fixture
def keep(survey, floor, people):
    def make(photographs=1, readings=1, **said):
        out = io.BytesIO()
        Image.new("RGB", (900, 600), "olive").save(out, "JPEG")
        picture = take_in(out, "x.jpg")
        says = {"condition": "3", "urgency": 2, "measure": 3, "seen": "gone at the heel"} | said
        return record_finding(
            finding=Finding(survey=survey, member=floor, recorded_by=people["surveyor"], **says),
            readings=[
                Reading(kind="probe", value=22.225, at_mm=114.3, instrument="spike")
                for _ in range(readings)
            ],
            causes=[FindingCause(cause="BROWN_ROT", certainty="probable", evidence="cubes")],
            photographs=[PhotographToKeep(picture, f"view {n}") for n in range(photographs)],
        )

    return make


@pytest.fixture
def surveyor(client, people):
    client.force_login(people["surveyor"])
    return client


def test_a_finding_is_read_whole(surveyor, keep, floor):
    kept = keep(extent_from_mm=0, extent_to_mm=304.8)
    page = surveyor.get(kept.get_absolute_url()).content.decode()
    for said in (
        "gone at the heel", "3, major", "2, short term", "3, major intervention", "cubes",
        "probable", "Brown rot", "7/8 in", "4 1/2 in", "spike", "view 0", "0 in to 12 in",
        "an adaptation",
    ):  # fmt: skip
        assert said in page, said
    assert reverse("restoration:photograph", args=[kept.photographs.get().pk, "thumb"]) in page
    assert floor.get_absolute_url() in page
    assert "A newer finding" not in page


def test_a_finding_says_that_it_is_kept_as_made_and_how_it_is_corrected(surveyor, keep, floor):
    kept = keep()
    page = " ".join(surveyor.get(kept.get_absolute_url()).content.decode().split())
    _, said = page.split("A finding is kept as it was made")
    said, _ = said.split("</p>", 1)
    another = reverse("restoration:finding_new", args=[kept.survey_id, floor.pk])
    assert f'To correct it, <a href="{another}">add another finding of F12</a>' in said


def test_an_older_finding_says_that_a_newer_one_stands(surveyor, keep):
    old, new = keep(), keep(condition="1", seen="after the repair")
    page = surveyor.get(old.get_absolute_url()).content.decode()
    assert "A newer finding" in page
    assert new.get_absolute_url() in page
    assert "after the repair" in page


def test_the_page_makes_no_more_queries_with_more_photographs(surveyor, keep):
    def queries(finding):
        with CaptureQueriesContext(connection) as counted:
            assert surveyor.get(finding.get_absolute_url()).status_code == 200
        return len(counted)

    one = queries(keep())
    assert queries(keep(photographs=9, readings=7)) == one


@pytest.mark.parametrize(("size", "width"), [("full", 900), ("thumb", 480)])
def test_a_photograph_is_given_as_what_it_is_and_to_one_browser_alone(surveyor, keep, size, width):
    photograph = keep().photographs.get()
    response = surveyor.get(reverse("restoration:photograph", args=[photograph.pk, size]))
    assert response["Content-Type"] == "image/jpeg"
    assert response["X-Content-Type-Options"] == "nosniff"
    assert response["Cache-Control"].startswith("private")
    assert Image.open(io.BytesIO(b"".join(response.streaming_content))).width == width


def test_a_photograph_lost_from_the_disk_is_not_found_and_no_failure(surveyor, keep):
    photograph = keep().photographs.get()
    photograph.image.storage.delete(photograph.image.name)
    at = reverse("restoration:photograph", args=[photograph.pk, "full"])
    assert surveyor.get(at).status_code == 404
    assert surveyor.get(photograph.finding.get_absolute_url()).status_code == 200


@pytest.mark.parametrize("size", ["original", "..", "image"])
def test_there_are_two_sizes_and_no_other_file(surveyor, keep, size):
    photograph = keep().photographs.get()
    assert surveyor.get(f"/photographs/{photograph.pk}/{size}/").status_code == 404


def test_neither_a_client_nor_a_stranger_gets_a_photograph(client, people, keep):
    at = reverse("restoration:photograph", args=[keep().photographs.get().pk, "full"])
    assert client.get(at).status_code == 302
    client.force_login(people["client"])
    assert client.get(at).status_code == 403


def test_the_files_have_no_address_of_their_own(surveyor, keep):
    photograph = keep().photographs.get()
    for before in ("/nowhere/", "/media/", "/static/", "/"):
        assert surveyor.get(before + photograph.image.name).status_code == 404
    assert Photograph.objects.count() == 1
