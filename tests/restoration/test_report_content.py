"""What a report says: gathered once, frozen without loss, summed up and checked for gaps."""

import json
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from restoration.actions.allotments import record_cut, record_fitted
from restoration.actions.samples import draw_sample, enter_results
from restoration.models import (
    FasteningSample,
    Finding,
    FindingCause,
    Member,
    Photograph,
    Reading,
    ReplacementSpec,
)
from restoration.reports.checklist import checklist
from restoration.reports.content import Standing
from restoration.reports.frozen import from_json, to_json
from restoration.reports.gather import report_content
from restoration.reports.summary import summarise

DRAFT = Standing(number=None, on=date(2026, 4, 9), by="P. Prober")


def gathered(survey, **given):
    return report_content(survey_id=survey.pk, standing=DRAFT, units="imperial", **given)


def find(survey, people, mark, kind="frame", condition="2", **given):
    member = Member.objects.create(vessel=survey.vessel, kind=kind, mark=mark)
    grades = {} if condition == "NE" else {"urgency": 1, "measure": 2}
    return Finding.objects.create(
        survey=survey, member=member, recorded_by=people["surveyor"], condition=condition,
        **(grades | given),
    )  # fmt: skip


@pytest.fixture
def told(survey, people, make_spec, deep_log, promise):
    """Floors, frames, a keel: one of every kind of thing a report may have to say."""
    spec = make_spec(survey, "F12")
    promise(spec, "L7-2b1", 100, 1300)
    ReplacementSpec.objects.filter(pk=spec.pk).update(
        hours_estimate=Decimal("12.5"), cost_estimate=Decimal("840.10")
    )
    broken = find(survey, people, "FR7P", seen="Cracked at the turn of the bilge.")
    FindingCause.objects.create(
        finding=broken, rank=1, cause="BROWN_ROT", certainty="probable", evidence="cubed"
    )
    Reading.objects.create(finding=broken, kind="probe", value=9, at_mm=300, instrument="spike")
    Photograph.objects.create(
        finding=broken, image="photographs/x.jpg", thumbnail="x", width_px=800, height_px=600,
        sha256="0" * 64, caption="the crack",
    )  # fmt: skip
    find(survey, people, "KB3", "keel_bolt", "NE", not_examined_reason="not drawn")
    Member.objects.create(vessel=survey.vessel, kind="keel", mark="K1")
    return survey


def test_what_is_frozen_comes_back_as_it_was(told):
    content = gathered(told, remarks="Þórdís said: ⅛ off")
    assert from_json(json.loads(json.dumps(to_json(content)))) == content


def test_members_stand_backbone_first_and_silence_is_not_a_finding(told):
    content = gathered(told)
    assert [m.mark for m in content.members] == ["K1", "KB3", "F12", "FR7P"]
    assert [m.condition for m in content.members] == ["", "NE", "3", "2"]
    summary = summarise(content)
    assert summary.in_condition("").marks == ("K1",)
    assert summary.in_condition("").word == "no finding recorded"
    assert summary.examined == 2


def test_only_the_newest_finding_of_a_member_in_this_survey_counts(told, people):
    member = Member.objects.get(mark="FR7P")
    Finding.objects.create(
        survey=told, member=member, recorded_by=people["surveyor"], condition="1", urgency=3,
        measure=1,
    )  # fmt: skip
    content = gathered(told)
    assert next(m for m in content.members if m.mark == "FR7P").condition == "1"
    assert summarise(content).worst_urgency.marks == ("F12", "FR7P")


def test_a_finding_that_was_copied_or_made_apart_is_told_from_either_side(told, people):
    broken = Finding.objects.get(member__mark="FR7P")
    find(told, people, "FR8P", copied_from=broken)
    ours = Finding.objects.create(
        survey=told, member=broken.member, recorded_by=people["yard"], condition="0", urgency=0,
        measure=0, made_apart_from=broken,
    )  # fmt: skip
    made = {m.mark: m.finding for m in gathered(told).members}
    assert (made["FR8P"].copied_from, made["FR7P"].copied_from) == ("FR7P", "")
    (other,) = made["FR7P"].apart
    assert (other.recorded_by, other.condition) == ("prober", "2")
    assert other.seen == "Cracked at the turn of the bilge."
    late = ours.recorded_at + timedelta(days=1)
    Finding.objects.filter(pk=broken.pk).update(recorded_at=late)
    (other,) = {m.mark: m.finding for m in gathered(told).members}["FR7P"].apart
    assert (other.recorded_by, other.condition, made["FR8P"].apart) == ("wright", "0", ())


def sampled(survey, people, **results):
    sample = FasteningSample(
        survey=survey, what="screws of the garboard", zone="underwater", tolerated=9,
        counted="from forward", bad_means="pink", confidence_percent=95, seed="windlass",
        made_by=people["surveyor"],
    )  # fmt: skip
    draw_sample(sample=sample, stations=[("4", 21), ("5", 39)], count=15)
    enter_results(
        sample_id=sample.pk, results={one["mark"]: "good" for one in sample.drawn} | results
    )
    return sample


