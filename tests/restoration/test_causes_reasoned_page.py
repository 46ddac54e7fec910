"""The reasoned list of causes, and the metals of a member on the galvanic scale."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from restoration.actions.findings import record_finding
from restoration.calc import evidence, vocabulary
from restoration.models import Fastening, Finding, Joint, Member, Reading


@pytest.fixture
def floor(vessel, woods):
    return Member.objects.create(
        vessel=vessel, kind="floor_timber", mark="F12", wood=woods["oak_white"]
    )


@pytest.fixture
def join(vessel, floor):
    def make(mark, *metals, material=""):
        other = Member.objects.create(vessel=vessel, kind="keel", mark=mark, material=material)
        joint = Joint.objects.create(one=floor, other=other)
        for metal in metals:
            Fastening.objects.create(joint=joint, kind="bolt", metal=metal)

    return make


@pytest.fixture
def surveyor(client, people):
    client.force_login(people["surveyor"])
    return client


@pytest.fixture
def ask(surveyor, survey, floor):
    address = reverse("restoration:causes_reasoned", args=[survey.pk, floor.pk])

    def get(seen=(), absent=(), **headers):
        said = {"ticked": "1", "seen": list(seen), "absent": list(absent)}
        return surveyor.get(address, said, **headers)

    return get


def names_in_order(page):
    names = {cause.name: page.find(f"<h3>{cause.name}") for cause in vocabulary.causes().values()}
    return sorted((n for n, at in names.items() if at >= 0), key=names.get)


def test_what_is_ticked_puts_the_causes_in_order_with_reasons_and_remedy(ask):
    page = ask(["iron_fastening", "sleeve_round_metal", "rust_streaks"]).content.decode()
    ranked = evidence.rank_causes(["iron_fastening", "sleeve_round_metal", "rust_streaks"])
    assert ranked[0].cause.code == "FASTENER_IRON"
    assert names_in_order(page)[:3] == [one.cause.name for one in ranked[:3]]
    for said in (
        "Damage is a sleeve round the metal", "several signs", "To tell it from", "Remedy:",
        ranked[0].question, "The surveyor names the cause and", "loose fastenings are not cured",
    ):  # fmt: skip
        assert said in page, said


def test_where_sources_differ_on_a_cause_both_are_shown_beside_it(ask):
    page = ask(["metal_bright"]).content.decode() + ask(["iron_fastening"]).content.decode()
    assert "Sources differ.</strong> Anodes and common bonding on a wooden hull:" in page
    assert "What an iron or steel fastening alone in wet wood makes" in page
    assert "take the pH of the wood beside the metal" in page


def test_one_weak_sign_leaves_the_cause_not_established_at_the_head(ask):
    page = ask(["musty_smell"]).content.decode()
    assert names_in_order(page)[0] == vocabulary.cause("UNKNOWN").name


def test_a_sign_ticked_both_ways_is_refused_with_a_sentence_and_keeps_the_ticks(ask):
    answer = ask(["lined_tunnels", "cubed_brown"], ["lined_tunnels"])
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "is ticked as there and as not there" in page
    assert page.count(" checked>") == 3


def test_every_sign_of_the_table_can_be_ticked_both_ways(ask):
    page = ask().content.decode()
    for sign in evidence.signs():
        assert f'name="seen" value="{sign}"' in page
        assert f'name="absent" value="{sign}"' in page


def test_a_sign_that_is_not_in_the_list_is_passed_over(ask):
    assert ask(["no_such_sign"]).status_code == 200


def test_a_tick_is_answered_with_the_list_alone(ask):
    page = ask(["cubed_brown"], HTTP_HX_REQUEST="true").content.decode()
    assert page.lstrip().startswith('<div id="ranked"')
    assert "<html" not in page


def test_the_answer_to_the_separating_question_is_one_press_away(ask, surveyor):
    page = ask(["cubed_brown"]).content.decode()
    best = evidence.rank_causes(["cubed_brown"])[0]
    assert f"seen={best.question_sign}" in page
    assert f"absent={best.question_sign}" in page


def test_a_cause_is_taken_over_into_a_new_finding_with_its_evidence(ask, surveyor, survey, floor):
    page = ask(["cubed_brown"], ["metal_at_centre"]).content.decode()
    form = reverse("restoration:finding_new", args=[survey.pk, floor.pk])
    assert f"{form}?cause=BROWN_ROT&amp;evidence=Seen" in page
    said = {"cause": "BROWN_ROT", "evidence": "Seen: cubes."}
    form_page = surveyor.get(form, said).content.decode()
    assert '<option value="BROWN_ROT" selected' in form_page
    assert "Seen: cubes." in form_page
    assert not Finding.objects.exists()


def test_a_cause_that_is_not_in_the_table_leaves_the_form_empty(surveyor, survey, floor):
    form = reverse("restoration:finding_new", args=[survey.pk, floor.pk])
    page = surveyor.get(form, {"cause": "GREMLINS", "evidence": "hoofprints"})
    assert page.status_code == 200
    assert "hoofprints" not in page.content.decode()


def test_metals_and_ph_already_recorded_are_ticked_when_the_page_is_opened(
    surveyor, survey, floor, people, join
):
    join("K", "wrought iron")
    finding = record_finding(
        finding=Finding(
            survey=survey, member=floor, recorded_by=people["surveyor"], condition="3",
            urgency=2, measure=3,
        ),
        readings=[Reading(kind="ph", value=9.6)],
    )  # fmt: skip
    address = reverse("restoration:causes_reasoned", args=[finding.pk])
    page = surveyor.get(address).content.decode()
    for sign in ("iron_fastening", "ph_alkaline"):
        assert f'name="seen" value="{sign}" checked' in page
    assert "Ticked already" in page
    assert page.count(" checked>") == 2
    assert " checked>" not in surveyor.get(address, {"ticked": "1"}).content.decode()


def test_a_member_of_another_vessel_is_not_found(surveyor, survey, other_vessel):
    stray = Member.objects.create(vessel=other_vessel, kind="keel", mark="K")
    address = reverse("restoration:causes_reasoned", args=[survey.pk, stray.pk])
    assert surveyor.get(address).status_code == 404


def test_metals_that_meet_are_drawn_in_a_named_series_with_what_to_beware_of(surveyor, floor, join):
    join("K", "silicon bronze", "galvanised steel", material="cast lead")
    page = surveyor.get(floor.get_absolute_url()).content.decode()
    for said in (
        'class="galvanic"', "Galvanised steel is the less noble", "V apart", "volts against",
        "A galvanic series tells which metal of a pair wastes, not how fast",
    ):  # fmt: skip
        assert said in page, said


def test_a_series_that_does_not_hold_a_metal_says_which_does(surveyor, floor, join):
    join("K", "silicon bronze", "galvanised steel")
    page = surveyor.get(floor.get_absolute_url(), {"series": "ACA"}).content.decode()
    assert "The series shown gives no value for: Galvanised steel: in " in page
    assert "Galvanised steel is the less noble" in page  # from a series that holds both
    assert "Not in the series shown, but in: " in page


def test_the_series_that_holds_most_of_the_metals_is_shown_and_no_couple_is_left_out(
    surveyor, floor, join
):
    join("K", "silicon bronze", "copper", "galvanised steel", material="cast lead")
    page = surveyor.get(floor.get_absolute_url()).content.decode()
    assert "The series shown gives no value for: Galvanised steel" in page
    assert "Silicon bronze with Galvanised steel" in page
    assert "Lead with Silicon bronze" in page


def test_a_metal_that_may_be_several_is_not_placed(surveyor, floor, join):
    join("K", "bronze")
    page = surveyor.get(floor.get_absolute_url()).content.decode()
    assert "not placed in the tables: say which metal it is" in page
    assert 'class="galvanic"' not in page


def test_a_member_with_no_metal_says_nothing_of_metals(surveyor, floor):
    assert "Metals that meet here" not in surveyor.get(floor.get_absolute_url()).content.decode()


def test_more_joints_ask_no_more_queries(surveyor, floor, survey, join):
    addresses = [
        floor.get_absolute_url(),
        reverse("restoration:causes_reasoned", args=[survey.pk, floor.pk]),
    ]

    def queries():
        with CaptureQueriesContext(connection) as counted:
            for address in addresses:
                assert surveyor.get(address).status_code == 200
        return len(counted)

    join("K", "iron")
    few = queries()
    for n in range(6):
        join(f"K{n}", "copper", "brass")
    assert queries() == few
