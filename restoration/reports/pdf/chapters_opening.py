"""The opening of the report: cover with contents, summary, identity, scope and limits."""

from collections.abc import Sequence

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Spacer

from restoration.reports.content import ReportContent
from restoration.reports.pdf.contents import Contents
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.letters import STAND_IN, markup, not_printable
from restoration.reports.pdf.marks import ClassMark
from restoration.reports.pdf.parts import bold, marked, subheading, text, texts, title_block
from restoration.reports.pdf.tables import Column, Row, schedule
from restoration.reports.pdf.words import (
    NOT_STATED,
    count,
    day,
    days,
    length,
    listed,
    money,
    sentence,
    shortened,
)
from restoration.reports.summary import Graded, Money, summarise


def cover(content: ReportContent, title: str, said: Sequence[str], width: float) -> list[Flowable]:
    """The title block of the whole report, and its contents. `said` is all its text."""
    survey, vessel = content.survey, content.vessel
    facts = [
        ("Client", content.client.name),
        ("Surveyed", days(survey.surveyed_on, survey.ended_on)),
        ("Where", f"{survey.place}, {survey.lying}"),
        ("Surveyor", survey.surveyor_name),
        ("Meant for", content.readers),
        ("Yard", content.yard.name),
    ]
    return [
        Spacer(1, 16 * mm),
        text(title, "title"),
        text(vessel.name, "name"),
        text(_state(content), "state"),
        title_block(facts, width),
        Spacer(1, 9 * mm),
        text("Contents", "heading_2"),
        Contents(),
        *_letters_note(said),
    ]


def _state(content: ReportContent) -> str:
    standing = content.standing
    if standing.is_draft:
        return f"DRAFT of {day(standing.on)}. Not issued: it may still change."
    replaced = f", in place of report {standing.supersedes}" if standing.supersedes else ""
    return f"Report {standing.number}, issued {day(standing.on)} by {standing.by}{replaced}."


def _letters_note(said: Sequence[str]) -> list[Flowable]:
    lost = not_printable(said)
    if not lost:
        return []
    return [
        Spacer(1, 6 * mm),
        text(
            f"The font of this report does not cover {count(len(lost), 'letter')} that it holds. "
            f"Each is printed as {STAND_IN}: {listed(lost, 12)}.",
            "small",
        ),
    ]


def summary(content: ReportContent, pictures: Pictures, width: float) -> list[Flowable]:
    in_short = summarise(content)
    return [
        text(_examined(content, in_short.examined)),
        _counts(in_short.conditions, width),
        *subheading("What presses"),
        *_urgency(in_short.worst_urgency),
        *subheading("What must be done"),
        *_graded_lines(in_short.measures, "No measure is recommended."),
        *_causes(in_short.causes),
        *subheading("What it may cost"),
        text(estimates(in_short.to_do, content.currency)),
        *subheading("What was not looked at"),
        *_not_looked_at(content, in_short.conditions),
    ]


def _examined(content: ReportContent, examined: int) -> str:
    survey = content.survey
    when = days(survey.surveyed_on, survey.ended_on)
    when = f"on {when}" if survey.ended_on in (None, survey.surveyed_on) else f"from {when}"
    recorded = count(len(content.members), "recorded member")
    return (
        f"{content.vessel.name} was surveyed {when} at {survey.place}, {survey.lying}, by "
        f"{survey.surveyor_name}. Of her {recorded}, {examined} "
        f"{'was' if examined == 1 else 'were'} examined and graded. The counts below are of "
        "members, by the class of condition that the surveyor set."
    )


def _counts(conditions: Sequence[Graded], width: float) -> Flowable:
    columns = [Column("Condition", 34), Column("Members", 18, figures=True), Column("Marks", 118)]
    rows = [
        Row([ClassMark(g.grade, g.word), str(len(g.members)), listed(g.marks, 30) or "–"])
        for g in conditions
    ]
    return schedule(columns, rows, width)


def _urgency(worst: Graded | None) -> list[Flowable]:
    if worst is None:
        return [text("No member was graded for urgency in this survey.")]
    return [
        marked(
            f"The worst urgency recorded is {bold(f'{worst.grade}, {worst.word}')}: "
            f"{markup(listed(worst.marks))}."
        )
    ]


def _graded_lines(graded: Sequence[Graded], otherwise: str) -> list[Flowable]:
    lines = [
        marked(f"{bold(f'{g.grade}, {g.word}')}: {markup(listed(g.marks))}.")
        for g in graded
        if g.members and g.grade != "0"
    ]
    return lines or [text(otherwise)]


def _causes(causes: Sequence[tuple[str, int]]) -> list[Flowable]:
    if not causes:
        return []
    named = [f"{name} ({count(members, 'member')})" for name, members in causes]
    return [text(f"Causes named first: {'; '.join(named)}.")]


