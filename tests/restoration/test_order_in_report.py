"""The order of work in the client's report: the one in force, kept as it was, and on paper."""

import io
import json
from dataclasses import replace
from datetime import date

import pytest
from pypdf import PdfReader

from restoration.actions.orders_of_work import accept_order, fix_rule, propose_order
from restoration.actions.turns import keep_turn, move_member
from restoration.calc.turns_notes import ELSE
from restoration.models import Member
from restoration.reports.content import Standing
from restoration.reports.frozen import from_json, to_json
from restoration.reports.gather import report_content
from restoration.reports.pdf.chapters_order import _usual, order_sheet
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.survey_report import draw_report

pytestmark = pytest.mark.django_db
DAY = date(2026, 4, 7)


@pytest.fixture
def order(survey, people):
    """F1 to F4 in two turns, the first begun; F3 put beside a neighbour for a reason; F5 stays."""
    vessel, by = survey.vessel, people["yard"]
    Member.objects.bulk_create(
        Member(vessel=vessel, kind="floor_timber", mark=f"F{n}", number=n, station_from=n + 2)
        for n in range(1, 6)
    )
    members = {member.mark: member for member in vessel.members.all()}
    out = [members[mark] for mark in ("F1", "F2", "F3", "F4")]
    order = propose_order(vessel=vessel, members=out, most_out=3, by=by)
    fix_rule(order=order, kind="before", one=members["F1"], others=[members["F4"]], by=by)
    return order


def in_force(order, people):
    accept_order(order=order, by=people["yard"], on=DAY)
    place = order.places.get(member__mark="F3")
    move_member(place=place, to=2, by=people["yard"], reason="the cradle holds her")
    keep_turn(turn=order.turns.get(number=1), note="Poppets at the forefoot", begun_on=DAY)


def told(survey):
    standing = Standing(number=None, on=date(2026, 4, 9), by="P. Prober")
    return report_content(survey_id=survey.pk, standing=standing, units="imperial")


def paper(content):
    pages = PdfReader(io.BytesIO(draw_report(content, Pictures(lambda name: None)))).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_a_proposal_is_nobodys_decision_yet_and_is_not_told(survey, order):
    content = told(survey)
    assert content.order is None
    assert "Order of work" not in paper(content)


def test_the_order_in_force_is_told_with_what_stands_otherwise(survey, order, people):
    in_force(order, people)
    kept = told(survey).order
    assert [[out.mark for out in turn.members] for turn in kept.turns] == [
        ["F1"],
        ["F2", "F3", "F4"],
    ]
    assert kept.turns[0].state == "begun"
    assert kept.turns[1].members[1].reason == "the cradle holds her"
    assert kept.fixed == ("F1 before F4",)
    assert kept.not_as_asked[0].startswith("F3 is out in turn 2, and is a neighbour of F2")


def test_it_is_kept_with_the_report_and_a_report_from_before_it_still_opens(survey, order, people):
    in_force(order, people)
    content = told(survey)
    kept = json.loads(json.dumps(to_json(content)))
    assert from_json(kept) == content
    del kept["order"]
    old = from_json(kept)
    assert old.order is None
    assert "Order of work" not in paper(old)


def test_its_chapter_has_every_turn_with_the_usual_notes_and_the_caution(survey, order, people):
    in_force(order, people)
    said = paper(told(survey))
    assert "Order of work" in said
    assert "Turn 1: 1 out, begun 7 April 2026" in said
    assert "Poppets at the forefoot" in said
    assert "Put here although something stood against it: the cradle holds her" in said
    assert "Common practice, from memory" in said
    assert "A hull that slips off her shores kills." in said
    assert "Fixed by the yard: F1 before F4." in said


def test_her_sheet_shows_each_member_that_comes_out_by_hatch_and_by_turn(survey, order, people):
    in_force(order, people)
    shown = {item.title: item.state for item in order_sheet(told(survey)).items
             if getattr(item, "title", "")}  # fmt: skip
    assert shown["F1: turn 1, begun"] == "out"
    assert shown["F4: turn 2, to come"] == "later"
    assert shown["F5: stays in"] == ""


def test_the_line_above_what_is_usually_done_never_ends_a_page(order, people, survey):
    in_force(order, people)
    content = report_content(
        survey_id=survey.pk, standing=Standing(number=None, on=DAY, by="P. Prober"), units="metric"
    )
    story = _usual(content.order)
    said = [getattr(line, "text", "") for line in story]
    standing = next(n for n, line in enumerate(said) if "Common practice" in line)
    assert story[standing].stays_with_next
    assert not hasattr(story[-1], "stays_with_next")


def test_what_usually_holds_her_is_said_once_for_all_members_and_never_as_a_question(
    survey, order, people
):
    in_force(order, people)
    content = told(survey)
    assert sum(bool(turn.usual) for turn in content.order.turns) == 2
    ((note, marks),) = content.order.usual_once().items()
    assert marks == ["F1", "F2", "F3", "F4"]
    assert paper(content).count(note[:40]) == 1
    asked = replace(content.order.turns[0], usual=(f"F1 and F2: {ELSE}",))
    assert replace(content.order, turns=(asked,)).usual_once() == {}
