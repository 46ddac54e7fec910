"""An issued report read on a screen: all that the paper says, and its pictures for nobody else."""

import io
import re
from datetime import timedelta
from decimal import Decimal

import pytest
from django.core.files.base import ContentFile
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from restoration.actions.photographs import mark_photograph
from restoration.actions.report_links import make_link, token_of, withdraw_link
from restoration.actions.reports import issue_report
from restoration.actions.vessel_picture import set_picture
from restoration.models import (
    Client,
    Finding,
    FindingCause,
    Member,
    Photograph,
    Reading,
    User,
    Vessel,
)
from restoration.reports.content import Standing
from restoration.reports.frozen import from_json, to_json
from restoration.reports.gather import report_content
from restoration.reports.reading import reading
from timber_stock.web.pictures import take_in

CHAPTERS = (
    "summary", "hull", "identity", "limits", "members", "findings", "causes", "schedule",
    "timber", "costs", "methods", "cautions", "sign_off",
)  # fmt: skip


def jpeg(colour="#8e6c4a"):
    file = io.BytesIO()
    Image.new("RGB", (1600, 1200), colour).save(file, "JPEG")
    return file


@pytest.fixture
def issued(survey, people, make_spec, deep_log, promise):
    """F12 replaced from a log four deep, FR7P cracked and photographed, K1 not looked at."""
    promise(make_spec(survey, "F12"), "L7-2b1", 100, 1300)
    Member.objects.create(vessel=survey.vessel, kind="keel", mark="K1")
    frame = Member.objects.create(vessel=survey.vessel, kind="frame", mark="FR7P", station_from=7)
    found = Finding.objects.create(
        survey=survey, member=frame, recorded_by=people["surveyor"], condition="2", urgency=2,
        measure=2, seen="Cracked <at> the turn.",
    )  # fmt: skip
    FindingCause.objects.create(
        finding=found, rank=1, cause="BROWN_ROT", certainty="probable", evidence="cubed"
    )
    Reading.objects.create(finding=found, kind="probe", value=9.525, at_mm=304.8, instrument="awl")
    picture = take_in(jpeg(), "x.jpg")
    photograph = Photograph(
        finding=found, width_px=1600, height_px=1200, sha256=picture.sha256, caption="the crack"
    )
    photograph.image.save("x.jpg", ContentFile(picture.jpeg), save=False)
    photograph.thumbnail.save("x.jpg", ContentFile(picture.thumbnail), save=False)
    photograph.save()
    mark_photograph(
        photograph=photograph, kind="arrow", points=[[0.1, 0.1], [0.5, 0.5]], text="here",
        by=people["surveyor"],
    )  # fmt: skip
    set_picture(vessel=survey.vessel, picture=take_in(jpeg("#345"), "her.jpg"), caption="On a slip")
    return issue_report(
        survey=survey, by=people["yard"], at=timezone.now(), units="imperial", readers="Ottoline"
    )


@pytest.fixture
def page(issued, client, people):
    client.force_login(people["client"])
    return client.get(issued.get_absolute_url()).content.decode()


def test_the_page_has_every_chapter_that_the_paper_has(page):
    for key in CHAPTERS:
        assert f'id="{key}"' in page
        assert f'href="#{key}"' in page


def test_the_page_tells_the_finding_with_its_cause_reading_and_marked_photograph(page, issued):
    told = page[page.index('id="finding_FR7P"') :]
    assert "Cracked &lt;at&gt; the turn." in told
    assert "<b>Brown rot (fungal)</b> – probable. Evidence: Cubed." in told
    assert "3/8 in" in told
    assert "awl" in told
    assert 'aria-label="Marked: arrow here"' in told
    assert reverse("restoration:report_photograph", args=[issued.pk, 1]) in told
    assert "Photograph 1. FR7P: the crack" in told


def test_the_cost_of_each_replacement_is_written_as_its_sum_is(survey, people, make_spec, client):
    spec = make_spec(survey, "F12")
    spec.cost_estimate = Decimal("2480")
    spec.save()
    issued = issue_report(
        survey=survey, by=people["yard"], at=timezone.now(), units="imperial", readers="Ottoline"
    )
    client.force_login(people["client"])
    page = client.get(issued.get_absolute_url()).content.decode()
    schedule = page.partition('id="h-schedule"')[2].partition("</table>")[0]
    assert 'data-label="Cost">2,480.00 EUR</td>' in schedule


