"""Vessels and clients in the browser: who sees what, and what a refused form keeps."""

from datetime import date

import pytest
from django.core.files.base import ContentFile
from django.utils import timezone

from restoration.models import Client, Finding, Member, Report, Survey, Vessel

DAY = date(2026, 3, 4)


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    return client


@pytest.fixture
def her_owner(client, people):
    client.force_login(people["client"])
    return client


@pytest.fixture
def stranger(woods):
    other = Client.objects.create(name="Błażej Ångström")
    return Vessel.objects.create(code="KIT", name="Kittiwake of Sallow", client=other)


def text(page):
    return page.content.decode()


def members(vessel, woods, first, last):
    return Member.objects.bulk_create(
        Member(
            vessel=vessel, kind="floor_timber" if n % 3 else "frame", mark=f"F{n}", number=n,
            wood=woods["oak_white"], sided_mm=60 + n, moulded_mm=127, length_mm=900,
        )
        for n in range(first, last)
    )  # fmt: skip


def survey_of(vessel, by):
    return Survey.objects.create(
        vessel=vessel, surveyed_on=DAY, place="Sallow Creek", lying="ashore",
        surveyor_name="P. Prober", methods="spike", not_reached="none", recorded_by=by,
    )  # fmt: skip


def find(survey, member, by, condition="3", measure=3):
    return Finding.objects.create(
        survey=survey, member=member, recorded_by=by, condition=condition, urgency=1,
        measure=measure,
    )  # fmt: skip


NEW = {"name": "Wader", "code": "wad", "client": "", "new_client": "", "construction": "carvel"}


def test_a_vessel_is_entered_with_every_particular_and_read_back_as_typed(yard, owner, woods):
    typed = NEW | {
        "client": owner.pk, "vessel_type": "yawl", "rig": "gunter", "designer": "D. Nobody",
        "builder": "Old Slip", "built_year": "1911", "built_place": "Sallow", "sail_number": "41",
        "official_number": "129884", "loa_mm": "32-0-1", "lwl_mm": "24 ft", "beam_mm": "2743 mm",
        "draught_mm": "5' 6\"", "planking_wood": woods["larch_european"].pk,
        "fastening_metal": "copper", "note": "mooring 4",
    }  # fmt: skip
    page = yard.post("/vessels/new/", typed)
    vessel = Vessel.objects.get()
    assert page.url == vessel.get_absolute_url()
    assert (vessel.code, vessel.client, vessel.built_year) == ("WAD", owner, 1911)
    assert vessel.loa_mm == pytest.approx(32 * 304.8 + 25.4 / 8)
    assert vessel.draught_mm == pytest.approx(66 * 25.4)
    assert 'value="32-0-1"' in text(yard.get(f"/vessels/{vessel.pk}/edit/"))
    shown = text(yard.get(page.url))
    for said in ("yawl", "gunter", "129884", "32 ft 0 1/8 in", "European larch", "mooring 4"):
        assert said in shown


def test_a_new_client_is_made_with_the_vessel(yard):
    yard.post("/vessels/new/", NEW | {"new_client": "Ysolde Penhaligan-Orme"})
    assert Vessel.objects.get().client.name == "Ysolde Penhaligan-Orme"


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({}, "Choose her client, or name a new one."),
        ({"new_client": "ottoline verhaag"}, "There is a client ottoline verhaag already"),
        ({"new_client": "N", "code": "ten"}, "Another vessel has this code."),
        ({"new_client": "N", "code": "T-1"}, "Two to eight capitals or figures."),
        ({"new_client": "N", "loa_mm": "24 ft", "lwl_mm": "25 ft"}, "cannot be longer than the"),
        ({"new_client": "N", "beam_mm": "0"}, "must be more than nothing"),
        ({"new_client": "N", "beam_mm": "wide"}, "“wide” is not a length that can be read"),
        ({"new_client": "N", "built_year": "911"}, "Give 1500 or more."),
    ],
)
def test_a_refused_vessel_says_why_and_keeps_what_was_typed(yard, vessel, changed, sentence):
    page = yard.post("/vessels/new/", NEW | {"rig": "spritsail", **changed})
    assert page.status_code == 422
    assert sentence in text(page)
    assert 'value="spritsail"' in text(page)
    assert (Vessel.objects.count(), Client.objects.count()) == (1, 1)


def test_a_client_and_a_new_one_cannot_both_be_named(yard, owner):
    page = yard.post("/vessels/new/", NEW | {"client": owner.pk, "new_client": "Another"})
    assert page.status_code == 422
    assert "not both" in text(page)


def test_a_client_sees_only_their_own_vessels(her_owner, vessel, stranger):
    shown = text(her_owner.get("/vessels/"))
    assert "Tenacious Wren" in shown
    assert "Kittiwake" not in shown
    assert her_owner.get(vessel.get_absolute_url()).status_code == 200
    assert her_owner.get(stranger.get_absolute_url()).status_code == 404


