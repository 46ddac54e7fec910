"""What a survey report must state, point by point, and what is still missing from this one.

The points are merged in our own words from published guidance on survey reports: what a survey
provides (American Boat & Yacht Council), the Condition Assessment Scheme of IMO, section 9, a
surveyors' accreditation body's report criteria and guide notes for surveys of wooden vessels,
none of which was read to the end. The list names what is missing; a person decides.
"""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from restoration.reports.content import MemberState, ReportContent
from restoration.reports.summary import NO_FINDING_WORDS, pictures_of, summarise

PROGRESSIVE = {
    "FASTENER_IRON", "ALKALI_CATHODE", "DEZINC", "BROWN_ROT", "WHITE_ROT", "SOFT_ROT",
    "DECAY_EARLY", "SHIPWORM", "GRIBBLE", "BORER_PHOLAD",
}  # fmt: skip
"""Causes that go on after the survey: rot, worm, and the wasting of metal."""


@dataclass(frozen=True)
class Lack:
    """What is missing, of which members, and `where` it is put right: one of the names below."""

    what: str
    where: str
    marks: tuple[str, ...] = ()

    @property
    def text(self) -> str:
        return f"{self.what} {', '.join(self.marks)}" if self.marks else self.what


Missing = list[Lack]
CLIENT, VESSEL, SURVEY, ROUND, ISSUE = "client", "vessel", "survey", "round", "issue"
MEMBER, FINDING, SPEC, PICTURES = "member", "finding", "spec", "pictures"  # one for each mark


@dataclass(frozen=True)
class Point:
    """One thing to be stated; nothing that `lacks` means it is."""

    what: str
    lacks: tuple[Lack, ...]

    @property
    def missing(self) -> tuple[str, ...]:
        return tuple(lack.text for lack in self.lacks)


def checklist(content: ReportContent, files_missing: Iterable[str] = ()) -> tuple[Point, ...]:
    """`files_missing` names photographs whose stored file cannot be read."""
    points = tuple(Point(what, tuple(ask(content))) for what, ask in _POINTS)
    lost = [Lack("the file of a photograph of", PICTURES, (mark,)) for mark in files_missing]
    return tuple(Point(p.what, (*p.lacks, *lost)) if p.what == PHOTOGRAPHS else p for p in points)


def _blank(where: str, thing: object, **names: str) -> Missing:
    return [
        Lack(words, where) for name, words in names.items() if getattr(thing, name) in ("", None)
    ]


def _who(content: ReportContent) -> Missing:
    return _blank(CLIENT, content.client, address="the client's address") + _blank(
        SURVEY,
        content.survey,
        surveyor_name="the surveyor",
        qualification="the surveyor's qualification and body",
        present="who else was present (the owner or an agent)",
    )


def _what_for(content: ReportContent) -> Missing:
    return _blank(SURVEY, content.survey, scope="the reason and scope of the survey") + _blank(
        ISSUE, content, readers="for whom the report is meant"
    )


def _when(content: ReportContent) -> Missing:
    return _blank(SURVEY, content.survey, weather="the weather")


def _where(content: ReportContent) -> Missing:
    """A hull that has dried ashore shows other seams and moistures than one just lifted."""
    survey = content.survey
    missing = _blank(SURVEY, survey, place="the place")
    told = " ".join((survey.scope, survey.methods, survey.weather, content.remarks)).lower()
    if "ashore" in survey.lying and not re.search(r"\b(days?|weeks?|months?|years?)\b", told):
        missing.append(Lack("how long she had been ashore (say it in the remarks)", ISSUE))
    return missing


def _vessel(content: ReportContent) -> Missing:
    vessel = content.vessel
    missing = _blank(
        VESSEL,
        vessel,
        vessel_type="her type",
        builder="her builder",
        built_year="the year she was built",
        loa_mm="her length overall",
        beam_mm="her beam",
        draught_mm="her draught",
        planking_wood="the wood of her planking",
        fastening_metal="the metal of her fastenings",
    )
    if not (vessel.official_number or vessel.sail_number):
        missing.append(Lack("an official or a sail number", VESSEL))
    bare = [m.mark for m in content.members if not m.material]
    missing += _of_marks("the wood or material of", bare, MEMBER)
    if not re.search("document|seen|tested|assumed", content.remarks.lower()):
        said = "documented, seen, tested or assumed (say it in the remarks)"
        missing.append(Lack(f"how her woods and fastenings are known: {said}", ISSUE))
    return missing


def _methods(content: ReportContent) -> Missing:
    taken = [(m.mark, r) for m in content.members if m.finding for r in m.finding.readings]
    bare = dict.fromkeys(mark for mark, reading in taken if not reading.instrument)
    missing = _blank(SURVEY, content.survey, methods="methods and instruments")
    missing += _of_marks("the instrument of readings on", bare)
    by_meter = any(reading.kind == "moisture" for _, reading in taken)
    said = " ".join([content.survey.methods, *(reading.instrument for _, reading in taken)])
    if by_meter and not re.search(r"\bset(ting)?\b|corrected", said.lower()):
        missing.append(Lack("the setting of the moisture meter", SURVEY))
    return missing


