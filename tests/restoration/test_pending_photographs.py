"""Photographs wait for their finding: for one person, for two days, and then they go."""

import io
import os
from datetime import UTC, datetime

import pytest
from django.core import signing
from django.core.files.storage import default_storage
from PIL import Image

from restoration.actions import pending
from timber_stock.web.pictures import take_in


@pytest.fixture
def picture():
    out = io.BytesIO()
    Image.new("RGB", (90, 60), "olive").save(out, "PNG")
    return take_in(out, "x.png")


def put_back(days):
    """Make every waiting file as old as that."""
    folder = default_storage.path("pending")
    for name in os.listdir(folder):
        path = os.path.join(folder, name)
        then = os.path.getmtime(path) - days * 86_400
        os.utime(path, (then, then))


def test_what_was_put_by_comes_back_as_it_was(people, picture):
    at = datetime(2026, 3, 4, 10, 21, tzinfo=UTC)
    timed = type(picture)(**{**vars(picture), "taken_at": at})
    token = pending.put_by(picture=timed, by=people["yard"]).token
    assert pending.find(token=token, by=people["yard"]).picture() == timed


def test_it_waits_for_the_one_who_sent_it(people, picture):
    token = pending.put_by(picture=picture, by=people["yard"]).token
    with pytest.raises(pending.NoLongerKept):
        pending.find(token=token, by=people["surveyor"])


def test_it_is_no_longer_found_once_let_go_or_too_old(people, picture, monkeypatch):
    first = pending.put_by(picture=picture, by=people["yard"])
    pending.let_go(first)
    with pytest.raises(pending.NoLongerKept):
        pending.find(token=first.token, by=people["yard"])
    second = pending.put_by(picture=picture, by=people["yard"])
    clock = signing.time.time
    monkeypatch.setattr(signing.time, "time", lambda: clock() + 2 * 86_400 + 5)
    with pytest.raises(pending.NoLongerKept):
        pending.find(token=second.token, by=people["yard"])


def test_what_nobody_came_back_for_is_cleared_and_what_may_still_be_wanted_stays(people, picture):
    pending.put_by(picture=picture, by=people["yard"])
    put_back(days=2)
    yesterdays = pending.put_by(picture=picture, by=people["yard"])
    put_back(days=1)
    fresh = pending.put_by(picture=picture, by=people["yard"])
    assert sorted(os.listdir(default_storage.path("pending"))) == sorted(
        f"{one.name}{end}" for one in (yesterdays, fresh) for end in (".jpg", "-small.jpg")
    )


def test_a_file_that_was_changed_on_the_disk_is_not_taken_for_the_photograph(people, picture):
    one = pending.put_by(picture=picture, by=people["yard"])
    with open(default_storage.path(f"pending/{one.name}.jpg"), "ab") as file:
        file.write(b"more")
    with pytest.raises(pending.NoLongerKept):
        one.picture()
