"""Photographs of a finding still being entered: taken in, waiting, refused, left out."""

import io
import re
import uuid

import pytest
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from restoration.models import Finding, Member, Photograph

CHOSEN = {"HX-Request": "true", "HX-Target": "waiting"}


@pytest.fixture
def surveyor(client, people):
    client.force_login(people["surveyor"])
    return client


@pytest.fixture
def address(survey, vessel):
    floor = Member.objects.create(vessel=vessel, kind="floor_timber", mark="F12")
    return reverse("restoration:finding_new", args=[survey.pk, floor.pk])


def form_data(**typed):
    said = {
        "made_id": str(uuid.uuid4()), "condition": "2", "urgency": "1", "measure": "3",
        "readings-TOTAL_FORMS": "0", "readings-INITIAL_FORMS": "0",
        "causes-TOTAL_FORMS": "0", "causes-INITIAL_FORMS": "0",
    }  # fmt: skip
    return said | typed


def picture(name="port.png", colour="olive"):
    out = io.BytesIO()
    Image.new("RGB", (90, 60), colour).save(out, "PNG")
    return SimpleUploadedFile(name, out.getvalue(), "image/png")


def tokens(response):
    return re.findall(r'name="photograph" value="([^"]+)"', response.content.decode())


def waiting_files():
    there = default_storage.exists("pending")
    return default_storage.listdir("pending")[1] if there else []


def test_sent_again_with_photographs_that_waited_it_is_still_kept_once(surveyor, address):
    token = tokens(surveyor.post(address, form_data(condition="", photographs=picture())))
    data = form_data(photograph=token, caption=["the heel"])
    surveyor.post(address, data)
    again = surveyor.post(address, data)
    assert again["Location"].endswith("&again=1")
    assert Photograph.objects.get().caption == "the heel"


def test_good_photographs_of_a_refused_form_need_not_be_chosen_again(surveyor, address):
    bad = SimpleUploadedFile("plan.jpg", b"%PDF-1.7 not a picture", "image/jpeg")
    refused = surveyor.post(address, form_data(seen="soft", photographs=[picture("port.png"), bad]))
    page = refused.content.decode()
    assert refused.status_code == 422
    assert "“plan.jpg” is not a photograph that can be read" in page
    assert "soft" in page
    assert not Finding.objects.exists()
    assert "data:image/jpeg;base64," in page
    (token,) = tokens(refused)
    response = surveyor.post(address, form_data(photograph=token, caption="the port end"))
    assert response.status_code == 302
    kept = Photograph.objects.get()
    assert (kept.width_px, kept.height_px, kept.caption) == (90, 60, "the port end")
    assert waiting_files() == []


def test_a_photograph_that_waits_can_be_left_out_again(surveyor, address):
    refused = surveyor.post(
        address, form_data(condition="", photographs=[picture(), picture("b.png", "navy")])
    )
    first, second = tokens(refused)
    data = form_data(photograph=[first, second], caption=["one", "two"], leave_out=[first])
    surveyor.post(address, data)
    assert Photograph.objects.get().caption == "two"
    assert waiting_files() == []


def test_captions_stay_with_their_photographs_through_a_refusal(surveyor, address):
    refused = surveyor.post(
        address, form_data(condition="", photographs=[picture(), picture("b.png", "navy")])
    )
    twice = surveyor.post(
        address,
        form_data(condition="", photograph=tokens(refused), caption=["heel", "head & bolt"]),
    )
    page = twice.content.decode()
    assert page.index('value="heel"') < page.index('value="head &amp; bolt"')
    assert tokens(twice) == tokens(refused)


def test_photographs_waiting_for_one_person_are_nobody_elses(client, people, address):
    client.force_login(people["surveyor"])
    token = tokens(client.post(address, form_data(condition="", photographs=picture())))
    client.force_login(people["yard"])
    response = client.post(address, form_data(photograph=token))
    assert response.status_code == 422
    assert "no longer waiting here" in response.content.decode()
    assert not Photograph.objects.exists()


@pytest.mark.parametrize("token", ["", "../../secret_key", "eyJieSI6MX0:1abc:forged"])
def test_a_forged_token_finds_nothing(surveyor, address, token):
    response = surveyor.post(address, form_data(photograph=token))
    assert response.status_code == 422
    assert "no longer waiting here" in response.content.decode()


def test_a_photograph_too_many_is_said_and_the_first_twenty_wait(surveyor, address):
    many = [picture(f"{n}.png") for n in range(22)]
    refused = surveyor.post(address, form_data(photographs=many))
    assert refused.status_code == 422
    assert "up to 20 photographs, and these are 22" in refused.content.decode()
    assert len(tokens(refused)) == 20


def test_photographs_are_taken_in_as_they_are_chosen_without_judging_the_rest(surveyor, address):
    data = form_data(condition="", step="photographs", photographs=picture())
    response = surveyor.post(address, data, headers=CHOSEN)
    page = response.content.decode()
    assert response.status_code == 200
    assert len(tokens(response)) == 1
    assert "Set the condition" not in page
    assert "made_id" not in page
    assert 'id="photograph-inputs" hx-swap-oob="true"' in page


def test_only_the_new_ones_come_back_when_photographs_are_taken_in_one_by_one(surveyor, address):
    data = form_data(step="photographs")
    first = tokens(surveyor.post(address, data | {"photographs": picture()}, headers=CHOSEN))
    bad = SimpleUploadedFile("x.jpg", b"no")
    response = surveyor.post(
        address,
        data | {"photograph": first, "photographs": [picture("b.png"), bad]},
        headers=CHOSEN,
    )
    assert response.status_code == 422
    assert len(tokens(response)) == 1
    assert tokens(response) != first
    assert "“x.jpg” is not a photograph" in response.content.decode()