def test_a_client_sees_particulars_and_reports_but_no_work(
    her_owner, vessel, woods, people, django_assert_max_num_queries
):
    vessel.note = "owes for the slip"
    vessel.save()
    members(vessel, woods, 1, 4)
    survey = survey_of(vessel, people["surveyor"])
    Report.objects.create(
        vessel=vessel, survey=survey, number=1, issued_at=timezone.now(), sha256="0" * 64,
        issued_by=people["yard"], content={}, pdf=ContentFile(b"%PDF", name="one.pdf"),
    )  # fmt: skip
    page = her_owner.get(vessel.get_absolute_url())
    assert "32 ft" in text(page)
    assert "Report 1" in text(page)
    for hidden in ("owes for the slip", ">F1<", "/members/", "/surveys/", "/edit/", "How far she"):
        assert hidden not in text(page), hidden
    assert "groups" not in page.context
    assert "surveys" not in page.context


def test_no_link_on_a_clients_pages_leads_where_they_may_not_go(her_owner, vessel):
    for address in ("/vessels/", vessel.get_absolute_url()):
        for found in set(text(her_owner.get(address)).split('href="')[1:]):
            to = found.split('"')[0]
            if to.startswith("/") and not to.startswith("/static/"):
                assert her_owner.get(to).status_code == 200, to


def test_the_vessel_page_shows_members_by_group_with_their_newest_class(
    yard, vessel, woods, people
):
    floor, *_ = members(vessel, woods, 1, 4)
    keel = Member.objects.create(vessel=vessel, kind="keel", mark="K", material="iroko, unsure")
    survey = survey_of(vessel, people["surveyor"])
    find(survey, floor, people["surveyor"], "1", 1)
    find(survey, floor, people["surveyor"], "3", 3)
    page = yard.get(vessel.get_absolute_url())
    shown = text(page)
    assert list(page.context["groups"]) == ["Backbone", "Framing"]
    assert [kind.code for kind, _ in page.context["groups"]["Framing"]] == ["floor_timber", "frame"]
    headings = [shown.index(f">{title}</h3>") for title in ("Backbone", "Framing")]
    assert headings[0] < shown.index(keel.get_absolute_url()) < headings[1]
    assert "class-3" in shown
    assert "class-1" not in shown
    assert "to replace" in shown
    assert "2 13/32 in" not in shown  # sixteenths are this person's rule
    assert "iroko, unsure" in shown
    assert "Cross member tying the two sides" in shown  # the definition, beside the word


def test_the_queries_of_the_vessel_page_do_not_grow_with_members(
    yard, vessel, woods, people, django_assert_max_num_queries
):
    survey = survey_of(vessel, people["surveyor"])
    for member in members(vessel, woods, 1, 4):
        find(survey, Member.objects.get(pk=member.pk), people["surveyor"])
    yard.get(vessel.get_absolute_url())
    with django_assert_max_num_queries(99) as few:
        yard.get(vessel.get_absolute_url())
    for member in members(vessel, woods, 10, 70):
        find(survey, Member.objects.get(pk=member.pk), people["surveyor"])
    with django_assert_max_num_queries(len(few)) as many:
        page = yard.get(vessel.get_absolute_url())
    assert text(page).count("class-mark class-3") == 63
    assert len(many) == len(few) <= 9


def test_the_queries_of_the_vessel_list_do_not_grow_with_vessels(
    yard, vessel, owner, django_assert_max_num_queries
):
    yard.get("/vessels/")
    with django_assert_max_num_queries(9) as few:
        yard.get("/vessels/")
    for n in range(12):
        Vessel.objects.create(code=f"V{n}X", name=f"Vessel {n}", client=owner)
    with django_assert_max_num_queries(len(few)):
        yard.get("/vessels/")


def test_an_empty_register_says_what_to_do_next(yard, vessel):
    assert "/members/repeat/" in text(yard.get(vessel.get_absolute_url()))
    vessel.delete()
    assert "Enter the first" in text(yard.get("/vessels/"))


def test_clients_are_listed_entered_and_corrected(yard, owner, vessel):
    assert "Ottoline Verhaag" in text(yard.get("/clients/"))
    yard.post("/clients/new/", {"name": "Bertrand Quay", "email": "b@example.org"})
    new = Client.objects.get(email="b@example.org")
    yard.post(f"/clients/{new.pk}/edit/", {"name": "Bertram Quay", "telephone": "41"})
    assert Client.objects.get(pk=new.pk).name == "Bertram Quay"
    refused = yard.post("/clients/new/", {"name": "", "email": "not an address"})
    assert refused.status_code == 422
    assert 'value="not an address"' in text(refused)
