"""The picture a vessel is known by: taken in like any photograph, seen by those who may see her."""

import io

import pytest
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from restoration.models import Client, User, Vessel, VesselPicture


def picture(colour="#345", size=(640, 360)):
    file = io.BytesIO()
    Image.new("RGB", size, colour).save(file, "JPEG")
    return SimpleUploadedFile("hare.jpg", file.getvalue(), content_type="image/jpeg")


def particulars(vessel, **given):
    return {
        "name": vessel.name, "code": vessel.code, "client": vessel.client_id,
        "construction": vessel.construction, "units": "imperial16",
    } | given  # fmt: skip


@pytest.fixture
def keep(client, people, vessel):
    def send(**given):
        client.force_login(people["yard"])
        return client.post(
            reverse("restoration:vessel_edit", args=[vessel.pk]), particulars(vessel, **given)
        )

    return send


def address(vessel, size="full"):
    return reverse("restoration:vessel_picture", args=[vessel.pk, size])


def test_a_picture_sent_with_her_particulars_stands_on_her_page(keep, client, vessel):
    assert keep(picture=picture(), picture_caption="Off the slip, 2024").status_code == 302
    page = client.get(vessel.get_absolute_url()).content.decode()
    assert address(vessel) in page
    assert "Off the slip, 2024" in page
    assert client.get(address(vessel)).headers["Content-Type"] == "image/jpeg"


def test_another_picture_takes_its_place_and_the_old_file_stays_for_old_reports(keep, vessel):
    keep(picture=picture())
    first = VesselPicture.objects.get().image.name
    keep(picture=picture("#543"))
    assert VesselPicture.objects.get().image.name != first
    assert default_storage.exists(first)


def test_her_particulars_may_change_without_touching_her_picture(keep, vessel):
    keep(picture=picture(), picture_caption="Off the slip")
    before = VesselPicture.objects.get()
    keep(picture_caption="On the hard")
    after = VesselPicture.objects.get()
    assert (after.sha256, after.caption) == (before.sha256, "On the hard")


def test_a_picture_is_taken_off(keep, vessel):
    keep(picture=picture())
    keep(without_picture="on")
    assert not VesselPicture.objects.exists()


def test_a_file_that_is_no_picture_is_refused_in_words_and_nothing_is_lost(keep, vessel):
    response = keep(picture=SimpleUploadedFile("x.jpg", b"not a picture"), name="Wren II")
    assert response.status_code == 422
    assert "not a photograph" in response.content.decode()
    assert "Wren II" in response.content.decode()
    assert not VesselPicture.objects.exists()


def test_only_her_own_client_sees_her_picture(keep, client, people, vessel):
    keep(picture=picture())
    client.force_login(people["client"])
    assert client.get(address(vessel, "thumb")).status_code == 200
    other = Client.objects.create(name="Ida Ferrow")
    Vessel.objects.create(code="KIT", name="Kittiwake of Sallow", client=other)
    client.force_login(User.objects.create_user("o", password="x", role="client", client=other))
    assert client.get(address(vessel)).status_code == 404


@pytest.mark.parametrize("size", ["full", "thumb", "huge"])
def test_a_lost_file_or_another_size_is_not_found(size, keep, client, vessel):
    keep(picture=picture())
    if size != "huge":
        VesselPicture.objects.update(image="gone.jpg", thumbnail="gone.jpg")
    assert client.get(address(vessel, size)).status_code == 404