def test_every_link_within_the_page_leads_to_a_place_that_is_there(page):
    places = set(re.findall(r'id="([^"]+)"', page))
    leads = set(re.findall(r'href="#([^"]+)"', page))
    assert leads
    assert leads <= places | {"main"}


def test_the_hull_sheet_is_drawn_on_the_page_and_in_no_second_drawing_code(page):
    assert page.count("<svg") >= 2
    assert 'class="hull-sheet' in page
    assert "FR7P, frame" in page


def test_no_place_is_named_twice(page):
    places = re.findall(r' id="([^"]+)"', page)
    assert len(places) == len(set(places))


def test_her_picture_and_the_photographs_are_served_to_her_client_at_a_size_for_a_phone(
    issued, page, client
):
    for number in (0, 1):
        response = client.get(reverse("restoration:report_photograph", args=[issued.pk, number]))
        assert response.headers["Content-Type"] == "image/jpeg"
        assert max(Image.open(io.BytesIO(response.content)).size) <= 1200
    missing = reverse("restoration:report_photograph", args=[issued.pk, 2])
    assert client.get(missing).status_code == 404


def test_the_photographs_of_a_report_are_for_nobody_else(issued, client):
    other = Client.objects.create(name="Ida Ferrow")
    Vessel.objects.create(code="KIT", name="Kittiwake of Sallow", client=other)
    address = reverse("restoration:report_photograph", args=[issued.pk, 1])
    assert client.get(address).status_code == 302
    client.force_login(User.objects.create_user("o", password="x", role="client", client=other))
    assert client.get(address).status_code == 404


def test_a_lost_photograph_is_not_found_and_the_page_still_opens(issued, client, people):
    Photograph.objects.get().image.storage.delete(Photograph.objects.get().image.name)
    client.force_login(people["client"])
    address = reverse("restoration:report_photograph", args=[issued.pk, 1])
    assert client.get(address).status_code == 404
    assert client.get(issued.get_absolute_url()).status_code == 200


def test_a_report_frozen_before_there_were_sheets_and_choices_is_still_read(survey, people):
    standing = Standing(number=1, on=timezone.localdate(), by="W. Right")
    kept = to_json(report_content(survey_id=survey.pk, standing=standing, units="metric"))
    for newer in ("paper", "cover", "hull", "no_hull", "choices", "sawn"):
        del kept[newer]
    shown = reading(from_json(kept), lambda number: f"/{number}")
    assert shown["hull"] == ""
    assert shown["choices"] == []


def test_whoever_holds_a_link_sees_the_pictures_of_that_report_until_it_is_withdrawn(
    issued, client, people
):
    link = make_link(
        report=issued, meant_for="The bank", expires_at=timezone.now() + timedelta(days=9),
        by=people["yard"],
    )  # fmt: skip
    address = reverse("restoration:shared_report_photograph", args=[token_of(link), 1])
    page = client.get(reverse("restoration:shared_report", args=[token_of(link)]))
    assert address in page.content.decode()
    assert client.get(address).headers["Content-Type"] == "image/jpeg"
    guessed = reverse("restoration:shared_report_photograph", args=["guessed", 1])
    assert client.get(guessed).status_code == 404
    withdraw_link(link=link, by=people["yard"])
    assert client.get(address).status_code == 410


def test_the_chapters_are_folded_and_the_summary_the_hull_and_the_cautions_are_not(page):
    folded = re.findall(r'<details class="chapter"( open)?>\s*<summary><h2 id="h-(\w+)"', page)
    assert {name for is_open, name in folded if is_open} == {"hull", "cautions", "sign"}
    assert {"findings", "causes", "costs", "timber"} <= {name for _, name in folded}
    assert "summary" not in {name for _, name in folded}


def test_a_reader_without_script_can_have_all_of_it_unfolded(issued, client, people):
    client.force_login(people["client"])
    folded = client.get(issued.get_absolute_url()).content.decode()
    assert 'href="?whole"' in folded
    whole = client.get(issued.get_absolute_url() + "?whole").content.decode()
    assert whole.count("<details") == whole.count(" open>")
    assert "Fold its chapters" in whole


def test_a_draft_read_whole_is_still_a_draft(survey, client, people):
    client.force_login(people["surveyor"])
    address = reverse("restoration:report_draft", args=[survey.pk])
    page = client.get(f"{address}?read").content.decode()
    assert 'href="?read&amp;whole"' in page
    assert "nobody may rely on it" in client.get(f"{address}?read&whole").content.decode()
