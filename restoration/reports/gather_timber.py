"""What is to be replaced, and the way of each allotted piece from its log, as plain facts."""

from collections.abc import Iterable

from django.db.models import Prefetch

from restoration.models import Allotment, Member, ReplacementSpec, Vessel
from restoration.reports.content import Replacement, TimberThread
from restoration.reports.gather_members import hull_order
from restoration.reports.thread_content import Chain, LogFacts, Piece, Use, member_thread
from restoration.reports.timber_facts import TimberStep

AWAITING = "timber not found yet"
IN_PART = "part of its timber found"


def open_specs(vessel: Vessel) -> list[ReplacementSpec]:
    """Every open specification of the vessel, whichever survey it came from, in hull order."""
    standing = Prefetch("allotments", Allotment.objects.standing(), to_attr="standing")
    specs = (
        ReplacementSpec.objects.open()
        .filter(finding__member__vessel=vessel)
        .select_related("finding__member", "finding__survey", "wood")
        .prefetch_related("other_woods", standing)
    )
    return sorted(specs, key=lambda spec: (*hull_order(spec.finding.member), spec.pk))


def replacements(specs: Iterable[ReplacementSpec]) -> tuple[Replacement, ...]:
    return tuple(_replacement(spec) for spec in specs)


def _replacement(spec: ReplacementSpec) -> Replacement:
    member: Member = spec.finding.member
    stage = stage_of(spec)
    return Replacement(
        mark=member.mark,
        term=member.term(),
        group=member.group(),
        surveyed_on=spec.finding.survey.surveyed_on,
        wood=str(spec.wood),
        other_woods=tuple(str(wood) for wood in spec.other_woods.all()),
        sided_mm=spec.sided_mm,
        moulded_mm=spec.moulded_mm,
        length_mm=spec.length_mm,
        rings=spec.get_rings_display(),
        rings_face=spec.get_rings_face_display() if spec.rings_face else "",
        clear_of_heart=spec.clear_of_heart,
        sapwood_allowed=spec.sapwood_allowed,
        seasoning=spec.get_seasoning_display(),
        moisture_percent=spec.moisture_percent,
        fastenings=spec.fastenings,
        note=spec.note,
        hours=spec.hours_estimate,
        cost=spec.cost_estimate,
        stage=stage,
        is_fitted=stage == "fitted",
    )


def stage_of(spec: ReplacementSpec) -> str:
    """How far a replacement has come: as far as the piece of it that has come least far."""
    stages = {allotment.stage() for allotment in spec.standing}
    if not stages:
        return AWAITING
    if not spec.is_found_in(spec.standing):
        return IN_PART
    return next(stage for stage in ("allotted", "cut", "fitted") if stage in stages)


def threads(vessel: Vessel) -> tuple[TimberThread, ...]:
    """The way from log to member of every length allotted to the vessel, in hull order."""
    members = sorted(
        Member.objects.filter(
            vessel=vessel,
            findings__specs__withdrawn_on=None,
            findings__specs__allotments__in=Allotment.objects.standing(),
        ).distinct(),
        key=hull_order,
    )
    chains = member_thread([member.pk for member in members])
    return tuple(_thread(chain) for member in members for chain in chains[member.pk])


def _thread(chain: Chain) -> TimberThread:
    use: Use = chain.use
    log = [_log_step(chain.log)] if chain.log else []
    return TimberThread(
        mark=use.mark,
        term=use.term,
        stage=use.stage,
        from_mm=use.from_mm,
        to_mm=use.to_mm,
        allotted_on=use.allotted_on,
        allotted_by=use.allotted_by,
        cut_on=use.cut_on,
        cut_by=use.cut_by,
        fitted_on=use.fitted_on,
        fitted_by=use.fitted_by,
        steps=(*log, *(_piece_step(piece) for piece in chain.pieces)),
    )


def _log_step(log: LogFacts) -> TimberStep:
    felled = " ".join(p for p in ("felled", log.felled_note, _at(log.felled_place)) if p)
    return TimberStep(
        tag=log.tag,
        word="log",
        wood=f"{log.wood} ({log.botanical_name})",
        length_mm=log.length_mm,
        butt_mm=log.butt_diameter_mm,
        top_mm=log.top_diameter_mm,
        thickness_mm=None,
        width_mm=None,
        heart="",
        rings="",
        came="; ".join(part for part in (felled, _from(log)) if part),
        came_on=log.felled_on,
    )


def _piece_step(piece: Piece) -> TimberStep:
    came = f"sawn by {piece.sawn_by}" if piece.sawn_by else f"bought sawn, {_from(piece)}"
    return TimberStep(
        tag=piece.tag,
        word=piece.word,
        wood=f"{piece.wood} ({piece.botanical_name})",
        length_mm=piece.length_mm,
        butt_mm=None,
        top_mm=None,
        thickness_mm=piece.thickness_mm,
        width_mm=piece.width_mm,
        heart=piece.heart,
        rings=piece.rings,
        came=came,
        came_on=piece.sawn_on or piece.received_on,
    )


def _at(place: str) -> str:
    return f"at {place}" if place else ""


def _from(thing: LogFacts | Piece) -> str:
    where = ", ".join(part for part in (thing.supplier, thing.supplier_place) if part)
    return f"from {where}" if where else ""
