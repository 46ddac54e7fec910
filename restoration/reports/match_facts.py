"""Boards, promises and replacements read from the register, as matching wants them."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from restoration import timber
from restoration.calc.free_length import Stretch, free_stretches
from restoration.calc.matching import Weighed, weigh
from restoration.calc.matching_data import Need, Offer
from restoration.calc.sawn_green import SIDED, UNDERSIZE_PERCENT, Allowances, sawn_side
from restoration.models import Allotment, ReplacementSpec, Yard
from restoration.reports.spec_sums import saw_mark_mm
from timber_stock.wood.movement import movement
from timber_stock.wood.ring_limits import AUTHORITIES, RingLimits
from timber_stock.wood.service import ServiceMoisture
from timber_stock.wood.species import Species as Wood


@dataclass(frozen=True)
class Yardstick:
    """What every sum of a page goes by: the yard's own settings and the figures of its woods."""

    yard: Yard
    units: str
    places: dict[str, ServiceMoisture]
    woods: dict[int, timber.Species]
    _figures: dict[int, Wood] = field(default_factory=dict)

    @classmethod
    def read(cls, units: str, yard: Yard | None = None) -> "Yardstick":
        woods = timber.woods().prefetch_related("own_figures")
        return cls(
            yard or Yard.current(), units, timber.service_moistures(), {w.pk: w for w in woods}
        )

    @property
    def limits(self) -> RingLimits:
        return AUTHORITIES[self.yard.ring_limits]

    def figures_of(self, wood_id: int) -> Wood:
        if wood_id not in self._figures:
            self._figures[wood_id] = timber.figures_of(self.woods[wood_id])
        return self._figures[wood_id]

    def shrinkages(self, wood_ids: Iterable[int]) -> dict[int, tuple[float, float]]:
        """Radial and tangential, of the woods whose shrinkage is known."""
        found = {}
        for wood_id in set(wood_ids):
            figures = self.figures_of(wood_id)
            try:
                found[wood_id] = tuple(
                    figures.require(f"{way}_percent") for way in ("radial", "tangential")
                )
            except ValueError:
                continue
        return found

    def service_percent(self, spec: ReplacementSpec) -> float | None:
        place = self.places.get(spec.place_in_boat)
        return place.expected_percent if place else None


@dataclass(frozen=True)
class Board:
    """A board with what is promised of it and what is free, the checks at its ends cut away."""

    row: timber.Board
    taken: tuple[Allotment, ...]
    free: tuple[Stretch, ...]

    def offers(self) -> list[Offer]:
        row = self.row
        return [
            Offer(
                row.pk, row.species_id, row.thickness_mm, row.width_mm, row.length_mm,
                stretch.from_mm, stretch.to_mm, row.heart, row.butt_heart_mm(),
                row.top_heart_mm(), row.rings, row.has_sapwood, row.state, row.last_percent,
                money_per_mm3(row),
            )
            for stretch in self.free
        ]  # fmt: skip


def money_per_mm3(row: timber.Board) -> float | None:
    """What it was said to be worth, else what it was bought for."""
    money = row.worth if row.worth is not None else row.price
    return None if money is None else float(money) / row.volume_mm3()


def read_boards(boards: Iterable[timber.Board], *, for_whom: bool = True) -> list[Board]:
    """`for_whom` reads also the members that the promised lengths are for."""
    boards = list(boards)
    taken = _taken(boards, for_whom)
    return [
        Board(board, tuple(taken[board.pk]), tuple(_free(board, taken[board.pk])))
        for board in boards
    ]


def weigh_boards(boards: Sequence[Board], needs: Sequence[Need], by: Yardstick, **how):
    """The free lengths of these boards, the board of each, and how each weighs with each need."""
    offers, whose = [], []
    for board in boards:
        for offer in board.offers():
            offers.append(offer)
            whose.append(board)
    shrinkages = by.shrinkages({offer.wood for offer in offers})
    weighed: Weighed = weigh(offers, needs, shrinkages, by.limits, **how)
    return offers, whose, weighed


def need_of(
    spec: ReplacementSpec,
    by: Yardstick,
    *,
    to_trim_mm: float = 0.0,
    ask_mm: tuple[float, float] | None = None,
) -> Need:
    """Of a row `with_stage()`, `other_woods` prefetched: the length is what is still wanted of it.

    ask_mm, the size to saw, where it is known better than by rings that run straight.
    """
    others = [wood.pk for wood in spec.other_woods.all()]
    return Need(
        spec.pk, (spec.wood_id, *others), spec.sided_mm, spec.moulded_mm,
        spec.still_wanted_mm() + to_trim_mm, spec.clear_of_heart, spec.sapwood_allowed, spec.rings,
        spec.rings_face, spec.seasoning, spec.moisture_percent, by.service_percent(spec),
        ask_mm or straight_size_mm(spec, by),
    )  # fmt: skip


def straight_size_mm(spec: ReplacementSpec, by: Yardstick) -> tuple[float, float] | None:
    """What to ask of the saw, sided and moulded, without what is planed off a cupped piece.

    A lower bound of `spec_sums.sizes_to_ask` for seasoned wood, and the same for green; a
    hundred times as quick.
    """
    percent = by.service_percent(spec) or spec.moisture_percent
    if percent is None:
        return None
    yard = by.yard
    allowances = Allowances(yard.planing_allowance_mm, yard.sawing_variation_mm, UNDERSIZE_PERCENT)
    try:
        moved, wanted = movement(by.figures_of(spec.wood_id), percent), spec.wanted()
        shrinks = (moved.radial_percent, moved.tangential_percent)
        sides = [
            sawn_side(wanted, side, shrinks, by.limits, allowances, saw_mark_mm(by.units))
            for side in (SIDED, "moulded")
        ]
    except ValueError:
        return None
    return sides[0].ask_mm, sides[1].ask_mm


def _free(board: timber.Board, taken: Sequence[Allotment]) -> list[Stretch]:
    away = [Stretch(a.from_mm, a.to_mm) for a in taken]
    butt, top = board.end_checks_mm()
    if butt > 0:
        away.append(Stretch(0, butt))
    if top > 0:
        away.append(Stretch(max(0.0, board.length_mm - top), board.length_mm + 1))
    return free_stretches(board.length_mm, away)


def _taken(boards: Sequence[timber.Board], for_whom: bool) -> dict[int, list[Allotment]]:
    taken = defaultdict(list)
    standing = Allotment.objects.standing().order_by("from_mm")
    if len(boards) < 400:
        standing = standing.filter(board__in=[board.pk for board in boards])
    else:  # more than a database takes in one question
        standing = standing.filter(board__in=timber.boards_in_stock().order_by().values("pk"))
    if for_whom:
        standing = standing.select_related("spec__finding__member__vessel")
    for allotment in standing:
        taken[allotment.board_id].append(allotment)
    return taken
