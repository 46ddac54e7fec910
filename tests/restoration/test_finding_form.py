"""The one screen of a finding: kept in place, refused with nothing lost, next member at hand."""

import io
import re
import uuid

import pytest
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from restoration.models import Finding, Member, Photograph

HTMX = {"HX-Request": "true"}


@pytest.fixture
def floors(vessel):
    return [
        Member.objects.create(
            vessel=vessel, kind="floor_timber", mark=f"F{n}", station_from=n, length_mm=914.4
        )
        for n in (11, 12, 13)
    ]


@pytest.fixture
def surveyor(client, people):
    client.force_login(people["surveyor"])
    return client


@pytest.fixture
def address(survey, floors):
    return reverse("restoration:finding_new", args=[survey.pk, floors[1].pk])


def form_data(**typed):
    said = {
        "made_id": str(uuid.uuid4()), "condition": "2", "urgency": "1", "measure": "3",
        "readings-TOTAL_FORMS": "1", "readings-INITIAL_FORMS": "0",
        "causes-TOTAL_FORMS": "1", "causes-INITIAL_FORMS": "0",
        "causes-0-rank": "1",
        # An empty row comes as a browser sends it: every field, with nothing in it.
        "readings-0-kind": "", "readings-0-reading": "", "readings-0-at_mm": "",
        "causes-0-cause": "", "causes-0-certainty": "", "causes-0-evidence": "",
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


def test_the_form_tells_the_member_and_how_the_classes_stand(surveyor, address):
    page = surveyor.get(address).content.decode()
    assert "F12" in page
    assert "Cross member tying the two sides of the frame" in page
    assert "Measured from the member's port end." in page
    assert "EN 16096" in page
    assert "Its scope does not name vessels, so this is an adaptation" in page
    for word in ("no symptoms", "moderate", "not examined", "intermediate", "major intervention"):
        assert word in page
    assert "Is the damage a sleeve round each iron fastening" in page


def test_what_is_entered_is_kept_whole_and_the_next_member_is_one_tap_away(
    surveyor, address, floors, survey
):
    data = form_data(
        seen="soft 4 in round the bolt", extent_from_mm="0", extent_to_mm="11 1/2",
        **{
            "readings-TOTAL_FORMS": "4",
            "readings-0-kind": "probe", "readings-0-reading": "7/8", "readings-0-at_mm": "4 1/2",
            "readings-0-instrument": "spike",
            "readings-1-kind": "moisture", "readings-1-reading": "31,5 %",
            "readings-2-kind": "sounding", "readings-2-reading": "dull",
            "readings-3-kind": "bolt", "readings-3-reading": "11 mm",
            "causes-TOTAL_FORMS": "2",
            "causes-0-cause": "BROWN_ROT", "causes-0-certainty": "suspected", "causes-0-rank": "2",
            "causes-1-cause": "FASTENER_IRON", "causes-1-certainty": "established",
            "causes-1-evidence": "sleeve round each bolt", "causes-1-rank": "1",
        },
    )  # fmt: skip
    response = surveyor.post(address, data | {"photographs": [picture(), picture("b.png")]})
    kept = Finding.objects.get()
    assert response.status_code == 302
    assert response["Location"] == f"{address}?kept={kept.pk}"
    assert (kept.member, kept.survey, kept.urgency, kept.measure) == (floors[1], survey, 1, 3)
    assert kept.extent_to_mm == pytest.approx(11.5 * 25.4)
    read = [(one.kind, one.value, one.words) for one in kept.readings.all()]
    assert read == [
        ("probe", pytest.approx(22.225), ""),
        ("moisture", 31.5, ""),
        ("sounding", None, "dull"),
        ("bolt", 11, ""),
    ]
    assert kept.readings.first().at_mm == pytest.approx(114.3)
    assert [one.cause for one in kept.causes.all()] == ["FASTENER_IRON", "BROWN_ROT"]
    assert kept.photographs.count() == 2
    assert waiting_files() == []
    page = surveyor.get(response["Location"]).content.decode()
    assert "4 readings, 2 causes, 2 photographs" in page
    assert reverse("restoration:finding_new", args=[survey.pk, floors[2].pk]) in page


def test_a_metric_hand_types_bare_millimetres(surveyor, people, address):
    people["surveyor"].units = "metric"
    people["surveyor"].save()
    row = {"readings-0-kind": "probe", "readings-0-reading": "22", "readings-0-at_mm": "150"}
    surveyor.post(address, form_data(extent_from_mm="20", extent_to_mm="300", **row))
    kept = Finding.objects.get()
    assert (kept.extent_from_mm, kept.extent_to_mm) == (20, 300)
    assert (kept.readings.get().value, kept.readings.get().at_mm) == (22, 150)


def test_with_htmx_the_kept_finding_comes_in_place_with_an_address_to_come_back_to(
    surveyor, address
):
    response = surveyor.post(address, form_data(), headers=HTMX)
    assert response.status_code == 200
    assert response["HX-Push-Url"] == f"{address}?kept={Finding.objects.get().pk}"
    page = response.content.decode()
    assert "<html" not in page
    assert "kept" in page
    assert "F13" in page
    assert 'hx-push-url="true"' in page


def test_the_next_member_goes_round_the_hull_and_ends_when_every_one_is_found(
    surveyor, survey, floors
):
    def kept(floor):
        at = reverse("restoration:finding_new", args=[survey.pk, floor.pk])
        return surveyor.post(at, form_data(), headers=HTMX).content.decode()

    first, _, third = (
        reverse("restoration:finding_new", args=[survey.pk, floor.pk]) for floor in floors
    )
    page = kept(floors[1])
    assert f'href="{third}"' in page
    assert f'href="{first}"' not in page
    assert f'href="{first}"' in kept(floors[2])
    assert "Every member has a finding" in kept(floors[0])


def test_sent_twice_it_is_kept_once_and_the_second_time_says_so(surveyor, address):
    data = form_data(seen="soft")
    surveyor.post(address, data | {"photographs": picture()})
    again = surveyor.post(address, data | {"seen": "softer", "photographs": picture()})
    assert again["Location"].endswith("&again=1")
    assert (
        "came a second time and nothing was added"
        in surveyor.get(again["Location"]).content.decode()
    )
    assert Finding.objects.get().seen == "soft"
    assert Photograph.objects.count() == 1


def test_a_second_finding_is_added_beside_the_first_which_stays_in_view(surveyor, address):
    surveyor.post(address, form_data(seen="a stain at the limber hole"))
    page = surveyor.get(address).content.decode()
    assert "a stain at the limber hole" in page
    assert "added beside it" in page
    surveyor.post(address, form_data(condition="3", seen="opened up: gone"))
    assert Finding.objects.count() == 2
    assert "a stain at the limber hole" in surveyor.get(address).content.decode()


def test_a_member_not_examined_needs_the_reason_and_no_classes(surveyor, address):
    data = form_data(condition="NE", urgency="", measure="")
    refused = surveyor.post(address, data)
    assert refused.status_code == 422
    assert "Say why the member was not examined." in refused.content.decode()
    surveyor.post(address, data | {"not_examined_reason": "under the tank"})
    kept = Finding.objects.get()
    assert (kept.condition, kept.urgency, kept.measure) == ("NE", None, None)
    assert kept.not_examined_reason == "under the tank"


REFUSED = [
    ({"condition": ""}, "Set the condition class"),
    ({"urgency": ""}, "Set the urgency too"),
    ({"measure": ""}, "Set the recommended measure too"),
    ({"urgency": "7"}, "Choose one of those listed"),
    ({"not_examined_reason": "tank"}, "Only a member that was not examined"),
    ({"extent_from_mm": "2"}, "give both or neither"),
    ({"extent_from_mm": "9", "extent_to_mm": "3"}, "from a lower to a higher distance"),
    ({"extent_from_mm": "a bit", "extent_to_mm": "3"}, "is not a length that can be read"),
    ({"readings-0-kind": "ph", "readings-0-reading": "19"}, "pH runs from 0 to 14"),
    ({"readings-0-kind": "ph", "readings-0-reading": "nan"}, "is not a figure"),
    ({"readings-0-kind": "moisture", "readings-0-reading": "wet"}, "is not a figure"),
    ({"readings-0-kind": "probe", "readings-0-reading": "deep"}, "is not a length"),
    ({"readings-0-kind": "probe"}, "A reading needs its figure"),
    ({"readings-0-reading": "7"}, "Say what was read"),
    ({"readings-0-at_mm": "7"}, "Say what was read"),
    ({"causes-0-cause": "BROWN_ROT"}, "Say how sure you are"),
    ({"causes-0-evidence": "cubes"}, "Choose the cause"),
    ({"made_id": "not a mark"}, "without the mark it was given"),
]


@pytest.mark.parametrize(("wrong", "sentence"), REFUSED)
def test_a_refused_form_says_why_and_gives_back_all_that_was_typed(
    surveyor, address, wrong, sentence
):
    typed = {"seen": "soft <here> & there", "causes-0-evidence": "it crumbles"}
    if "causes-0-evidence" not in wrong and "causes-0-cause" not in wrong:
        typed |= {"causes-0-cause": "WHITE_ROT", "causes-0-certainty": "probable"}
    response = surveyor.post(address, form_data(**(typed | wrong)))
    page = response.content.decode()
    assert response.status_code == 422
    assert sentence in page
    assert not Finding.objects.exists()
    assert "soft &lt;here&gt; &amp; there" in page
    for name, value in wrong.items():
        if value and name not in ("urgency", "made_id"):
            assert value in page


@pytest.mark.parametrize(
    ("wrong", "marked"),
    [
        ({"readings-0-kind": "ph", "readings-0-reading": "19"}, "id_readings-0-reading_error"),
        ({"extent_from_mm": "9", "extent_to_mm": "3"}, "id_extent_to_mm_error"),
        ({"measure": ""}, "id_measure_error"),
    ],
)
def test_what_is_wrong_is_said_at_its_own_place(surveyor, address, wrong, marked):
    page = surveyor.post(address, form_data(**wrong)).content.decode()
    assert page.count(f'id="{marked}"') == 1


def test_a_row_added_and_left_empty_is_not_there(surveyor, address):
    rows = {"causes-TOTAL_FORMS": "3", "causes-1-rank": "", "causes-2-rank": "1"}
    response = surveyor.post(address, form_data(**rows))
    assert response.status_code == 302
    assert not Finding.objects.get().causes.exists()


def test_a_cause_named_twice_is_refused(surveyor, address):
    rows = {
        "causes-TOTAL_FORMS": "2",
        "causes-0-cause": "BROWN_ROT", "causes-0-certainty": "probable",
        "causes-1-cause": "BROWN_ROT", "causes-1-certainty": "suspected",
    }  # fmt: skip
    response = surveyor.post(address, form_data(**rows))
    assert response.status_code == 422
    assert "Each cause is named once" in response.content.decode()


def test_thirty_one_readings_are_refused_with_a_sentence_and_all_stay(surveyor, address):
    rows = {"readings-TOTAL_FORMS": "32"}
    for n in range(31):
        rows |= {f"readings-{n}-kind": "sounding", f"readings-{n}-reading": f"dull {n}"}
    response = surveyor.post(address, form_data(**rows))
    assert response.status_code == 422
    page = response.content.decode()
    assert "up to 30 readings" in page
    assert "dull 30" in page


@pytest.mark.parametrize("step", ["reading", "cause", "photographs"])
def test_without_script_another_row_comes_with_all_that_was_typed_and_no_judgement(
    surveyor, address, step
):
    data = form_data(
        condition="3", urgency="", seen="soft", extent_from_mm="1-3-1", step=step,
        **{
            "readings-0-kind": "ph", "readings-0-reading": "8,6", "readings-0-at_mm": "4 1/2",
            "causes-0-cause": "ALKALI_CATHODE", "causes-0-evidence": "pale fuzz",
        },
    )  # fmt: skip
    response = surveyor.post(address, data | {"photographs": picture()})
    page = response.content.decode()
    assert response.status_code == 200
    assert "Not kept yet" not in page
    assert 'role="alert" hidden' in page  # the place for trouble, empty
    for typed in ("soft", 'value="1-3-1"', 'value="8,6"', 'value="4 1/2"', "pale fuzz"):
        assert typed in page
    assert f'name="made_id" value="{data["made_id"]}"' in page
    assert 'name="readings-TOTAL_FORMS" value="2"' in page
    assert 'name="causes-TOTAL_FORMS" value="2"' in page
    assert re.search(r'value="3"[^>]*checked', page)
    assert len(tokens(response)) == 1
    assert not Finding.objects.exists()


def test_the_guidance_of_a_chosen_cause_is_shown_in_its_row(surveyor, address):
    data = form_data(condition="", **{"causes-0-cause": "ALKALI_CATHODE"})
    page = surveyor.post(address, data).content.decode()
    row = page[page.index("data-guidance") : page.index("<template>", page.index("data-guidance"))]
    assert "Is the metal still perfect while the wood next to it is fibrous and pale?" in row


def test_an_extent_beyond_the_members_length_is_kept_and_remarked_upon(surveyor, address):
    response = surveyor.post(
        address, form_data(extent_from_mm="1 ft", extent_to_mm="4 ft"), headers=HTMX
    )
    assert "is recorded as 3 ft long: one of the two is mistaken" in response.content.decode()


def test_a_member_of_another_vessel_is_not_on_this_round(surveyor, survey, other_vessel):
    stray = Member.objects.create(vessel=other_vessel, kind="keel", mark="K1")
    at = reverse("restoration:finding_new", args=[survey.pk, stray.pk])
    assert surveyor.get(at).status_code == 404
    assert surveyor.post(at, form_data()).status_code == 404


def test_the_form_makes_no_more_queries_with_more_members_and_findings(
    surveyor, address, survey, vessel, people, floors, django_assert_max_num_queries
):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    surveyor.post(address, form_data())
    with CaptureQueriesContext(
        connection,
    ) as few:
        surveyor.get(address)
    for n in range(20, 45):
        floor = Member.objects.create(vessel=vessel, kind="floor_timber", mark=f"F{n}")
        rows = {"survey": survey, "recorded_by": people["surveyor"], "condition": "1"}
        Finding.objects.create(member=floor, urgency=0, measure=1, **rows)
        Finding.objects.create(member=floors[1], urgency=0, measure=1, **rows)
    with CaptureQueriesContext(connection) as many:
        surveyor.get(address)
    assert len(many) == len(few)


def test_more_rows_than_anybody_enters_are_refused_before_they_are_all_drawn(surveyor, address):
    answer = surveyor.post(address, form_data(**{"readings-TOTAL_FORMS": "100000"}))
    assert answer.status_code == 422
    shown = answer.content.decode()
    assert "That is over 100 rows" in shown
    assert len(re.findall(r'name="readings-\d+-reading"', shown)) <= 101
    assert not Finding.objects.exists()


def test_the_usual_remedy_of_a_cause_says_that_it_is_no_instruction(surveyor, address):
    shown = surveyor.get(address).content.decode()
    outside_the_fold = shown.partition("Telling the causes apart")[0]
    assert "A remedy is a prompt, not an instruction: class rules, local codes" in outside_the_fold