def _limits(content: ReportContent) -> Missing:
    silent = summarise(content).in_condition("").marks
    unreasoned = [
        m.mark for m in _in_conditions(content, "NE") if not m.finding.not_examined_reason.strip()
    ]
    return [
        *_blank(
            SURVEY,
            content.survey,
            not_reached="what could not be reached, opened or tested: linings, paint, ballast, "
            "cargo; and what was opened and put back",
        ),
        *_of_marks(
            f"a finding (or “not examined”, with the reason) for: {NO_FINDING_WORDS} of", silent
        ),
        *_of_marks("why it was not examined:", unreasoned),
    ]


def _findings(content: ReportContent) -> Missing:
    graded = _in_conditions(content, "1", "2", "3")
    failed = _in_conditions(content, "2", "3")
    unseen = [m.mark for m in graded if not m.finding.seen]
    uncaused = [m.mark for m in failed if not m.finding.causes]
    bare = [m.mark for m in graded if any(not c.evidence for c in m.finding.causes)]
    return [
        *([] if content.members else [Lack("any member of the vessel", VESSEL)]),
        *_of_marks("what was seen of", unseen),
        *_of_marks("a cause, or that it is not established, for", uncaused),
        *_of_marks("the evidence for a cause on", bare),
    ]


def _photographs(content: ReportContent) -> Missing:
    failed = _in_conditions(content, "2", "3")
    missing = _of_marks("a photograph of", [m.mark for m in failed if not m.finding.pictures])
    if content.cover is None:
        view = "a general view of her: her picture, kept with her particulars"
        missing.insert(0, Lack(view, VESSEL))
    number = content.vessel.official_number
    captions = " ".join(picture.caption for picture in pictures_of(content.members)).lower()
    if number and number.lower() not in captions and "number" not in captions:
        missing.append(Lack(f"a photograph of her hull number ({number})", ROUND))
    return missing


def _recommendations(content: ReportContent) -> Missing:
    specified = {r.mark for r in content.replacements}
    graded = _in_conditions(content, "1", "2", "3")
    unranked = [m.mark for m in graded if None in (m.finding.urgency, m.finding.measure)]
    major = [m for m in content.members if m.finding and m.finding.measure == 3]
    missing = _of_marks("how urgent it is and what is recommended for", unranked)
    missing += _of_marks(
        "a replacement specification, or why none, for",
        [m.mark for m in major if m.mark not in specified],
        SPEC,
    )
    if major and "seaworth" not in content.remarks.lower():
        which = "which of them concern her seaworthiness and which her upkeep (remarks)"
        missing.append(Lack(which, ISSUE))
    return missing


def _progressive(content: ReportContent) -> Missing:
    """Rot, worm and the sickness of iron go on after the survey."""
    going_on = [
        m.mark
        for m in content.members
        if m.finding and any(c.code in PROGRESSIVE for c in m.finding.causes)
    ]
    if going_on and not content.remarks.strip():
        followed = "what is followed from survey to survey, and when to look again, of"
        return _of_marks(followed, going_on, ISSUE)
    return _blank(ISSUE, content, remarks="remarks: when to look again")


def _always(content: ReportContent) -> Missing:
    return []


def _in_conditions(content: ReportContent, *grades: str) -> list[MemberState]:
    return [m for m in content.members if m.condition in grades]


def _of_marks(what: str, marks: Iterable[str], where: str = FINDING) -> Missing:
    marks = tuple(marks)
    return [Lack(what, where, marks)] if marks else []


PHOTOGRAPHS = "Photographs: a general view, each defect, the hull number"
_POINTS: tuple[tuple[str, Callable[[ReportContent], Missing]], ...] = (
    ("Who: client, surveyor with qualification and body, people present", _who),
    ("What for: reason, scope, for whom it is meant, the yardstick", _what_for),
    ("When: dates on board, date of the report, weather", _when),
    ("Where: place, afloat or ashore, days ashore", _where),
    ("The vessel: type, builder, year, marks, sizes, construction, woods, fastenings and how "
     "each is known", _vessel),
    ("Methods: tools, meters with their settings, samples", _methods),
    ("Limits: what could not be reached, opened or tested", _limits),
    ("Findings by member: condition, evidence, cause and its certainty", _findings),
    (PHOTOGRAPHS, _photographs),
    ("What is recommended, ranked by urgency, and whether it concerns seaworthiness or upkeep",
     _recommendations),
    ("Defects that progress, and the next examination", _progressive),
    ("Sign-off: name, date, signature, that it is opinion, who may rely on it", _always),
    ("What is not included, and the cautions", _always),
)  # fmt: skip
