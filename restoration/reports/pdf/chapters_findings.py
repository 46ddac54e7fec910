"""Every member with its condition, and what was found of each."""

from itertools import count as counter

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Spacer

from restoration.reports.content import (
    ClassWords,
    FindingMade,
    FixedWords,
    MemberState,
    ReadingTaken,
    ReportContent,
)
from restoration.reports.links import condition_key, finding_key
from restoration.reports.pdf.figures import Pictures, photographs
from restoration.reports.pdf.keeping import Kept, WithPicture, stays
from restoration.reports.pdf.letters import markup
from restoration.reports.pdf.marks import ClassMark
from restoration.reports.pdf.parts import (
    Heading,
    bold,
    heading,
    link,
    marked,
    seen,
    subheading,
    text,
    texts,
)
from restoration.reports.pdf.tables import Column, Row, schedule
from restoration.reports.pdf.words import day, exact, length, number, sentence, sizes
from restoration.reports.summary import NO_FINDING_WORDS, areas

WHOLE = 90 * mm
"""A finding without photographs is not broken over pages if it is no taller."""
NOTHING = "No member of the vessel is in the register yet."
READING_NAMES = {
    "probe": "probe or drill depth",
    "moisture": "moisture",
    "sounding": "sounding",
    "bolt": "remaining bolt diameter",
    "ph": "pH",
}


def members(content: ReportContent, pictures: Pictures, width: float) -> list[Flowable]:
    story: list[Flowable] = [
        text(content.words.grading_standing, "small"),
        _classes(content.words, width),
    ]
    for area, ones in areas(content.members).items():
        story += heading(f"{area.capitalize()} members", 1, f"members_{area}", room=40 * mm)
        story.append(_member_table(ones, content.units, width))
    return story if content.members else [*story, text(NOTHING)]


def _classes(words: FixedWords, width: float) -> Flowable:
    """What the classes mean, side by side: condition, urgency, measure."""
    columns = [Column("Condition", 58), Column("Urgency", 52), Column("Recommended measure", 60)]
    rows = []
    for n, condition in enumerate(words.conditions):
        mark = ClassMark(condition.grade, condition.label)
        beside = (words.urgencies, words.measures)
        others = [_class_words(c[n]) if n < len(c) else "" for c in beside]
        rows.append(Row([[mark, Spacer(1, 2), text(condition.meaning, "cell")], *others]))
    return schedule(columns, rows, width)


def _class_words(c: ClassWords) -> Flowable:
    return marked(f"{bold(f'{c.grade} {c.label}')}<br/>{markup(c.meaning)}", "cell")


def _member_table(ones: list[MemberState], units: str, width: float) -> Flowable:
    columns = [
        Column("Mark", 17),
        Column("Member", 40),
        Column("Wood or material", 36),
        Column("Condition", 30),
        Column("Urgency", 23),
        Column("Measure", 24),
    ]
    return schedule(columns, [_member_row(m, units) for m in ones], width)


def _member_row(m: MemberState, units: str) -> Row:
    f = m.finding
    opening = seen(m.mark, "condition", condition_key(m.mark))
    mark = opening + (link(m.mark, finding_key(m.mark)) if f else bold(m.mark))
    return Row(
        [
            marked(mark, "cell"),
            "\n".join(part for part in (m.term, where(m)) if part),
            m.material or "not stated",
            ClassMark(f.condition, f.condition_word) if f else ClassMark("", NO_FINDING_WORDS),
            _grade(f.urgency, f.urgency_word) if f else "",
            _grade(f.measure, f.measure_word) if f else "",
        ]
    )


def _grade(grade: int | None, word: str) -> str:
    return "–" if grade is None else f"{grade} {word}"


def where(m: MemberState) -> str:
    """Port, stations 4 to 6: only what is known and says something."""
    side = "" if m.side == "centreline" else m.side
    stations = ""
    if m.station_from is not None:
        stations = f"station {number(m.station_from)}"
        if m.station_to not in (None, m.station_from):
            stations = f"stations {number(m.station_from)} to {number(m.station_to)}"
    return ", ".join(part for part in (side, stations) if part)


def findings(content: ReportContent, pictures: Pictures, width: float) -> list[Flowable]:
    found = [m for m in content.members if m.finding]
    if not found:
        return [
            text("This survey has recorded no finding. Nothing is known from it of any member.")
        ]
    story: list[Flowable] = []
    numbers = counter(1)
    for area, ones in areas(found).items():
        story += heading(f"Findings: {area} members", 1, f"findings_{area}", room=60 * mm)
        for member in ones:
            if not says_nothing_more(member.finding):
                story += _finding(member, content.units, pictures, numbers, width)
        story += _nothing_more([m for m in ones if says_nothing_more(m.finding)])
    return story


def says_nothing_more(f: FindingMade) -> bool:
    """Class 0, nothing pressing or to be done, and nothing else written down."""
    graded = (f.condition, f.urgency, f.measure) == ("0", 0, 0)
    more = f.seen.strip() or f.causes or f.readings or f.pictures or f.copied_from or f.apart
    return graded and not more


