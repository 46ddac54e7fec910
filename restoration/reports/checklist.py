"""What a survey report must state, point by point, and what is still missing from this one.

The points are merged in our own words from published guidance on survey reports: what a survey
provides (American Boat & Yacht Council), the Condition Assessment Scheme of IMO, section 9, a
surveyors' accreditation body's report criteria and guide notes for surveys of wooden vessels,
none of which was read to the end. The list names what is missing; a person decides.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from restoration.reports.content import MemberState, ReportContent
from restoration.reports.summary import NO_FINDING_WORDS, summarise

Missing = list[str]


@dataclass(frozen=True)
class Point:
    """One thing to be stated; nothing `missing` means it is."""

    what: str
    missing: tuple[str, ...]


def checklist(content: ReportContent, files_missing: Iterable[str] = ()) -> tuple[Point, ...]:
    """`files_missing` names photographs whose stored file cannot be read."""
    points = tuple(Point(what, tuple(ask(content))) for what, ask in _POINTS)
    lost = [f"the file of a photograph of {mark}" for mark in files_missing]
    return tuple(Point(p.what, (*p.missing, *lost)) if p.what == PHOTOGRAPHS else p for p in points)


def _blank(thing: object, **names: str) -> Missing:
    return [words for name, words in names.items() if getattr(thing, name) in ("", None)]


def _who(content: ReportContent) -> Missing:
    return _blank(content.client, address="the client's address") + _blank(
        content.survey,
        qualification="the surveyor's qualification and body",
        present="who else was present",
    )


def _what_for(content: ReportContent) -> Missing:
    return _blank(content.survey, scope="the reason and scope of the survey") + _blank(
        content, readers="for whom the report is meant"
    )


def _when_and_where(content: ReportContent) -> Missing:
    return _blank(content.survey, weather="the weather")


def _vessel(content: ReportContent) -> Missing:
    vessel = content.vessel
    missing = _blank(
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
        missing.append("an official or a sail number")
    bare = [m.mark for m in content.members if not m.material]
    return missing + _of_marks("the wood or material of", bare)


def _methods(content: ReportContent) -> Missing:
    readings = [
        m.mark for m in content.members if m.finding for r in m.finding.readings if not r.instrument
    ]
    return _blank(content.survey, methods="methods and instruments") + _of_marks(
        "the instrument of readings on", dict.fromkeys(readings)
    )


def _limits(content: ReportContent) -> Missing:
    silent = summarise(content).in_condition("").marks
    return _blank(content.survey, not_reached="what could not be reached") + _of_marks(
        f"a finding (or “not examined”, with the reason) for: {NO_FINDING_WORDS} of", silent
    )


def _findings(content: ReportContent) -> Missing:
    graded = _in_conditions(content, "1", "2", "3")
    failed = _in_conditions(content, "2", "3")
    unseen = [m.mark for m in graded if not m.finding.seen]
    uncaused = [m.mark for m in failed if not m.finding.causes]
    bare = [m.mark for m in graded if any(not c.evidence for c in m.finding.causes)]
    return [
        *([] if content.members else ["any member of the vessel"]),
        *_of_marks("what was seen of", unseen),
        *_of_marks("a cause, or that it is not established, for", uncaused),
        *_of_marks("the evidence for a cause on", bare),
    ]


def _photographs(content: ReportContent) -> Missing:
    failed = _in_conditions(content, "2", "3")
    return _of_marks("a photograph of", [m.mark for m in failed if not m.finding.pictures])


def _recommendations(content: ReportContent) -> Missing:
    specified = {r.mark for r in content.replacements}
    major = [m for m in content.members if m.finding and m.finding.measure == 3]
    return _of_marks(
        "a replacement specification, or why none, for",
        [m.mark for m in major if m.mark not in specified],
    )


def _remarks(content: ReportContent) -> Missing:
    return _blank(
        content,
        remarks="remarks: how her woods and fastenings are known (documented, seen, tested or "
        "assumed), which defects are being followed from survey to survey, when to look again",
    )


def _always(content: ReportContent) -> Missing:
    return []


def _in_conditions(content: ReportContent, *grades: str) -> list[MemberState]:
    return [m for m in content.members if m.condition in grades]


def _of_marks(what: str, marks: Iterable[str]) -> Missing:
    marks = list(marks)
    return [f"{what} {', '.join(marks)}"] if marks else []


PHOTOGRAPHS = "Photographs of each defect"
_POINTS: tuple[tuple[str, Callable[[ReportContent], Missing]], ...] = (
    ("Who: client, surveyor with qualification and body, people present", _who),
    ("What for: reason, scope, and for whom the report is meant", _what_for),
    ("When and where: dates, weather, place, afloat or ashore", _when_and_where),
    ("The vessel: type, builder, year, marks, sizes, construction, woods, fastenings", _vessel),
    ("Methods: tools, meters, samples", _methods),
    ("Limits: what could not be reached, opened or tested", _limits),
    ("Findings by member: condition, evidence, cause and its certainty", _findings),
    (PHOTOGRAPHS, _photographs),
    ("What is recommended, ranked by urgency, with replacements", _recommendations),
    ("How things are known, defects that progress, the next examination", _remarks),
    ("Sign-off: name, date, signature, that it is opinion, who may rely on it", _always),
    ("What is not included, yardstick and cautions", _always),
)