def estimates(sum_of: Money, currency: str) -> str:
    if not sum_of.count:
        return "No replacement is open that has still to be fitted."
    said = (
        f"{count(sum_of.count, 'replacement')} still to be fitted: estimated at "
        f"{money(sum_of.cost, currency)} and {sum_of.hours:,} hours."
    )
    without = [
        f"{sum_of.without_cost} without an estimate of cost" if sum_of.without_cost else "",
        f"{sum_of.without_hours} without an estimate of hours" if sum_of.without_hours else "",
    ]
    lacking = " and ".join(part for part in without if part)
    return f"{said} These leave out {lacking}." if lacking else said


def _not_looked_at(content: ReportContent, conditions: Sequence[Graded]) -> list[Flowable]:
    unexamined, silent = conditions[-2:]
    lines = []
    if unexamined.members:
        lines.append(f"Not examined: {listed(unexamined.marks)}.")
    if silent.members:
        lines.append(f"No finding recorded in this survey: {listed(silent.marks)}.")
    if unreached := " ".join(content.survey.not_reached.split()):
        lines.append(f"Could not be reached: {sentence(shortened(unreached, 400))}")
    lines.append(
        "Nothing is known from this survey of what was not looked at; chapter 3 says more."
    )
    return [text(line) for line in lines]


def identity(content: ReportContent, pictures: Pictures, width: float) -> list[Flowable]:
    vessel = content.vessel
    return [
        *subheading("The vessel"),
        title_block(_vessel_facts(content), width, columns=4),
        *_titled("Notes on the vessel", vessel.note),
        *_titled("Remarks", content.remarks),
        *subheading("Client and yard"),
        title_block(_party_facts(content), width, columns=2),
        *subheading("The survey"),
        title_block(_survey_facts(content), width),
    ]


def _titled(title: str, words: str) -> list[Flowable]:
    return [*subheading(title), *texts(words)] if words.strip() else []


def _vessel_facts(content: ReportContent) -> list[tuple[str, str]]:
    v, units = content.vessel, content.units
    built = " at ".join(str(part) for part in (v.built_year, v.built_place) if part)
    facts = [
        ("Name", v.name),
        ("Code of her members' marks", v.code),
        ("Type", v.vessel_type),
        ("Rig", v.rig),
        ("Designer", v.designer),
        ("Builder", v.builder),
        ("Built", built),
        ("Official number", v.official_number),
        ("Sail number", v.sail_number),
        ("Length overall", length(v.loa_mm, units)),
        ("Waterline length", length(v.lwl_mm, units)),
        ("Beam", length(v.beam_mm, units)),
        ("Draught", length(v.draught_mm, units)),
        ("Construction", v.construction),
        ("Planking", v.planking_wood),
        ("Fastenings", v.fastening_metal),
    ]
    return [(label, value or NOT_STATED) for label, value in facts]


def _party_facts(content: ReportContent) -> list[tuple[str, str]]:
    client, yard = content.client, content.yard
    reach = "\n".join(part for part in (client.email, client.telephone) if part)
    facts = [
        ("Client", "\n".join(part for part in (client.name, client.address, reach) if part)),
        ("Yard", "\n".join(part for part in (yard.name, yard.address) if part)),
    ]
    return [(label, value or NOT_STATED) for label, value in facts]


def _survey_facts(content: ReportContent) -> list[tuple[str, str]]:
    s = content.survey
    facts = [
        ("Surveyed", days(s.surveyed_on, s.ended_on)),
        ("Place", s.place),
        ("Lying", s.lying),
        ("Surveyor", s.surveyor_name),
        ("Qualification and body", s.qualification),
        ("Also present", s.present),
        ("Weather", s.weather),
        ("Report drawn up", day(content.standing.on)),
        ("Meant for", content.readers),
    ]
    return [(label, value or NOT_STATED) for label, value in facts]


def limits(content: ReportContent, pictures: Pictures, width: float) -> list[Flowable]:
    survey, members = content.survey, content.members
    unexamined = [m for m in members if m.condition == "NE"]
    silent = [m for m in members if m.finding is None]
    return [
        *subheading("Reason and scope"),
        *(texts(survey.scope) or [text(sentence(NOT_STATED))]),
        *subheading("What could not be reached"),
        *(texts(survey.not_reached) or [text(sentence(NOT_STATED))]),
        *subheading("Members not examined"),
        *[
            marked(f"{bold(m.mark)} {markup(m.term)}: {markup(_reason(m.finding))}", "small")
            for m in unexamined
        ],
        *([] if unexamined else [text("None is recorded as not examined.")]),
        *subheading("Members with no finding recorded"),
        text(_silent(silent)),
        *subheading("Not included"),
        text(content.words.not_included),
    ]


def _reason(finding) -> str:
    return sentence(finding.not_examined_reason)


def _silent(silent) -> str:
    if not silent:
        return "Every member in the register has a finding in this survey."
    marks = listed([m.mark for m in silent], 400)
    return (
        f"{count(len(silent), 'member')}: {marks}. This survey says nothing of them, for good or "
        "ill."
    )
