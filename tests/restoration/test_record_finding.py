"""A finding is kept whole or not at all, once, and never changed."""

import io
import threading
import uuid
from datetime import UTC, datetime

import pytest
from django.core.exceptions import ValidationError
from django.core.files.storage import default_storage
from django.db import connection
from PIL import Image

from restoration.actions import findings
from restoration.actions.findings import PhotographToKeep, kept_already, record_finding
from restoration.models import Finding, FindingCause, Member, Photograph, Reading, Vessel
from timber_stock.web.pictures import take_in


@pytest.fixture
def floor(vessel):
    return Member.objects.create(
        vessel=vessel, kind="floor_timber", mark="F12", length_mm=1100, station_from=12
    )


@pytest.fixture
def finding(survey, floor, people):
    """Not kept yet; each call of `new()` is another form."""

    def new(**said):
        says = {"condition": "2", "urgency": 1, "measure": 3, "seen": "soft at the bolt"} | said
        return Finding(survey=survey, member=floor, recorded_by=people["surveyor"], **says)

    return new


def photograph(colour="olive", caption="port end", **extra):
    out = io.BytesIO()
    Image.new("RGB", (90, 60), colour).save(out, "PNG")
    return PhotographToKeep(take_in(out, "x.png"), caption)


def files_kept():
    return [
        name
        for folder in ("photographs", "thumbnails")
        if default_storage.exists(folder)
        for name in default_storage.listdir(folder)[1]
    ]


def test_a_finding_is_kept_with_all_that_belongs_to_it(finding):
    kept = record_finding(
        finding=finding(extent_from_mm=0, extent_to_mm=300),
        readings=[Reading(kind="probe", value=12.7, at_mm=250, instrument="spike")],
        causes=[
            FindingCause(cause="BROWN_ROT", certainty="probable", evidence="cubes"),
            FindingCause(cause="FASTENER_IRON", certainty="suspected"),
        ],
        photographs=[photograph("olive"), photograph("navy", "starboard end")],
    )
    kept = Finding.objects.get(pk=kept.pk)
    assert [(one.rank, one.cause) for one in kept.causes.all()] == [
        (1, "BROWN_ROT"),
        (2, "FASTENER_IRON"),
    ]
    assert kept.readings.get().value == 12.7
    first, second = kept.photographs.all()
    assert (first.position, second.position) == (1, 2)
    assert second.caption == "starboard end"
    assert (first.width_px, first.height_px) == (90, 60)
    import hashlib

    assert first.sha256 == hashlib.sha256(first.image.read()).hexdigest()
    assert first.sha256 != second.sha256
    assert len(files_kept()) == 4


def test_the_same_form_sent_twice_is_kept_once_whatever_it_holds_by_then(finding):
    form = uuid.uuid4()
    first = record_finding(finding=finding(made_id=form), photographs=[photograph()])
    second = record_finding(
        finding=finding(made_id=form, seen="changed since"),
        readings=[Reading(kind="sounding", words="dull") for _ in range(31)],
        photographs=[photograph()],
    )
    assert second.pk == first.pk
    assert Finding.objects.get().seen == "soft at the bolt"
    assert Photograph.objects.count() == 1
    assert len(files_kept()) == 2


def test_a_form_used_for_one_member_is_not_taken_for_another(finding, vessel, survey):
    form = uuid.uuid4()
    record_finding(finding=finding(made_id=form))
    other = finding(made_id=form)
    other.member = Member.objects.create(vessel=vessel, kind="floor_timber", mark="F13")
    with pytest.raises(ValidationError, match="used already, for F12"):
        record_finding(finding=other)
    assert kept_already(made_id=str(form), survey=survey, member=other.member) is None
    assert kept_already(made_id="no mark", survey=survey, member=other.member) is None


def test_a_second_finding_is_added_and_the_first_stays_as_it_was(finding, floor):
    first = record_finding(finding=finding())
    record_finding(finding=finding(condition="3", urgency=3))
    assert floor.findings.count() == 2
    first.refresh_from_db()
    assert first.condition == "2"
    first.condition = "0"
    with pytest.raises(TypeError, match="never changed"):
        first.save()


def test_when_the_rows_are_refused_the_files_go_again_and_nothing_is_kept(finding):
    photographs = [photograph(), photograph(caption="c" * 201)]
    with pytest.raises(ValidationError):
        record_finding(finding=finding(), photographs=photographs)
    assert files_kept() == []
    assert not Finding.objects.exists()


def test_when_the_disk_gives_out_half_way_nothing_is_left_behind(finding, monkeypatch):
    real = findings.Photograph.save
    saved = []

    def full(self, *args, **kwargs):
        if saved:
            raise OSError("no space left")
        saved.append(self)
        real(self, *args, **kwargs)

    monkeypatch.setattr(findings.Photograph, "save", full)
    with pytest.raises(OSError, match="no space"):
        record_finding(finding=finding(), photographs=[photograph(), photograph("navy")])
    assert files_kept() == []
    assert not Finding.objects.exists()
    assert not Photograph.objects.exists()


def test_a_cause_named_twice_is_refused_and_keeps_nothing(finding):
    twice = [FindingCause(cause="BROWN_ROT", certainty="probable") for _ in range(2)]
    with pytest.raises(ValidationError, match="named once"):
        record_finding(finding=finding(), causes=twice)
    assert not Finding.objects.exists()


def test_a_finding_holds_so_many_readings_and_photographs_and_says_so(finding):
    soundings = [Reading(kind="sounding", words="dull") for _ in range(31)]
    with pytest.raises(ValidationError, match=r"up to 30 readings, and these are 31"):
        record_finding(finding=finding(), readings=soundings)
    picture = photograph()
    with pytest.raises(ValidationError, match=r"up to 20 photographs, and these are 21"):
        record_finding(finding=finding(), photographs=[picture] * 21)
    record_finding(finding=finding(), readings=soundings[:30], photographs=[picture] * 20)
    assert Photograph.objects.count() == 20


def test_a_member_of_another_vessel_has_no_place_in_this_survey(finding, owner):
    other = Vessel.objects.create(code="KIT", name="Kittiwake of Sallow", client=owner)
    stray = finding()
    stray.member = Member.objects.create(vessel=other, kind="keel", mark="K1")
    with pytest.raises(ValidationError, match="K1 is no member"):
        record_finding(finding=stray)


def test_a_camera_without_an_offset_keeps_the_yards_time(finding, settings):
    settings.TIME_ZONE = "America/New_York"
    picture = photograph().picture
    plain = PhotographToKeep(
        type(picture)(**{**vars(picture), "taken_at": datetime(2026, 7, 1, 9, 30)})
    )
    kept = record_finding(finding=finding(), photographs=[plain])
    assert kept.photographs.get().taken_at == datetime(2026, 7, 1, 13, 30, tzinfo=UTC)


@pytest.mark.django_db(transaction=True)
def test_the_same_form_sent_twice_at_once_is_kept_once(finding):
    form, start, kept = uuid.uuid4(), threading.Barrier(3), []
    pictures = [photograph()]

    def send():
        try:
            start.wait(timeout=60)
            one = record_finding(finding=finding(made_id=form), photographs=pictures)
            kept.append(one.pk)
        finally:
            connection.close()

    threads = [threading.Thread(target=send) for _ in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=60)
    assert len(kept) == 3
    assert len(set(kept)) == 1
    assert Finding.objects.count() == 1
    assert len(files_kept()) == 2
