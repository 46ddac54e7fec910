"""The yard board: every replacement on its way, in columns, and what is to be done next."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

from django.utils import timezone

from restoration.actions.out_now import with_holds
from restoration.calc import stages
from restoration.models import ReplacementSpec, User, Vessel
from restoration.models.work_track import Track, for_tracks, track
from timber_stock.web.days import day_said

MOST_SHOWN = 12  # of one column, before the rest is folded away
MOST_READ = 600
MOST_NEXT = 8
SOON_DAYS = 30
LAST_TURN = 10_000
NUTS = "nuts"
SEE_TO = "see to the nuts of"


@dataclass(frozen=True)
class Column:
    key: str
    heading: str
    tracks: list[Track]

    @property
    def shown(self) -> list[Track]:
        return self.tracks[:MOST_SHOWN]

    @property
    def folded(self) -> list[Track]:
        return self.tracks[MOST_SHOWN:]


@dataclass(frozen=True)
class NextThing:
    """One thing that could be done now. `why` says what puts it so high."""

    track: Track
    do: str
    why: str

    @property
    def is_visit(self) -> bool:
        return self.do == SEE_TO


@dataclass(frozen=True)
class YardBoard:
    columns: list[Column]
    next: list[NextThing]
    waiting: list[Track]
    finished: int
    all_read: bool

    @property
    def is_empty(self) -> bool:
        return not any(column.tracks for column in self.columns)

    @property
    def next_first(self) -> list[NextThing]:
        return self.next[:MOST_NEXT]

    @property
    def next_later(self) -> list[NextThing]:
        return self.next[MOST_NEXT:]


def yard_board(vessel: Vessel | None = None, person: User | None = None) -> YardBoard:
    specs = _narrowed(ReplacementSpec.objects.on_the_way(), vessel, person)
    read = list(for_tracks(specs).along_the_hull()[: MOST_READ + 1])
    tracks = with_holds([track(spec) for spec in read[:MOST_READ]])
    return YardBoard(
        _columns(tracks),
        next_things(tracks),
        [each for each in tracks if each.waits_now],
        _narrowed(ReplacementSpec.objects.finished(), vessel, person).count(),
        len(read) <= MOST_READ,
    )


def _narrowed(specs, vessel: Vessel | None, person: User | None):
    if vessel:
        specs = specs.filter(finding__member__vessel=vessel)
    return specs.filter(work_plan__person=person) if person else specs


def _columns(tracks: Sequence[Track]) -> list[Column]:
    lying: dict[str, list[Track]] = {stage.key: [] for stage in stages.STAGES}
    for each in tracks:
        lying[each.here.key].append(each)
    nuts = sorted(lying.pop(stages.FASTENED.key), key=lambda each: each.visit.due_on)
    columns = [Column(key, stages.stage(key).word, held) for key, held in lying.items()]
    return [*columns, Column(NUTS, "nuts to see to", nuts)]


def next_things(tracks: Sequence[Track]) -> list[NextThing]:
    """What is overdue first, then what is wanted by a day, then by its turn in the order of work,
    then the most urgent, then what is furthest on its way: what is begun is finished first."""
    things = [thing for each in tracks for thing in _things(each)]
    return sorted(things, key=_how_soon)


def _things(each: Track):
    soon = timezone.localdate() + timedelta(days=SOON_DAYS)
    if each.visit and (each.visit.due_on <= soon or each.next is None):
        yield NextThing(each, SEE_TO, _due(each))
    if each.next and not each.waits_now:
        yield NextThing(each, each.next.do, _wanted(each))


def _due(each: Track) -> str:
    late = "overdue since" if each.visit.is_overdue() else "due"
    return f"{late} {day_said(each.visit.due_on)}"


def _wanted(each: Track) -> str:
    if each.plan and each.plan.wanted_on:
        late = "late, " if each.is_late else ""
        return f"{late}wanted by {day_said(each.plan.wanted_on)}"
    said = [f"turn {each.turn.number}"] if each.turn else []
    urgency = each.spec.finding.urgency
    return ", ".join([*said, f"urgency {urgency}"] if urgency is not None else said)


def _how_soon(thing: NextThing) -> tuple:
    each, today = thing.track, timezone.localdate()
    wanted_on = each.plan.wanted_on if each.plan else None
    day = each.visit.due_on if thing.is_visit else wanted_on
    late = day is not None and day < today
    urgency = each.spec.finding.urgency or 0
    far = -stages.ORDER[each.here.key]
    turn = each.turn.number if each.turn else LAST_TURN
    return (not late, day is None, str(day or ""), turn, -urgency, far)
