"""The vessel, her client and yard, the survey; its scope and limits."""

from reportlab.platypus import Flowable

from restoration.reports.content import ReportContent
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.letters import markup
from restoration.reports.pdf.parts import bold, marked, subheading, text, texts, title_block
from restoration.reports.pdf.words import (
    NOT_STATED,
    count,
    day,
    days,
    length,
    listed,
    sentence,
)


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
        text(_silent(silent) if members else "No member of the vessel is in the register yet."),
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
