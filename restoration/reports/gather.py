"""Rows into the plain facts of one survey report. The number of queries does not grow."""

from restoration.calc import vocabulary
from restoration.models import Client, Survey, Vessel, Yard
from restoration.reports import wording
from restoration.reports.content import (
    MemberState,
    Party,
    PictureTaken,
    ReportContent,
    SourceUsed,
    Standing,
    SurveyFacts,
    VesselFacts,
)
from restoration.reports.gather_hull import hull_facts
from restoration.reports.gather_members import member_states
from restoration.reports.gather_money import vessel_money
from restoration.reports.gather_order import order_of_work
from restoration.reports.gather_samples import samples_drawn
from restoration.reports.gather_saw import sawn_from
from restoration.reports.gather_sections import choices
from restoration.reports.gather_timber import open_specs, replacements, threads
from restoration.reports.summary import renewed_since

GRADING_SOURCE = "EN16096-SCOPE"
CAUTION_SOURCES = ("HSE-DUST",)


def report_content(
    *,
    survey_id: int,
    standing: Standing,
    units: str,
    readers: str = "",
    remarks: str = "",
    paper: str = "A4",
) -> ReportContent:
    """All that the report of this survey says, as the register stands now."""
    with_her = ("vessel__client", "vessel__planking_wood", "vessel__picture", "vessel__hull_lines")
    survey = Survey.objects.select_related(*with_her).get(pk=survey_id)
    vessel, yard = survey.vessel, Yard.current()
    members = member_states(survey)
    allotted = threads(vessel)
    specs = open_specs(vessel)
    specified = replacements(specs)
    renewed = renewed_since(survey.surveyed_on, specified, allotted)
    hull, no_hull = hull_facts(vessel, members, renewed)
    return ReportContent(
        standing=standing,
        units=units,
        currency=yard.currency,
        yard=Party(yard.name, yard.address),
        client=_client(vessel.client),
        vessel=_vessel(vessel),
        survey=_survey(survey),
        readers=readers or vessel.client.name,
        remarks=remarks,
        members=members,
        replacements=specified,
        threads=allotted,
        sources=sources_used(members),
        words=wording.fixed_words(),
        samples=samples_drawn(survey),
        paper=paper,
        cover=_cover(vessel),
        hull=hull,
        no_hull=no_hull,
        choices=choices(specs, units, yard.ring_limits),
        sawn=sawn_from(allotted),
        order=order_of_work(vessel),
        money=vessel_money(vessel),
    )


def _cover(vessel: Vessel) -> PictureTaken | None:
    picture = getattr(vessel, "picture", None)
    return picture and PictureTaken(
        file=picture.image.name,
        sha256=picture.sha256,
        width_px=picture.width_px,
        height_px=picture.height_px,
        caption=picture.caption,
        taken_on=None,
    )


def sources_used(members: tuple[MemberState, ...]) -> tuple[SourceUsed, ...]:
    """The publications behind the classes, the cautions and the causes named, each once."""
    uses = {GRADING_SOURCE: "the classes"} | dict.fromkeys(CAUTION_SOURCES, "the cautions")
    named = {c.code for m in members if m.finding for c in m.finding.causes}
    for cause in vocabulary.causes().values():
        if cause.code in named:
            uses = dict.fromkeys(cause.sources, "causes and remedies") | uses
    return tuple(_source(code, used_for) for code, used_for in uses.items())


def _source(code: str, used_for: str) -> SourceUsed:
    source = vocabulary.source(code)
    return SourceUsed(
        code=code,
        title=source.title,
        author=source.author,
        year=source.year,
        part_read=source.part_read,
        authority=source.authority,
        used_for=used_for,
    )


def _client(client: Client) -> Party:
    return Party(client.name, client.address, client.email, client.telephone)


def _vessel(vessel: Vessel) -> VesselFacts:
    same = (
        "code name vessel_type rig designer builder built_year built_place official_number "
        "sail_number loa_mm lwl_mm beam_mm draught_mm fastening_metal note"
    )
    return VesselFacts(
        construction=vessel.get_construction_display(),
        planking_wood=str(vessel.planking_wood) if vessel.planking_wood else "",
        **{name: getattr(vessel, name) for name in same.split()},
    )


def _survey(survey: Survey) -> SurveyFacts:
    same = (
        "surveyed_on ended_on place surveyor_name qualification present weather scope methods "
        "not_reached"
    )
    return SurveyFacts(
        lying=survey.get_lying_display(), **{name: getattr(survey, name) for name in same.split()}
    )
