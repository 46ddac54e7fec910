"""What a phone sends when the signal returns: once each, with a sentence for what is refused."""

import io
import json
import uuid
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from PIL import Image

from restoration.models import Finding, Member, Photograph


@pytest.fixture
def floor(vessel):
    return Member.objects.create(
        vessel=vessel, kind="floor_timber", mark="F12", station_from=12, sided_mm=63, moulded_mm=127
    )


@pytest.fixture
def surveyor(client, people):
    client.force_login(people["surveyor"])
    return client


@pytest.fixture
def address(survey):
    return reverse("restoration:finding_receive", args=[survey.pk])


@pytest.fixture
def parcel(people, floor):
    def make(**said):
        rows = {f"{rows}-{n}_FORMS": "1" if n == "TOTAL" else "0"
                for rows in ("readings", "causes") for n in ("TOTAL", "INITIAL")}  # fmt: skip
        return {
            "made_id": str(uuid.uuid4()), "member": floor.pk, "entered_by": people["surveyor"].pk,
            "taken_at": timezone.now().isoformat(), "units": "imperial", "condition": "2",
            "urgency": "1", "measure": "3", **rows,
        } | said  # fmt: skip

    return make


def picture(name="port.png"):
    out = io.BytesIO()
    Image.new("RGB", (90, 60), "olive").save(out, "PNG")
    return SimpleUploadedFile(name, out.getvalue(), "image/png")


def program(name="port.jpg"):
    return SimpleUploadedFile(name, b"MZ\x90\x00 this is a program", "image/jpeg")


def test_a_sign_that_no_database_holds_falls_out_of_a_caption(surveyor, address, parcel):
    sent = surveyor.post(address, parcel(photographs=[picture()], caption=["po\0rt"]))
    assert sent.status_code == 200
    assert Photograph.objects.get().caption == "port"


def test_a_finding_goes_in_whole(surveyor, address, parcel, people):
    data = parcel(
        seen="soft", suspected=["BROWN_ROT"], caption=["port", "starboard"],
        photographs=[picture(), picture("b.png")],
        **{"readings-0-kind": "probe", "readings-0-reading": "7/8"},
    )  # fmt: skip
    answer = surveyor.post(address, data)
    kept = Finding.objects.get()
    assert answer.status_code == 200
    told = answer.json()
    assert (told["mark"], told["photographs"], told["again"]) == ("F12", 2, False)
    assert told["finding"] == kept.get_absolute_url()
    assert (kept.recorded_by, kept.seen) == (people["surveyor"], "soft")
    assert kept.readings.get().value == pytest.approx(22.225)
    assert kept.causes.get().certainty == "suspected"
    assert [one.caption for one in kept.photographs.all()] == ["port", "starboard"]


def test_a_bare_number_is_in_the_unit_of_the_form_it_was_typed_in(surveyor, address, parcel):
    row = {"readings-0-kind": "probe", "readings-0-reading": "22"}
    surveyor.post(address, parcel(units="metric", **row))
    assert Finding.objects.get().readings.get().value == 22


def test_sent_again_it_is_answered_again_and_kept_once(surveyor, address, parcel):
    data = parcel(seen="soft")
    first = surveyor.post(address, data | {"photographs": [picture(), program()]}).json()
    again = surveyor.post(address, data | {"photographs": [picture(), program()]}).json()
    assert (first["again"], again["again"]) == (False, True)
    assert again["finding"] == first["finding"]
    assert again["refused"] == first["refused"]
    assert (Finding.objects.count(), Photograph.objects.count()) == (1, 1)


def test_a_photograph_that_is_a_program_is_refused_and_its_finding_goes_in(
    surveyor, address, parcel
):
    data = parcel(photographs=[picture(), program(), picture("c.png")], caption=["a", "b", "c"])
    told = surveyor.post(address, data).json()
    assert [(one["place"], one["name"]) for one in told["refused"]] == [(1, "port.jpg")]
    assert "is not a photograph" in told["refused"][0]["why"]
    assert [one.caption for one in Photograph.objects.all()] == ["a", "c"]


