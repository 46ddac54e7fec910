"""For the whole yard: which board each waiting replacement might come out of; proposed, no more."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from restoration import timber
from restoration.calc.free_length import Stretch
from restoration.calc.matching import Weighed, weigh
from restoration.calc.matching_assign import NOBODY, Assigned, Task, assign, laid_out
from restoration.calc.matching_data import Need, Offer
from restoration.models import ReplacementSpec, Vessel
from restoration.reports.board_uses import open_specs
from restoration.reports.match_facts import Board, Yardstick, need_of, read_boards, weigh_boards
from restoration.reports.match_words import Pair, Words, words
from restoration.reports.spec_sums import sizes_to_ask
from restoration.reports.why_left import why_left

MOST_SPECS, MOST_BOARDS = 500, 5000
SECONDS = 1.0
SCALED = 100.0  # a difference from what was asked weighs more than any waste


@dataclass(frozen=True)
class Wish:
    """How to match: with boards that differ from what was asked or not, trim, kerf, one vessel."""

    with_differences: bool = False
    to_trim_mm: float = 0.0
    kerf_mm: float = 6.35
    vessel: Vessel | None = None


@dataclass(frozen=True)
class Proposed:
    spec: ReplacementSpec
    board: timber.Board
    length: Stretch
    words: Words
    used_percent: float
    waste_mm3: float
    instead: str = ""  # why not the board that would waste least

    def token(self) -> str:
        """What the page sends back when this is accepted."""
        at = f"{self.length.from_mm!r}:{self.length.to_mm!r}"
        return f"{self.spec.pk}:{self.board.pk}:{at}:{self.spec.found_mm or 0.0!r}"


@dataclass(frozen=True)
class Left:
    spec: ReplacementSpec
    why: str


@dataclass(frozen=True)
class YardMatch:
    proposed: list[Proposed]
    left: list[Left]
    boards: int
    specs: int
    assigned: Assigned
    waste_mm3: float
    all_seen: bool


@dataclass(frozen=True)
class _Read:
    """Everything the matching of one page stands on."""

    by: Yardstick
    specs: list[ReplacementSpec]
    needs: list[Need]
    offers: list[Offer]
    whose: list[Board]
    weighed: Weighed
    boards: list[Board]


def yard_match(units: str, wish: Wish, seconds: float = SECONDS) -> YardMatch:
    read = _read(units, wish)
    task = _task(read, read.weighed, wish)
    assigned = _at_one_end(read, assign(task, seconds), wish)
    free = [Stretch(offer.from_mm, offer.to_mm) for offer in read.offers]
    lying = laid_out(free, task.wanted_mm.tolist(), assigned.row_of, wish.kerf_mm)
    met = [column for column, row in enumerate(assigned.row_of) if row != NOBODY]
    pairs = _judged(read, [(column, assigned.row_of[column], lying[column]) for column in met])
    proposed = [
        _proposed(read, column, pair, task, assigned)
        for column, pair in zip(met, pairs, strict=True)
    ]
    unmet = [column for column, row in enumerate(assigned.row_of) if row == NOBODY]
    return YardMatch(
        proposed,
        _left(read, unmet, wish),
        len(read.boards),
        len(read.specs),
        assigned,
        sum(each.waste_mm3 for each in proposed),
        len(read.specs) < MOST_SPECS and len(read.boards) < MOST_BOARDS,
    )


def _read(units: str, wish: Wish) -> _Read:
    by, specs = Yardstick.read(units), open_specs()
    if wish.vessel:
        specs = specs.filter(finding__member__vessel=wish.vessel)
    specs = list(specs[:MOST_SPECS])
    needs = [need_of(spec, by, to_trim_mm=wish.to_trim_mm) for spec in specs]
    boards = read_boards(timber.boards_with_readings()[:MOST_BOARDS], for_whom=False)
    offers, whose, weighed = weigh_boards(boards, needs, by, only_serving=True, anywhere=True)
    return _Read(by, specs, needs, offers, whose, weighed, boards)


def _at_one_end(read: _Read, assigned: Assigned, wish: Wish) -> Assigned:
    """Those left, at the butt end of lengths that nobody takes: the heart may run clear there only.

    Each such length then gives one piece, whose place is settled.
    """
    unmet = [column for column, row in enumerate(assigned.row_of) if row == NOBODY]
    taken = set(assigned.row_of)
    rows = [row for row in range(len(read.offers)) if row not in taken]
    if not (unmet and rows):
        return assigned
    offers, needs = [read.offers[row] for row in rows], [read.needs[column] for column in unmet]
    shrinkages = read.by.shrinkages({offer.wood for offer in offers})
    weighed = weigh(offers, needs, shrinkages, read.by.limits, only_serving=True)
    # As much lost between two as the longest is long, so that no length gives more than one.
    longest = max(offer.length_mm for offer in offers)
    rest = replace(read, offers=offers, needs=needs)
    more = assign(replace(_task(rest, weighed, wish), kerf_mm=longest + 1.0))
    row_of = list(assigned.row_of)
    for column, row in zip(unmet, more.row_of, strict=True):
        row_of[column] = row if row == NOBODY else rows[row]
    return replace(assigned, row_of=tuple(row_of), at_most=assigned.at_most + more.met)


def _task(read: _Read, weighed: Weighed, wish: Wish) -> Task:
    """Costs are waste; what differs from what was asked is left out, or weighs before any waste."""
    kept = np.ones(len(weighed), dtype=bool) if wish.with_differences else weighed.differences == 0
    waste = weighed.rip_mm3[kept].clip(min=0.0)
    worst = max(float(waste.max(initial=0.0)), 1.0)
    return Task(
        np.array([offer.length_mm for offer in read.offers], dtype=float),
        np.array([need.length_mm for need in read.needs], dtype=float),
        weighed.offer[kept],
        weighed.need[kept],
        waste / worst + SCALED * weighed.differences[kept],
        wish.kerf_mm,
    )


def _proposed(read: _Read, column: int, pair: Pair, task: Task, assigned: Assigned) -> Proposed:
    spec, row = pair.spec, pair.board.row
    row.species = read.by.woods[row.species_id]
    stretch = Stretch(pair.offer.from_mm, pair.offer.to_mm)
    taken = pair.offer.section_mm2 * stretch.length_mm
    finished = spec.sided_mm * spec.moulded_mm * spec.still_wanted_mm()
    instead = _instead(read, column, assigned.row_of[column], task, assigned)
    return Proposed(
        spec, row, stretch, words(pair), 100 * finished / taken, taken - finished, instead
    )


def _judged(read: _Read, placed: list[tuple[int, int, Stretch]]) -> list[Pair]:
    """Each pair once more, where it lies and with the whole sum of the size to saw."""
    needs = [_whole_need(read, column, row) for column, row, _ in placed]
    lying = [replace(read.offers[row], from_mm=at.from_mm, to_mm=at.to_mm) for _, row, at in placed]
    if not placed:
        return []
    shrinkages = read.by.shrinkages({offer.wood for offer in lying})
    weighed = weigh(lying, needs, shrinkages, read.by.limits)  # all by all; the pairs lie across
    return [
        Pair(
            weighed, n * (len(placed) + 1), lying[n], read.whose[row], needs[n],
            read.specs[column], read.by,
        )
        for n, (column, row, _) in enumerate(placed)
    ]  # fmt: skip


def _whole_need(read: _Read, column: int, row: int) -> Need:
    spec = read.specs[column]
    if spec.seasoning == "seasoned" and read.offers[row].state != "ready":
        sides = sizes_to_ask(spec, read.by.yard, read.by.units)
        if sides:
            return need_of(spec, read.by, ask_mm=(sides[0].ask_mm, sides[1].ask_mm))
    return read.needs[column]


def _instead(read: _Read, column: int, row: int, task: Task, assigned: Assigned) -> str:
    """Whom the board that would waste least goes to, where it is not this one."""
    mine = np.nonzero(task.column == column)[0]
    if row not in task.row[mine]:
        return "It fits at the butt end alone: further along the heart comes too near"
    best = int(task.row[mine[np.argmin(task.cost[mine])]])
    chosen = mine[task.row[mine] == row]
    if best == row or task.cost[mine].min() >= task.cost[chosen].min():
        return ""
    others = [read.specs[c] for c, r in enumerate(assigned.row_of) if r == best and c != column]
    tag = read.whose[best].row.tag
    if not others:
        return ""
    marks = ", ".join(f"{_mark(spec)}" for spec in others)
    return f"{tag} would waste less, and goes to {marks}"


def _left(read: _Read, unmet: Sequence[int], wish: Wish) -> list[Left]:
    if not unmet:
        return []
    needs = [read.needs[column] for column in unmet]
    reasons = why_left(read.boards, needs, read.by, wish.with_differences)
    return [Left(read.specs[column], why) for column, why in zip(unmet, reasons, strict=True)]


def _mark(spec: ReplacementSpec) -> str:
    member = spec.finding.member
    return f"{member.vessel.code}-{member.mark}"
