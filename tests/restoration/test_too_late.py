"""Two at the same thing: whoever comes too late is told so, and nothing is half kept."""

import pytest
from django.db import DatabaseError, IntegrityError, OperationalError

from restoration.config.meanwhile import came_too_late
from restoration.models import Photograph, Vessel


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    client.raise_request_exception = False
    return client


@pytest.fixture
def photograph(make_spec, survey):
    finding = make_spec(survey, "F4").finding
    return Photograph.objects.create(
        finding=finding, image="a.jpg", thumbnail="b.jpg", width_px=90, height_px=60,
        sha256="0" * 64, position=1,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("error", "status"),
    [
        (Vessel.DoesNotExist("gone"), 409),
        (IntegrityError("another row stands against it"), 409),
        (DatabaseError("Save with update_fields did not affect any rows."), 409),
        (OperationalError("database is locked"), 409),
        (OperationalError("no such column"), 500),
        (KeyError("a plank of the program is rotten"), 500),
    ],
)
def test_only_what_came_too_late_is_told_as_that(error, status):
    assert came_too_late(error) is (status == 409)


@pytest.mark.django_db(transaction=True)
def test_a_caption_for_a_photograph_taken_away_meanwhile_is_refused_in_words(
    yard, photograph, monkeypatch
):
    saved = Photograph.save

    def taken_away_first(self, **how):
        Photograph.objects.filter(pk=self.pk).delete()
        saved(self, **how)

    monkeypatch.setattr(Photograph, "save", taken_away_first)
    answer = yard.post(f"/photographs/{photograph.pk}/caption/", {"caption": "The butt"})
    assert answer.status_code == 409
    assert "Someone else changed this" in answer.content.decode()


def test_a_photograph_taken_away_meanwhile_changes_places_with_nothing(
    yard, photograph, monkeypatch
):
    from restoration.views import marked_photographs

    move = marked_photographs.move_photograph

    def taken_away_first(*, photograph, earlier):
        Photograph.objects.filter(pk=photograph.pk).delete()
        move(photograph=photograph, earlier=earlier)

    monkeypatch.setattr(marked_photographs, "move_photograph", taken_away_first)
    answer = yard.post(f"/photographs/{photograph.pk}/move/", {"to": "later"})
    assert answer.status_code == 409


def test_a_page_that_is_only_looked_at_breaks_as_loudly_as_ever(yard, monkeypatch):
    from restoration.views import vessels

    def gone(*args, **kwargs):
        raise Vessel.DoesNotExist

    monkeypatch.setattr(vessels, "render", gone)
    assert yard.get("/vessels/").status_code == 500
