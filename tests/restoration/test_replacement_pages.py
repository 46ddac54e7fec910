"""Specifying what replaces a member, and the list of what is specified, in the browser."""

import re
from datetime import date
from html import unescape

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from restoration.actions.allotments import record_cut, record_fitted
from restoration.models import ReplacementSpec, WantedTimber
from timber_stock.models import CuttingItem, CuttingList

DAY = date(2026, 2, 9)


@pytest.fixture
def yard_client(client, people):
    client.force_login(people["yard"])
    return client


@pytest.fixture
def finding(survey, make_spec):
    """A finding of a floor whose sizes were typed the builder's way, with nothing specified."""
    spec = make_spec(survey, "F12")
    finding = spec.finding
    spec.delete()
    finding.member.as_typed = {"length_mm": "3-7-2", "sided_mm": "2 1/2"}
    finding.member.length_mm = 1098.55
    finding.member.save()
    return finding


def says(response) -> str:
    text = re.sub(r"<[^>]+>", " ", response.content.decode())
    return " ".join(unescape(text).split())


def given(woods, **changed):
    return {
        "wood": woods["oak_white"].pk, "sided_mm": "2 1/2", "moulded_mm": "5 1/8",
        "length_mm": "3-8-0", "rings": "quarter", "rings_face": "moulded", "clear_of_heart": "on",
        "seasoning": "green", "fastenings": "4 bronze bolts, 1/2 in", "note": "crook if it can be",
        "hours_estimate": "14.5", "cost_estimate": "310",
    } | changed  # fmt: skip


def test_a_specification_begins_with_the_members_own_sizes_as_they_were_typed(yard_client, finding):
    form = yard_client.get(reverse("restoration:spec_new", args=[finding.pk])).context["form"]
    assert form["length_mm"].value() == "3-7-2"
    assert form["sided_mm"].value() == "2 1/2"
    assert form["moulded_mm"].value() == "5 in"
    assert form["wood"].value() == finding.member.wood_id


def test_a_bare_number_is_read_back_as_typed_only_in_the_units_it_was_typed_in(
    yard_client, survey, make_spec, people
):
    spec = make_spec(survey, "F12", sided_mm=63.5)
    spec.as_typed = {"sided_mm": "2 1/2"}
    spec.save()
    address = reverse("restoration:spec_edit", args=[spec.pk])
    assert yard_client.get(address).context["form"]["sided_mm"].value() == "2 1/2"
    people["yard"].units = "metric"
    people["yard"].save()
    # Sent back untouched it would be two and a half millimetres.
    assert yard_client.get(address).context["form"]["sided_mm"].value() == "63.5 mm"


def test_a_replacement_is_specified_from_a_finding(yard_client, finding, woods, people):
    other = woods["oak_european"]
    data = given(woods, other_woods=[other.pk, woods["oak_white"].pk])
    answer = yard_client.post(reverse("restoration:spec_new", args=[finding.pk]), data)
    spec = ReplacementSpec.objects.get()
    assert answer.url == spec.get_absolute_url()
    assert (spec.sided_mm, spec.moulded_mm) == pytest.approx((63.5, 130.175))
    assert spec.length_mm == pytest.approx(44 * 25.4)
    assert (spec.rings, spec.rings_face, spec.clear_of_heart) == ("quarter", "moulded", True)
    assert spec.specified_by == people["yard"]
    # The wood asked for first is not also an alternative to itself.
    assert list(spec.other_woods.all()) == [other]
    page = says(yard_client.get(answer.url))
    for word in ("quarter-sawn, on the moulded face", "14.5", "310.00 EUR", "4 bronze bolts"):
        assert word in page


def test_what_was_typed_is_kept_when_a_specification_is_refused(yard_client, finding, woods):
    data = given(woods, length_mm="a yard and a bit", moisture_percent="12", note="keep me")
    answer = yard_client.post(reverse("restoration:spec_new", args=[finding.pk]), data)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "a yard and a bit" in page
    assert "keep me" in page
    assert "not a length that can be read" in page
    assert not ReplacementSpec.objects.exists()


def test_seasoned_wood_needs_a_moisture_to_season_to(yard_client, finding, woods):
    answer = yard_client.post(
        reverse("restoration:spec_new", args=[finding.pk]), given(woods, seasoning="seasoned")
    )
    assert answer.status_code == 422
    assert "Seasoned wood needs a moisture" in says(answer)


def test_a_specification_may_be_changed_until_a_piece_is_cut_to_it(
    yard_client, survey, make_spec, woods, deep_log, promise
):
    spec = make_spec(survey, "F12")
    taken = promise(spec, "L7-1", 0, 1200)
    edit = reverse("restoration:spec_edit", args=[spec.pk])
    assert yard_client.post(edit, given(woods)).status_code == 302
    spec.refresh_from_db()
    assert spec.moulded_mm == pytest.approx(130.175)
    page = yard_client.get(edit)
    assert page.context["form"]["length_mm"].value() == "3-8-0"

    record_cut(allotment=taken, on=DAY, by="Ansgar")
    page = yard_client.get(edit, follow=True)
    assert page.redirect_chain[0][0] == spec.get_absolute_url()
    assert "A piece was cut for it from L7-1 on 9 February 2026" in says(page)
    refused = yard_client.post(edit, given(woods, moulded_mm="9", note="typed in vain"))
    assert refused.status_code == 422
    assert "A piece was cut for it from L7-1" in says(refused)
    assert "typed in vain" in refused.content.decode()
    spec.refresh_from_db()
    assert spec.moulded_mm == pytest.approx(130.175)