def _nothing_more(ones: list[MemberState]) -> list[Flowable]:
    """Said in one paragraph; each mark in it is where the table of members leads to."""
    if not ones:
        return []
    marks = [f"{seen(m.mark, 'finding', finding_key(m.mark))}{markup(m.mark)}" for m in ones]
    return [
        *subheading("Examined, nothing found by the methods used"),
        marked(
            f"{', '.join(marks)}: condition 0, urgency 0, measure 0, and nothing more is recorded."
        ),
    ]


def _finding(m: MemberState, units: str, pictures: Pictures, numbers, width: float):
    f = m.finding
    title = " · ".join(part for part in (f"{m.mark} {m.term}", where(m)) if part)
    opening = seen(m.mark, "finding")
    told = [
        Heading(title, 2, finding_key(m.mark), in_contents=False, opening=opening),
        stays(_strip(m, f, units, width)),
        *_how_it_came(m, f),
        *texts(f.seen),
        *_not_examined(f),
        *_causes(f),
        *_readings(f, units, width),
    ]
    shown = _pictures(m, f, pictures, numbers, width)
    return [WithPicture([*told, shown[0]]), *shown[1:]] if shown else [Kept(told, WHOLE)]


def _strip(m: MemberState, f: FindingMade, units: str, width: float) -> Flowable:
    """One row of particulars: the three classes, how far it reaches, what the member is."""
    columns = [
        Column("Condition", 33),
        Column("Urgency", 27),
        Column("Measure", 32),
        Column("Extent", 34),
        Column("Wood and size", 44),
    ]
    made = [m.material, ", ".join(sizes(units, m.sided_mm, m.moulded_mm, m.length_mm))]
    cells = [
        ClassMark(f.condition, f.condition_word),
        _grade(f.urgency, f.urgency_word),
        _grade(f.measure, f.measure_word),
        _extent(f, units),
        "\n".join(part for part in made if part) or "not stated",
    ]
    return schedule(columns, [Row(cells)], width)


def _extent(f: FindingMade, units: str) -> str:
    if f.extent_from_mm is None:
        return "not stated"
    return f"{length(f.extent_from_mm, units)} to {length(f.extent_to_mm, units)}"


def _how_it_came(m: MemberState, f: FindingMade) -> list[Flowable]:
    """What a reader must know to weigh it: not seen here first, or not the only one that stands."""
    story: list[Flowable] = []
    if f.copied_from:
        story.append(
            text(
                f"Copied from the finding of {f.copied_from}: the classes, what was seen and the "
                "causes are as entered there. Nothing was measured or photographed in copying."
            )
        )
    for other in f.apart:
        seen = f" Seen: {sentence(other.seen)}" if other.seen.strip() else ""
        story.append(
            text(
                f"Of {m.mark} {other.recorded_by} entered another finding in this survey, on "
                f"{day(other.recorded_on)}: condition {other.condition}, {other.condition_word}."
                f"{seen} Neither knew of the other, and both stand."
            )
        )
    return story


def _not_examined(f: FindingMade) -> list[Flowable]:
    if f.condition != "NE":
        return []
    return [text(f"Not examined: {sentence(f.not_examined_reason)} Its condition is not known.")]


def _causes(f: FindingMade) -> list[Flowable]:
    """The surveyor's causes in their order, each with how sure and on what evidence.

    Guidance stands once, with the cause, in the chapter on causes.
    """
    story: list[Flowable] = []
    for cause in f.causes:
        evidence = sentence(cause.evidence) or "none stated."
        said = f"Cause {cause.rank}: {bold(cause.name)} – {markup(cause.certainty)}."
        story.append(marked(f"{said} Evidence: {markup(evidence)}"))
    return story


def _readings(f: FindingMade, units: str, width: float) -> list[Flowable]:
    if not f.readings:
        return []
    columns = [
        Column("Reading", 46),
        Column("Value", 50),
        Column("How far along", 32),
        Column("Instrument", 42),
    ]
    rows = [
        Row(
            [
                READING_NAMES.get(r.kind, r.kind),
                _value(r, units),
                length(r.at_mm, units),
                r.instrument or "not stated",
            ]
        )
        for r in f.readings
    ]
    return [schedule(columns, rows, width)]


def _value(r: ReadingTaken, units: str) -> str:
    figure = ""
    if r.value is not None:
        if r.kind in ("probe", "bolt"):
            figure = exact(r.value, units)
        else:
            figure = f"{number(r.value)} %" if r.kind == "moisture" else number(r.value)
    return ", ".join(part for part in (figure, r.words) if part)


def _pictures(m: MemberState, f: FindingMade, store: Pictures, numbers, width: float):
    captions = []
    for picture in f.pictures:
        taken = f", taken {day(picture.taken_on)}" if picture.taken_on else ""
        says = f": {picture.caption}" if picture.caption else ""
        captions.append(f"Photograph {next(numbers)}. {m.mark}{says}{taken}")
    return photographs(f.pictures, captions, store, width) if captions else []
