"""Who is out of each hull now, and what for that reason is not to come out: read, not reckoned."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from django.db.models import Exists, OuterRef, Q

from restoration.actions.order_facts import OrderFacts, neighbours_by_rule_of
from restoration.calc.out_now import Hold, holds, neighbours_out
from restoration.calc.turns_asked import Asked
from restoration.models import (
    Allotment,
    Joint,
    Member,
    ReplacementSpec,
    TurnMember,
    TurnRule,
    WorkOrder,
    WorkStep,
)
from restoration.models.work_track import Held, Track, track_of

LOOSE = ("taken_out", "dry_fitted")


@dataclass
class _Hull:
    """What is known of one vessel: her members by mark, and by mark what each has come to."""

    members: dict[str, Member] = field(default_factory=dict)
    spec_of: dict[str, int] = field(default_factory=dict)  # one that is not fastened
    out: set[str] = field(default_factory=set)
    not_back: set[str] = field(default_factory=set)
    asked: Asked = field(default_factory=lambda: Asked(()))
    turn_of: dict[str, int] = field(default_factory=dict)


def with_holds(tracks: Sequence[Track]) -> list[Track]:
    """The same, each with what stands against its coming out now, and who is out beside it."""
    hulls = _hulls({each.member.vessel_id for each in tracks})
    return [_told(each, hulls[each.member.vessel_id]) for each in tracks]


def marks_out(vessel_id: int) -> set[str]:
    """Of the members that are out of this hull now."""
    hulls = {vessel_id: _Hull()}
    _read_out(hulls)
    return hulls[vessel_id].out


def track_now(spec_id: int) -> Track | None:
    """Of one replacement, with what the whole hull says of it."""
    now = track_of(spec_id)
    return with_holds([now])[0] if now else None


def _told(each: Track, hull: _Hull) -> Track:
    mark = each.member.mark
    if each.spec.withdrawn_on or "fastened" in each.done:
        return each
    is_out = mark in hull.out
    beside = neighbours_out(mark, hull.out, hull.asked, hull.turn_of) if is_out else ()
    against = holds(mark, hull.out, hull.not_back, hull.asked, hull.turn_of)
    return replace(each, is_out=is_out, held=_held(against, hull), out_beside=_held(beside, hull))


def _held(found: Iterable[Hold], hull: _Hull) -> tuple[Held, ...]:
    return tuple(
        Held(each.why, hull.members.get(each.by), hull.spec_of.get(each.by)) for each in found
    )


def _hulls(vessel_ids: set[int]) -> dict[int, _Hull]:
    """In five queries; in two where nothing is out of any of these hulls and no order is kept."""
    hulls = {pk: _Hull() for pk in vessel_ids}
    places = _read_out(hulls)
    opened = {pk for pk, hull in hulls.items() if hull.out or hull.turn_of}
    if opened:
        _read_neighbours(hulls, opened, places)
    return hulls


def _read_out(hulls: dict[int, _Hull]) -> list[TurnMember]:
    """Puts down who is out, in two queries; returns who has which turn in the orders in force."""
    places = list(
        TurnMember.objects.filter(
            order__in=WorkOrder.objects.in_force(), order__vessel__in=hulls
        ).select_related("turn__order", "member")
    )
    begun = [place for place in places if place.turn.begun_on and not place.turn.done_on]
    back = _read_specs(hulls, {place.member_id for place in begun})
    for place in places:
        hull, mark = hulls[place.member.vessel_id], place.member.mark
        hull.turn_of[mark] = place.turn.number
        if place in begun and place.member_id not in back:
            hull.out.add(mark)
        if place.turn.done_on and mark not in hull.out:
            hull.not_back.discard(mark)
    return places


def out_by_their_replacements(*, order_of: int) -> set[int]:
    """Of the vessel of an order of work: members of which a replacement says that they are out."""
    specs = ReplacementSpec.objects.open().filter(finding__member__vessel__work_orders=order_of)
    loose = _with_loose(specs).filter(loose=True, is_fastened=False)
    return set(loose.values_list("finding__member", flat=True))


def _with_loose(specs):
    """`loose` where the old member is recorded as out, or a new piece stands in its place; and
    `is_fastened`."""
    steps = WorkStep.objects.done().filter(spec=OuterRef("pk"))
    fitted = Allotment.objects.standing().filter(spec=OuterRef("pk"), fitted_on__isnull=False)
    return specs.annotate(
        loose=Exists(steps.filter(stage__in=LOOSE)) | Exists(fitted),
        is_fastened=Exists(steps.filter(stage="fastened")),
    )


def _read_specs(hulls: dict[int, _Hull], begun: set[int]) -> set[int]:
    """Puts down what is not fastened, and what is known to be out of its place; returns those of
    the members in turns begun whose replacements are all fastened."""
    specs = (
        _with_loose(ReplacementSpec.objects.open().filter(finding__member__vessel__in=hulls))
        .filter(Q(is_fastened=False) | Q(finding__member__in=begun))
        .select_related("finding__member")
        .order_by("pk")
    )
    fastened, not_fastened = set(), set()
    for spec in specs:
        member = spec.finding.member
        (fastened if spec.is_fastened else not_fastened).add(member.pk)
        if not spec.is_fastened:
            hull = hulls[member.vessel_id]
            hull.not_back.add(member.mark)
            if spec.loose:
                hull.out.add(member.mark)
            if spec.loose or member.mark not in hull.spec_of:
                hull.spec_of[member.mark] = spec.pk
    return fastened - not_fastened


def _read_neighbours(hulls, opened: set[int], places: Sequence[TurnMember]) -> None:
    members = defaultdict(list)
    for member in Member.objects.filter(vessel__in=opened).along_the_hull():
        members[member.vessel_id].append(member)
    joints = defaultdict(list)
    for vessel, *pair in Joint.objects.filter(one__vessel__in=opened).values_list(
        "one__vessel", "one", "other"
    ):
        joints[vessel].append(pair)
    rules = defaultdict(list)
    in_force = Q(order__in=WorkOrder.objects.in_force(), order__vessel__in=opened)
    for rule in TurnRule.objects.filter(in_force).select_related("one", "other").order_by("pk"):
        rules[rule.one.vessel_id].append(rule)
    for pk in opened:
        hull = hulls[pk]
        hull.members = {member.mark: member for member in members[pk]}
        by_rule = neighbours_by_rule_of(members[pk], joints[pk])
        own = [place for place in places if place.member.vessel_id == pk]
        hull.asked = _asked(members[pk], own, rules[pk], by_rule)


def _asked(members, places, rules, by_rule) -> Asked:
    """Of the order in force; where there is none the neighbours by the rule are all there is."""
    if not places:
        return Asked((), by_rule)
    turns = {}
    for place in places:
        turn = turns.setdefault(place.turn_id, place.turn)
        turn.listed = [*getattr(turn, "listed", ()), place]
    in_order = sorted(turns.values(), key=lambda turn: turn.number)
    return OrderFacts(in_order[0].order, members, in_order, rules, by_rule).asked()
