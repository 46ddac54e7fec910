"""A file that waits between two forms: for whom, and for how long."""

from datetime import timedelta

import pytest
from django.core.files.storage import default_storage
from django.utils import timezone

from restoration.actions import waiting_files

pytestmark = pytest.mark.django_db


def test_a_file_waits_for_the_person_who_sent_it_until_it_is_let_go(people):
    put = waiting_files.put_by(data=b"0\nEOF", name="foot.dxf", by=people["yard"])
    found = waiting_files.find(token=put.token, by=people["yard"])
    assert (found.name, found.read()) == ("foot.dxf", b"0\nEOF")
    with pytest.raises(waiting_files.NoLongerWaiting):
        waiting_files.find(token=put.token, by=people["surveyor"])
    with pytest.raises(waiting_files.NoLongerWaiting):
        waiting_files.find(token=put.token[:-1] + "x", by=people["yard"])
    waiting_files.let_go(found)
    with pytest.raises(waiting_files.NoLongerWaiting):
        found.read()


def test_what_nobody_came_back_for_is_cleared_when_the_next_is_put_by(people, monkeypatch):
    old = waiting_files.put_by(data=b"old", name="old.dxf", by=people["yard"])
    waiting_files.put_by(data=b"young", name="young.dxf", by=people["yard"])
    assert old.read() == b"old"
    later = timezone.now() + waiting_files.WAITS + timedelta(minutes=1)
    monkeypatch.setattr("restoration.actions.waiting_files.timezone.now", lambda: later)
    waiting_files.put_by(data=b"new", name="new.dxf", by=people["yard"])
    monkeypatch.undo()
    assert len(default_storage.listdir(waiting_files.FOLDER)[1]) == 1