def test_more_photographs_than_a_finding_holds_are_refused_one_by_one(surveyor, address, parcel):
    data = parcel(photographs=[picture(f"{n}.png") for n in range(21)])
    told = surveyor.post(address, data).json()
    assert told["photographs"] == 20
    assert [one["place"] for one in told["refused"]] == [20]


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"condition": ""}, "Condition: Set the condition class"),
        ({"readings-0-kind": "ph", "readings-0-reading": "19"}, "Reading 1. Figure or word: pH"),
        ({"readings-0-kind": "probe", "readings-0-reading": "2 ft"}, "F12"),
        ({"causes-0-cause": "BROWN_ROT"}, "Cause 1. How sure: Say how sure you are"),
        ({"member": "999999"}, "no such member of this vessel"),
        ({"member": "F12"}, "no such member of this vessel"),
        ({"entered_by": "999999"}, "entered on the phone by someone else"),
        ({"made_id": "x"}, "without the mark it was given"),
        ({"readings-TOTAL_FORMS": "many"}, "ManagementForm"),
    ],
)
def test_what_is_refused_is_told_in_sentences_and_nothing_is_kept(
    surveyor, address, parcel, wrong, sentence
):
    answer = surveyor.post(address, parcel(**wrong))
    assert answer.status_code == 422
    assert any(sentence in said for said in answer.json()["sentences"]), answer.json()
    assert not Finding.objects.exists()


def enter_meanwhile(survey, floor, who, minutes_ago=0):
    return Finding.objects.create(
        survey=survey, member=floor, recorded_by=who, condition="1", urgency=0, measure=1,
        recorded_at=timezone.now() - timedelta(minutes=minutes_ago),
    )  # fmt: skip


def test_what_someone_else_entered_meanwhile_stands_beside_it_and_both_say_so(
    surveyor, address, parcel, survey, floor, people
):
    theirs = enter_meanwhile(survey, floor, people["yard"])
    taken = timezone.now() - timedelta(hours=3)
    told = surveyor.post(address, parcel(taken_at=taken.isoformat())).json()
    ours = Finding.objects.exclude(pk=theirs.pk).get()
    assert ours.made_apart_from == theirs
    assert told["apart"] == {"by": "wright", "finding": theirs.get_absolute_url()}
    assert "wright had entered a finding of F12" in page_of(surveyor, ours)
    assert "prober entered a finding of F12" in page_of(surveyor, theirs)
    assert "made apart by two people" in page_of(surveyor, survey)


def page_of(client, thing):
    return client.get(thing.get_absolute_url()).content.decode()


def test_what_was_known_when_the_round_was_taken_along_or_is_ones_own_is_no_surprise(
    surveyor, address, parcel, survey, floor, people
):
    enter_meanwhile(survey, floor, people["yard"], minutes_ago=60)
    enter_meanwhile(survey, floor, people["surveyor"])
    taken = timezone.now() - timedelta(minutes=30)
    assert surveyor.post(address, parcel(taken_at=taken.isoformat())).json()["apart"] is None


@pytest.mark.parametrize("moment", ["", "yesterday", "2026-13-45T00:00:00Z", "2026-03-04T10:00:00"])
def test_a_phone_that_cannot_tell_when_is_taken_to_have_known_nothing(
    surveyor, address, parcel, survey, floor, people, moment
):
    theirs = enter_meanwhile(survey, floor, people["yard"], minutes_ago=600)
    told = surveyor.post(address, parcel(taken_at=moment)).json()
    assert told["apart"]["finding"] == theirs.get_absolute_url()


def test_who_is_signed_out_gets_no_token_and_keeps_nothing(client, address, parcel):
    token = reverse("restoration:fresh_token")
    assert client.get(token).status_code == 302
    assert client.post(address, parcel()).status_code == 302
    assert not Finding.objects.exists()


def test_a_fresh_token_opens_the_way_for_a_page_taken_along_long_ago(people, address, parcel):
    strict = Client(enforce_csrf_checks=True)
    strict.force_login(people["surveyor"])
    assert strict.post(address, parcel()).status_code == 403
    told = strict.get(reverse("restoration:fresh_token")).json()
    assert (told["by"], told["by_name"]) == (people["surveyor"].pk, "prober")
    answer = strict.post(address, parcel(), headers={"X-CSRFToken": told["token"]})
    assert answer.status_code == 200