def test_a_fastening_sample_is_told_with_what_it_says_of_those_left_in(told, people):
    sampled(told, people)
    content = gathered(told)
    (sample,) = content.samples
    assert "15 of 60 fastenings were chosen by lot: 15 good, 0 bad." in sample.sentence
    assert "at most 9 of the 45 still in the hull are bad" in sample.sentence
    assert [(one.state, one.count) for one in sample.marks] == [
        ("good", 15), ("may", 9), ("left", 36),
    ]  # fmt: skip
    assert "does not replace judgement" in sample.caution
    assert from_json(json.loads(json.dumps(to_json(content)))) == content


def test_estimates_are_added_exactly_and_what_has_none_is_counted(told, make_spec):
    for mark, cost in (("F13", "0.30"), ("F14", "0.00"), ("F15", None)):
        spec = make_spec(told, mark)
        ReplacementSpec.objects.filter(pk=spec.pk).update(cost_estimate=cost and Decimal(cost))
    summary = summarise(gathered(told))
    assert summary.all_work.cost == Decimal("840.40")
    assert (summary.all_work.count, summary.all_work.without_cost) == (4, 1)
    assert summary.all_work.without_hours == 3


def test_a_withdrawn_specification_is_not_in_the_schedule(told):
    ReplacementSpec.objects.update(withdrawn_on=date(2026, 4, 1))
    content = gathered(told)
    assert (content.replacements, content.threads) == ((), ())


def test_a_replacement_is_as_far_as_the_piece_that_is_least_far(told, promise):
    spec = ReplacementSpec.objects.get()
    first = spec.allotments.get()
    promise(spec, "L7-2a", 0, 900)
    record_cut(allotment=first, on=date(2026, 3, 1), by="Ansgar")
    record_fitted(allotment=first, on=date(2026, 3, 2), by="Ansgar")
    (replacement,) = gathered(told).replacements
    assert (replacement.stage, replacement.is_fitted) == ("allotted", False)


def test_the_thread_runs_from_the_log_to_the_board_the_member_took(told):
    (thread,) = gathered(told).threads
    assert [step.tag for step in thread.steps] == ["L7", "L7-2", "L7-2b", "L7-2b1"]
    assert thread.steps[0].came == "felled at Hangar Wood; from Aldermoor Sawing, Aldermoor"
    assert (thread.mark, thread.stage, thread.to_mm) == ("F12", "allotted", 1300)


def test_a_board_bought_sawn_says_from_whom(told, make_spec, bought_board, promise):
    promise(make_spec(told, "F3"), "Q3", 0, 1200)
    thread = next(t for t in gathered(told).threads if t.mark == "F3")
    assert [(s.tag, s.came) for s in thread.steps] == [("Q3", "bought sawn, from Drayhithe Timber")]


def test_each_source_is_named_once_with_what_it_was_used_for(told):
    sources = {source.code: source.used_for for source in gathered(told).sources}
    assert sources["EN16096-SCOPE"] == "the classes"
    assert "causes and remedies" in sources.values()


def test_a_report_that_tells_remedies_says_that_they_are_no_instruction(told):
    content = gathered(told)
    (frame,) = [member for member in content.members if member.mark == "FR7P"]
    assert frame.finding.causes[0].guidance
    (said,) = [words for words in content.words.cautions if "remedies" in words]
    assert "prompt, not an instruction" in said
    assert "local codes" in said
    assert "licensed practice" in said


def test_the_number_of_queries_does_not_grow_with_the_members(told, people, make_spec, promise):
    sampled(told, people)
    with CaptureQueriesContext(
        connection,
    ) as few:
        gathered(told)
    sampled(told, people)
    for n in range(20, 32):
        promise(make_spec(told, f"F{n}"), "L7-2a", 100 * n, 100 * n + 90)
        apart = find(told, people, f"FR{n}P", copied_from=Finding.objects.first())
        finding = Finding.objects.create(
            survey=told, member=apart.member, recorded_by=people["yard"], condition="1",
            urgency=1, measure=1, made_apart_from=apart, copied_from=Finding.objects.last(),
        )  # fmt: skip
        FindingCause.objects.create(
            finding=finding, rank=1, cause="BROWN_ROT", certainty="probable"
        )
    with CaptureQueriesContext(connection) as many:
        gathered(told)
    assert len(many) == len(few)


def missing(content, word):
    return [text for p in checklist(content) if word in p.what for text in p.missing]


def test_the_checklist_names_what_is_missing_by_mark(told):
    content = gathered(told)
    assert missing(content, "Limits")[0].endswith("no finding recorded of K1")
    assert missing(content, "Findings") == [
        "what was seen of F12",
        "a cause, or that it is not established, for F12",
    ]
    assert missing(content, "Photographs") == [
        "a general view of her: her picture, kept with her particulars",
        "a photograph of F12",
    ]
    assert missing(content, "recommended") == [
        "which of them concern her seaworthiness and which her upkeep (remarks)"
    ]
    assert "the surveyor's qualification and body" in missing(content, "Who")


def test_a_point_that_is_stated_has_nothing_missing(told):
    content = gathered(told, remarks="look again in spring")
    assert missing(content, "progress") == []
    told_more = replace(content, survey=replace(content.survey, weather="dry"))
    assert missing(content, "When") == ["the weather"]
    assert missing(told_more, "When") == []