def test_a_specification_is_withdrawn_with_a_reason_once_its_timber_is(
    yard_client, survey, make_spec, deep_log, promise
):
    from restoration.actions.allotments import withdraw_allotment

    spec = make_spec(survey, "F12")
    taken = promise(spec, "L7-1", 0, 1200)
    where = reverse("restoration:spec_withdraw", args=[spec.pk])
    told = {"on": "2026-02-10", "reason": "the old floor will do"}
    refused = yard_client.post(where, told)
    assert refused.status_code == 422
    assert "Timber is allotted to it from L7-1. Withdraw what is allotted first" in says(refused)
    assert "the old floor will do" in refused.content.decode()
    withdraw_allotment(allotment=taken, on=DAY, reason="not needed")
    assert yard_client.post(where, told | {"reason": " "}).status_code == 422
    assert yard_client.post(where, told).status_code == 302
    spec.refresh_from_db()
    assert (spec.withdrawn_on, spec.withdrawn_reason) == (
        date(2026, 2, 10),
        "the old floor will do",
    )


def test_the_list_finds_what_is_at_each_stage_and_in_each_vessel(
    yard_client, survey, other_vessel, make_spec, deep_log, promise, people
):
    from restoration.models import Survey

    specs = {mark: make_spec(survey, mark) for mark in ("F1", "F2", "F3", "F4")}
    promise(specs["F2"], "L7-1", 0, 1200)
    for mark, start in (("F3", 0), ("F4", 1200)):
        record_cut(allotment=promise(specs[mark], "L7-2a", start, start + 1200), on=DAY, by="A")
    # Two lengths, one not cut yet: as far as the last of them.
    promise(specs["F3"], "L7-2b2", 0, 300)
    record_fitted(allotment=specs["F4"].allotments.get(), on=DAY, by="A")
    visit = Survey.objects.create(
        vessel=other_vessel, surveyed_on=DAY, place="Sallow Creek", lying="ashore",
        surveyor_name="P. Prober", methods="spike", not_reached="none",
        recorded_by=people["surveyor"],
    )  # fmt: skip
    make_spec(visit, "B7", kind="deck_beam")

    def marks(**query):
        page = yard_client.get(reverse("restoration:replacements"), query).context["page"]
        return [spec.finding.member.mark for spec in page]

    assert marks(stage="timber") == ["B7", "F1"]
    assert marks(stage="found") == ["F2", "F3"]
    assert marks(stage="cut") == []
    assert marks(stage="fitted") == ["F4"]
    assert marks(vessel=other_vessel.pk) == ["B7"]
    assert marks() == ["B7", "F1", "F2", "F3", "F4"]
    found = yard_client.get(reverse("restoration:replacements"), {"stage": "found"})
    for tag in ("L7-1", "L7-2a", "L7-2b2"):
        assert reverse("restoration:thread", args=[tag]) in found.content.decode()
    awaiting = ReplacementSpec.objects.awaiting_timber().along_the_hull()
    assert [spec.finding.member.mark for spec in awaiting] == ["B7", "F1"]


def test_the_list_offers_to_specify_what_is_to_be_replaced(yard_client, finding):
    page = yard_client.get(reverse("restoration:replacements"), {"stage": "specify"})
    assert reverse("restoration:spec_new", args=[finding.pk]) in page.content.decode()


def test_the_list_asks_no_more_of_the_database_for_many_than_for_few(
    yard_client, survey, make_spec, deep_log, promise
):
    def queries(**query):
        with CaptureQueriesContext(connection) as asked:
            yard_client.get(reverse("restoration:replacements"), query)
        return len(asked)

    promise(make_spec(survey, "F1"), "L7-1", 0, 300)
    few = queries()
    for n in range(2, 9):
        promise(make_spec(survey, f"F{n}"), "L7-1", 300 * n, 300 * n + 300)
    assert queries() == few


def test_replacements_are_listed_as_one_walks_the_hull(yard_client, survey, make_spec):
    for mark, kind in (("B1", "deck_beam"), ("F2", "floor_timber"), ("K1", "keel")):
        make_spec(survey, mark, kind)
    page = yard_client.get(reverse("restoration:replacements")).context["page"]
    assert [spec.finding.member.mark for spec in page] == ["K1", "F2", "B1"]


def test_an_open_specification_leads_to_a_cutting_list_and_then_to_the_list_it_is_on(
    client, people, survey, make_spec
):
    spec = make_spec(survey, "F12")
    drawing = f"{reverse('restoration:cutting_from_specs')}?spec={spec.pk}"
    client.force_login(people["surveyor"])
    assert drawing not in client.get(spec.get_absolute_url()).content.decode()
    client.force_login(people["yard"])
    assert drawing in client.get(spec.get_absolute_url()).content.decode()
    assert client.get(drawing).context["form"].chosen() == [str(spec.pk)]
    listed = CuttingList.objects.create(name="Oak for the spring")
    empty = client.get(listed.get_absolute_url()).content.decode()
    assert f"{reverse('restoration:cutting_from_specs')}?list={listed.pk}" in empty
    item = CuttingItem.objects.create(
        cutting_list=listed, label="F12", thickness_mm=70, width_mm=140, length_mm=1200, quantity=1
    )
    WantedTimber.objects.create(spec=spec, item=item)
    page = client.get(spec.get_absolute_url()).content.decode()
    assert drawing not in page
    assert listed.get_absolute_url() in page