@pytest.mark.django_db(transaction=True)
def test_the_same_finding_sent_ten_times_at_once_is_one_row(people, address, parcel):
    from django.core.files.storage import default_storage
    from django.db import connection

    data = parcel(seen="soft round the bolt")
    row = {"readings-0-kind": "ph", "readings-0-reading": "8"}

    def send(_):
        client = Client()
        client.force_login(people["surveyor"])
        try:
            return client.post(address, data | row | {"photographs": [picture()]})
        finally:
            connection.close()

    with ThreadPoolExecutor(10) as pool:
        answers = list(pool.map(send, range(10)))
    assert {answer.status_code for answer in answers} == {200}
    assert sorted(answer.json()["again"] for answer in answers) == [False] + [True] * 9
    kept = Finding.objects.get()
    assert (kept.readings.count(), kept.photographs.count()) == (1, 1)
    assert len(default_storage.listdir("photographs")[1]) == 1


@pytest.mark.django_db(transaction=True)
def test_two_phones_at_the_same_moment_are_not_both_unaware(people, address, parcel):
    from django.db import connection

    # Both took the round along before either sent: a busy machine must not let one see the other.
    taken = {who: parcel(entered_by=people[who].pk) for who in ("yard", "surveyor")}

    def send(who):
        client = Client()
        client.force_login(people[who])
        try:
            return client.post(address, taken[who]).json()["apart"]
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as pool:
        apart = list(pool.map(send, taken))
    assert [bool(one) for one in apart].count(True) == 1
    assert Finding.objects.exclude(made_apart_from=None).count() == 1


@pytest.fixture
def taken(surveyor, survey, floor):
    page = surveyor.get(reverse("restoration:round_offline", args=[survey.pk])).content.decode()
    data = page[page.index('id="round-data"') :]
    return page, json.loads(data[data.index(">") + 1 : data.index("</script>")])


def test_the_page_taken_along_carries_the_members_the_orders_and_the_words(taken, floor, survey):
    page, data = taken
    assert data["members"][str(floor.pk)]["mark"] == "F12"
    assert data["members"][str(floor.pk)]["found"] is None
    for order in data["orders"]:
        assert [part["members"] for part in order["parts"]] == [[floor.pk]]
    assert data["usual_causes"]["floor_timber"][-1] == "UNKNOWN"
    assert "Its scope does not name vessels" in page
    assert "Is the damage a sleeve round each iron fastening" in page


def test_everything_the_page_needs_is_kept_by_the_service_worker(taken, client):
    import re

    from restoration.views.service_worker import ASSETS

    page, _ = taken
    kept = {f"/static/{name}" for name in ASSETS}
    asked = re.findall(r'(?:src|href)="(/static/[^"?]+)', page)
    assert set(asked) <= kept
    for name in ASSETS:
        assert client.get(f"/static/{name}").status_code == 200
        if name.startswith("js/"):
            text = b"".join(client.get(f"/static/{name}").streaming_content).decode()
            imported = re.findall(r'from "\./([^"]+)"', text)
            assert {f"/static/js/{one}" for one in imported} <= kept


def test_the_service_worker_may_stand_before_the_whole_site_and_is_asked_for_again(client, db):
    response = client.get("/service-worker.js")
    assert response["Content-Type"].startswith("text/javascript")
    assert response["Service-Worker-Allowed"] == "/"
    assert response["Cache-Control"] == "no-cache"


def test_the_page_taken_along_asks_no_more_for_more_members(
    surveyor, survey, floor, vessel, django_assert_max_num_queries
):
    address = reverse("restoration:round_offline", args=[survey.pk])
    with django_assert_max_num_queries(12) as few:
        surveyor.get(address)
    for n in range(20, 40):
        other = Member.objects.create(vessel=vessel, kind="frame_steamed", mark=f"FR{n}")
        Finding.objects.create(
            survey=survey, member=other, recorded_by=survey.recorded_by, condition="0",
            urgency=0, measure=0,
        )  # fmt: skip
    with django_assert_max_num_queries(len(few)):
        surveyor.get(address)
