"""Every point a survey report must state, taken away one at a time: the list names each."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from restoration.reports import wording
from restoration.reports.checklist import checklist
from restoration.reports.content import (
    CauseNamed,
    FindingMade,
    MemberState,
    Party,
    PictureTaken,
    ReadingTaken,
    Replacement,
    ReportContent,
    Standing,
    SurveyFacts,
    VesselFacts,
)

DAY = date(2026, 3, 4)
PICTURE = PictureTaken("p.jpg", "0" * 64, 1600, 1200, "the crack; number F 12 beside it", DAY)
FINDING = FindingMade(
    "3", "major", 3, "urgent", 3, "major intervention", "", "Soft.", None, None, DAY, "P. Prober",
    (CauseNamed(1, "BROWN_ROT", "Brown rot", "probable", "cubed", "", ""),),
    (ReadingTaken("moisture", 31.0, "", None, "pin meter"),), (PICTURE,),
)  # fmt: skip
MEMBER = MemberState(
    "F12", "floor timber", "transverse", "centreline", 12.0, None, 63.5, 127.0, 1066.8,
    "white oak", FINDING,
)  # fmt: skip
SPEC = Replacement(
    "F12", "floor timber", "transverse", DAY, "white oak", (), 63.5, 127.0, 1066.8, "quarter-sawn",
    "", True, False, "green", None, "", "", Decimal(10), Decimal(900), "allotted", False,
)  # fmt: skip
COMPLETE = ReportContent(
    Standing(None, DAY, "W. Right"), "metric", "NOK", Party("Yard", "Slip"),
    Party("Ottoline Verhaag", "Mill Lane 4"),
    VesselFacts("TEN", "Tenacious Wren", "sloop", "gaff", "", "A. Builder", 1931, "Port Osmund",
                "F 12", "", 9753.6, 7315.0, 2700.0, 1500.0, "carvel", "larch", "copper", ""),
    SurveyFacts(DAY, None, "Sallow Creek", "ashore", "P. Prober", "surveyor, of a body",
                "the owner", "dry", "Before she is bought; nine days ashore.",
                "Spike, hammer, pin meter set to oak.", "Behind the tank."),
    "Ottoline Verhaag",
    "Woods seen, fastenings assumed. F12 concerns her seaworthiness. Look again in spring.",
    (MEMBER,), (SPEC,), (), (), wording.fixed_words(), cover=PICTURE,
)  # fmt: skip


def found(content):
    return {point.what: point.missing for point in checklist(content) if point.missing}


def with_survey(**given):
    return replace(COMPLETE, survey=replace(COMPLETE.survey, **given))


def with_vessel(**given):
    return replace(COMPLETE, vessel=replace(COMPLETE.vessel, **given))


def with_finding(**given):
    return replace(COMPLETE, members=(replace(MEMBER, finding=replace(FINDING, **given)),))


def test_a_report_that_states_everything_lacks_nothing_on_any_of_the_thirteen_points():
    assert found(COMPLETE) == {}
    assert len(checklist(COMPLETE)) == 13


LACKING = {
    "the client's address": replace(COMPLETE, client=Party("O. Verhaag", "")),
    "the surveyor's qualification and body": with_survey(qualification=""),
    "who else was present": with_survey(present=""),
    "the reason and scope": with_survey(scope="", methods="set; nine days ashore"),
    "for whom": replace(COMPLETE, readers=""),
    "the weather": with_survey(weather=""),
    "the place": with_survey(place=""),
    "how long she had been ashore": with_survey(scope="Before she is bought."),
    "the year she was built": with_vessel(built_year=None),
    "her draught": with_vessel(draught_mm=None),
    "the metal of her fastenings": with_vessel(fastening_metal=""),
    "an official or a sail number": with_vessel(official_number=""),
    "the wood or material of F12": replace(COMPLETE, members=(replace(MEMBER, material=""),)),
    "how her woods and fastenings are known": replace(
        COMPLETE, remarks="F12 concerns her seaworthiness. Look again in spring."
    ),
    "methods and instruments": with_survey(methods=""),
    "the instrument of readings on F12": with_finding(
        readings=(ReadingTaken("probe", 9.0, "", None, ""),)
    ),
    "the setting of the moisture meter": with_survey(methods="Spike, hammer, pin meter."),
    "what could not be reached": with_survey(not_reached=""),
    "no finding recorded of F12": replace(COMPLETE, members=(replace(MEMBER, finding=None),)),
    "why it was not examined: F12": with_finding(condition="NE", urgency=None, measure=None),
    "any member of the vessel": replace(COMPLETE, members=()),
    "what was seen of F12": with_finding(seen=""),
    "a cause, or that it is not established": with_finding(causes=()),
    "the evidence for a cause on F12": with_finding(
        causes=(replace(FINDING.causes[0], evidence=""),)
    ),
    "a general view of her": replace(COMPLETE, cover=None),
    "a photograph of F12": with_finding(pictures=()),
    "a photograph of her hull number (F 12)": with_finding(
        pictures=(replace(PICTURE, caption="the crack"),)
    ),
    "how urgent it is": with_finding(urgency=None),
    "a replacement specification, or why none, for F12": replace(COMPLETE, replacements=()),
    "which of them concern her seaworthiness": replace(COMPLETE, remarks="Woods seen."),
    "what is followed from survey to survey, and when to look again, of F12": replace(
        COMPLETE, remarks=""
    ),
}


@pytest.mark.parametrize("named", LACKING)
def test_what_is_taken_away_is_named(named):
    said = [text for missing in found(LACKING[named]).values() for text in missing]
    assert any(named in text for text in said), said


def test_a_photograph_whose_file_is_lost_is_named_with_its_member():
    points = checklist(COMPLETE, files_missing=["F12"])
    said = [text for point in points for text in point.missing]
    assert said == ["the file of a photograph of F12"]
