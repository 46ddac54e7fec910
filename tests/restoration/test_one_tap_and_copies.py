"""The round made quick: one tap keeps a finding, an order is remembered, neighbours get copies."""

import uuid

import pytest
from django.urls import reverse

from restoration.models import Finding, Member

HTMX = {"HX-Request": "true"}


@pytest.fixture
def hull(vessel):
    rows = [
        ("floor_timber", "F3", "C", 3), ("floor_timber", "F11", "C", 11),
        ("floor_timber", "F12", "C", 12), ("frame_steamed", "FR2P", "P", 2),
        ("frame_steamed", "FR9P", "P", 9), ("frame_steamed", "FR2S", "S", 2),
        ("keel", "K1", "C", None),
    ]  # fmt: skip
    return {
        mark: Member.objects.create(
            vessel=vessel, kind=kind, mark=mark, side=side, station_from=station
        )
        for kind, mark, side, station in rows
    }


@pytest.fixture
def surveyor(client, people):
    client.force_login(people["surveyor"])
    return client


@pytest.fixture
def form_of(survey, hull):
    return lambda mark: reverse("restoration:finding_new", args=[survey.pk, hull[mark].pk])


def untouched(**typed):
    """The form as it comes when nothing in it was touched but one button."""
    rows = {f"{rows}-{n}_FORMS": "1" if n == "TOTAL" else "0"
            for rows in ("readings", "causes") for n in ("TOTAL", "INITIAL")}  # fmt: skip
    return {"made_id": str(uuid.uuid4()), "urgency": "", "measure": "", **rows} | typed


def marks(page):
    places = {
        mark: page.rfind(f'"mark-no">{mark}<')
        for mark in ("K1", "F3", "F12", "FR2P", "FR9P", "FR2S")
    }
    return sorted(places, key=places.get)


def test_one_tap_keeps_nothing_found_and_leads_straight_to_the_next(surveyor, form_of):
    response = surveyor.post(form_of("F3"), untouched(sound="yes"))
    kept = Finding.objects.get()
    assert (kept.condition, kept.urgency, kept.measure, kept.seen) == ("0", 0, 0, "")
    assert response["Location"] == f"{form_of('F11')}?after={kept.pk}"
    page = surveyor.get(response["Location"]).content.decode()
    assert "kept: condition 0, urgency 0, measure 0" in page
    assert "6 left" in page


def test_one_tap_keeps_what_was_written_too(surveyor, form_of):
    data = {"readings-0-kind": "ph", "readings-0-reading": "6.5", "suspected": ["UNKNOWN"]}
    surveyor.post(form_of("F3"), untouched(sound="yes", seen="dry and clean", **data))
    kept = Finding.objects.get()
    assert kept.seen == "dry and clean"
    assert kept.readings.get().value == 6.5


def test_one_tap_does_not_overrule_a_class_that_was_chosen(surveyor, form_of):
    response = surveyor.post(form_of("F3"), untouched(sound="yes", condition="2"))
    assert response.status_code == 422
    assert "You chose a class other than 0" in response.content.decode()
    refused = surveyor.post(
        form_of("F3"),
        untouched(not_examined="Under a tank", condition="2", urgency="1", measure="1"),
    )
    assert "Only a member that was not examined" in refused.content.decode()
    assert not Finding.objects.exists()


def test_one_tap_marks_a_member_as_not_examined_with_its_reason(surveyor, form_of):
    page = surveyor.get(form_of("F3")).content.decode()
    assert 'name="not_examined" value="Under a tank"' in page
    assert "Common practice" in page
    surveyor.post(form_of("F3"), untouched(not_examined="Under a tank"))
    kept = Finding.objects.get()
    assert (kept.condition, kept.urgency, kept.not_examined_reason) == ("NE", None, "Under a tank")


def test_with_htmx_one_tap_brings_the_next_form_in_place_with_its_own_address(surveyor, form_of):
    there = surveyor.post(form_of("F3"), untouched(sound="yes"), headers=HTMX)["Location"]
    response = surveyor.get(there, headers=HTMX)
    assert response["HX-Push-Url"] == there
    assert "<html" not in response.content.decode()


def test_the_last_member_ends_on_the_kept_page(surveyor, form_of, hull):
    for mark in hull:
        response = surveyor.post(form_of(mark), untouched(sound="yes"))
    assert "kept=" in response["Location"]


def test_a_cause_tapped_is_a_cause_suspected_and_a_row_says_more(surveyor, form_of):
    data = untouched(
        condition="2", urgency="1", measure="2", suspected=["BROWN_ROT", "FASTENER_IRON"],
        **{"causes-0-cause": "BROWN_ROT", "causes-0-certainty": "established"},
    )  # fmt: skip
    surveyor.post(form_of("F3"), data)
    named = [(one.cause, one.certainty) for one in Finding.objects.get().causes.all()]
    assert named == [("BROWN_ROT", "established"), ("FASTENER_IRON", "suspected")]


def test_a_tapped_cause_is_still_tapped_in_a_refused_form(surveyor, form_of):
    page = surveyor.post(form_of("F3"), untouched(suspected=["UNKNOWN"])).content.decode()
    assert 'value="UNKNOWN" checked' in page


@pytest.mark.parametrize(
    ("order", "walked"),
    [
        ("area", "K1 F3 F12 FR9P FR2P FR2S"),
        ("sides", "F3 F12 K1 FR9P FR2P FR2S"),
        ("stations", "FR2P FR2S F3 FR9P F12 K1"),
    ],
)
def test_the_round_is_walked_in_the_order_chosen_and_remembers_it(
    surveyor, survey, hull, form_of, order, walked
):
    page = surveyor.get(survey.get_absolute_url() + f"?order={order}").content.decode()
    assert marks(page) == walked.split()
    page = surveyor.get(survey.get_absolute_url()).content.decode()
    assert marks(page) == walked.split()
    assert f'href="?order={order}" aria-current="true"' in page
    second, third = walked.split()[1:3]
    surveyor.post(form_of("F11"), untouched(sound="yes"))
    response = surveyor.post(form_of(second), untouched(sound="yes"))
    assert response["Location"].startswith(form_of(third))


def test_an_order_that_is_none_is_not_remembered(surveyor, survey, hull):
    page = surveyor.get(survey.get_absolute_url() + "?order=upside-down").content.decode()
    assert 'href="?order=area" aria-current="true"' in page


@pytest.fixture
def found(survey, hull, people):
    finding = Finding.objects.create(
        survey=survey, member=hull["F11"], recorded_by=people["surveyor"], condition="2",
        urgency=2, measure=3, seen="soft round both bolts", extent_from_mm=0, extent_to_mm=90,
    )  # fmt: skip
    finding.causes.create(rank=1, cause="FASTENER_IRON", certainty="probable", evidence="sleeve")
    finding.readings.create(kind="probe", value=22)
    return finding


def test_a_finding_is_copied_to_chosen_neighbours_after_a_look_at_what_will_be_kept(
    surveyor, found, hull, people
):
    address = reverse("restoration:finding_copy", args=[found.pk])
    page = surveyor.get(address).content.decode()
    assert "FR2P" not in page
    for mark in ("F3", "F12"):
        assert f'name="to" value="{hull[mark].pk}" checked' in page
    data = {"made_id": str(uuid.uuid4()), "to": [hull["F12"].pk]}
    page = surveyor.post(address, data).content.decode()
    assert "Keep 1 finding<" in page
    assert "soft round both bolts" in page
    assert Finding.objects.count() == 1
    for _ in range(2):
        surveyor.post(address, data | {"keep": "yes"})
    copy = Finding.objects.get(member=hull["F12"])
    assert (copy.condition, copy.urgency, copy.measure) == ("2", 2, 3)
    assert (copy.seen, copy.copied_from) == ("soft round both bolts", found)
    assert (copy.causes.get().evidence, copy.extent_to_mm) == ("sleeve", None)
    assert not copy.readings.exists()
    page = surveyor.get(copy.get_absolute_url()).content.decode()
    assert "Copied from the finding of" in page


def test_a_copy_goes_to_no_other_kind_and_not_to_nobody(surveyor, found, hull):
    address = reverse("restoration:finding_copy", args=[found.pk])
    for to in ([], [hull["FR2P"].pk], [found.member_id]):
        data = {"made_id": str(uuid.uuid4()), "to": to, "keep": "yes"}
        assert surveyor.post(address, data).status_code == 422
    assert Finding.objects.count() == 1


def test_the_page_that_copies_asks_no_more_for_more_neighbours(
    surveyor, found, hull, vessel, django_assert_max_num_queries
):
    address = reverse("restoration:finding_copy", args=[found.pk])
    with django_assert_max_num_queries(12) as few:
        surveyor.get(address)
    for n in range(20, 40):
        Member.objects.create(vessel=vessel, kind="floor_timber", mark=f"F{n}", station_from=n)
    with django_assert_max_num_queries(len(few)):
        surveyor.get(address)
