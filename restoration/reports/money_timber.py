"""What the timber of some members cost: their trees of logs and boards, with what was paid."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import partial

from restoration import timber
from restoration.calc.money_chain import (
    Board,
    Carried,
    Entry,
    Length,
    Log,
    Sawn,
    of_board,
    of_log,
)
from restoration.calc.money_spread import NOTHING
from restoration.models import ReplacementSpec
from restoration.reports.thread_content import log_timber, members_timber
from restoration.reports.thread_parts import Piece, Timber, Use

WIDE = 0.5  # of the section of a board: what wants less of it is told
REST = {timber.State.USED: "used", timber.State.GONE: "gone", timber.State.RESAWN: "used"}


@dataclass(frozen=True)
class Spread:
    """Where the cost of one log, or of one board bought sawn, came to rest.

    `price` is None where none is recorded: then nothing is known of what its timber cost.
    `unpaid` counts its sawings for which no cost is recorded. `why_not` says why nothing of it
    could be spread, where its books do not balance; then there are no entries.
    """

    tag: str
    log_id: int | None
    price: Decimal | None
    transport: Decimal
    sawing: Decimal
    sawings: int
    unpaid: int
    entries: tuple[Entry, ...]
    why_not: str = ""

    @property
    def lacks(self) -> str:
        """What is not known of its cost, in words; "" where all is."""
        if self.why_not:
            return f"the timber of {self.tag} ({self.why_not})"
        return f"the price of {self.tag}" if self.price is None else ""

    @property
    def paid(self) -> Decimal:
        return (self.price or NOTHING) + self.transport + self.sawing


@dataclass(frozen=True)
class TimberMoney:
    """The trees, and by the id of each allotment what it carries and which tree it is of."""

    timber: Timber
    spreads: tuple[Spread, ...]
    carried: dict[int, Carried]
    tree_of: dict[int, Spread]
    unpaid_on_the_way: dict[int, tuple[str, ...]]  # by allotment: sawings without a cost
    section_share: dict[int, float]  # by allotment: of the section of its board, what is wanted

    def of_spec(self, spec_id: int) -> tuple[Carried, list[str]]:
        """What a replacement carries, and what is not known of the cost of its timber."""
        uses = [use for use in self.timber.uses if use.spec_id == spec_id]
        trees = [self.tree_of[use.id] for use in uses]
        carried = sum((self.carried.get(use.id, Carried()) for use in uses), Carried())
        lacks = {tree.lacks for tree in trees if tree.lacks}
        spread = [use for use in uses if not self.tree_of[use.id].why_not]
        lacks |= {said for use in spread for said in self.unpaid_on_the_way[use.id]}
        return carried, sorted(lacks)

    def wide_of(self, spec_id: int) -> list[str]:
        """A sentence for each board whose whole width it carries and wants much less of."""
        return [
            f"It wants {self.section_share[use.id] * 100:.0f} % of the section of {use.board_tag}, "
            "and carries all of it: what is left beside the piece counts as its waste. A strip "
            "that is kept takes its own share once it is sawn off and entered as a board."
            for use in self.timber.uses
            if use.spec_id == spec_id and self.section_share[use.id] < WIDE
        ]

    def has_timber(self, spec_id: int) -> bool:
        return any(use.spec_id == spec_id for use in self.timber.uses)


def money_of_members(member_ids: Sequence[int], *, by_worth: bool) -> TimberMoney:
    return _spread(members_timber(member_ids), by_worth)


def money_of_log(log_id: int, *, by_worth: bool) -> TimberMoney:
    return _spread(log_timber(log_id), by_worth)


def _spread(whole: Timber, by_worth: bool) -> TimberMoney:
    rows = _Rows(whole)
    spreads = [rows.log(facts.id, by_worth) for facts in whole.logs]
    spreads += [rows.bought(piece, by_worth) for piece in whole.sawn_from_log(None)]
    entries = [entry for tree in spreads for entry in tree.entries if entry.kind == "length"]
    return TimberMoney(
        timber=whole,
        spreads=tuple(spreads),
        carried={int(entry.key): entry.carried for entry in entries},
        tree_of={use.id: _tree_of(use, whole, spreads) for use in whole.uses},
        unpaid_on_the_way={use.id: rows.unpaid_to(use) for use in whole.uses},
        section_share={use.id: rows.section_share(use) for use in whole.uses},
    )


def _tree_of(use: Use, whole: Timber, spreads: Sequence[Spread]) -> Spread:
    log, pieces = whole.way_to(use.board_id)
    tag = log.tag if log else pieces[0].tag
    return next(tree for tree in spreads if tree.tag == tag)


class _Rows:
    """The rows behind the trees, each kind read at once."""

    def __init__(self, whole: Timber) -> None:
        self.whole = whole
        self.logs = timber.Log.objects.in_bulk([log.id for log in whole.logs])
        boards = timber.Board.objects.filter(pk__in=[piece.id for piece in whole.pieces])
        self.boards = {board.pk: board for board in boards.select_related("sawing")}
        self.sizes = _finished_sizes(use.spec_id for use in whole.uses)

    def log(self, log_id: int, by_worth: bool) -> Spread:
        row = self.logs[log_id]
        sawings = self._sawings(self.whole.sawn_from_log(log_id))
        cost = (row.price or NOTHING) + (row.transport or NOTHING)
        tree = Log(row.tag, cost, row.unsawn_mm3(), sawings)
        pieces = self.whole.walk(self.whole.sawn_from_log(log_id))
        spread = partial(of_log, tree, by_worth=by_worth)
        return self._told(row.tag, log_id, row.price, row.transport or NOTHING, pieces, spread)

    def bought(self, piece: Piece, by_worth: bool) -> Spread:
        row = self.boards[piece.id]
        pieces = self.whole.walk(self.whole.sawn_from_piece(piece.id))
        cost = row.price or NOTHING
        spread = partial(of_board, self._board(piece), cost, by_worth=by_worth)
        return self._told(row.tag, None, row.price, NOTHING, pieces, spread)

    def unpaid_to(self, use: Use) -> tuple[str, ...]:
        """The sawings this length came through for which no cost is recorded, in words."""
        log, pieces = self.whole.way_to(use.board_id)
        above = [log.tag if log else "", *(piece.tag for piece in pieces)]
        saws = [self.boards[piece.id].sawing for piece in pieces]
        return tuple(
            f"what the sawing of {tag} cost"
            for tag, saw in zip(above, saws, strict=False)
            if saw is not None and saw.cost is None
        )

    def section_share(self, use: Use) -> float:
        """Of the cross-section of its board, what the finished piece takes."""
        row, (sided, moulded, _) = self.boards[use.board_id], self.sizes[use.spec_id]
        return min(1.0, sided * moulded / (row.thickness_mm * row.width_mm))

    def _told(self, tag, log_id, price, transport, pieces, spread) -> Spread:
        """Records changed behind the books may not balance: that is said, and nothing spread."""
        saws = {self.boards[piece.id].sawing_id: self.boards[piece.id].sawing for piece in pieces}
        costs = [sawing.cost for sawing in saws.values()]
        try:
            entries, why_not = tuple(spread()), ""
        except ValueError as error:
            entries, why_not = (), str(error)
        return Spread(
            tag=tag,
            log_id=log_id,
            price=price,
            transport=transport,
            sawing=sum((cost for cost in costs if cost is not None), NOTHING),
            sawings=len(costs),
            unpaid=costs.count(None),
            entries=entries,
            why_not=why_not,
        )

    def _sawings(self, pieces: Sequence[Piece]) -> tuple[Sawn, ...]:
        by_sawing: dict[int, list[Piece]] = {}
        for piece in pieces:
            by_sawing.setdefault(self.boards[piece.id].sawing_id, []).append(piece)
        return tuple(self._sawn(out) for out in by_sawing.values())

    def _sawn(self, out: Sequence[Piece]) -> Sawn:
        sawing = self.boards[out[0].id].sawing
        boards = tuple(self._board(piece) for piece in out)
        return Sawn(str(sawing.pk), sawing.in_mm3, sawing.cost or NOTHING, boards)

    def _board(self, piece: Piece) -> Board:
        row, below = self.boards[piece.id], self.whole.sawn_from_piece(piece.id)
        return Board(
            key=row.tag,
            volume_mm3=row.volume_mm3(),
            length_mm=row.length_mm,
            worth=row.worth,
            lengths=tuple(self._length(use, row) for use in self.whole.uses_of(piece.id)),
            rest=REST.get(row.state, "stock"),
            sawn=self._sawn(below) if below else None,
        )

    def _length(self, use: Use, row: timber.Board) -> Length:
        sided, moulded, finished = self.sizes[use.spec_id]
        long = use.to_mm - use.from_mm
        taken = row.thickness_mm * row.width_mm * long
        return Length(str(use.id), long, taken, min(taken, sided * moulded * min(long, finished)))


def _finished_sizes(spec_ids: Iterable[int]) -> dict[int, tuple[float, float, float]]:
    rows = ReplacementSpec.objects.filter(pk__in=set(spec_ids))
    return {
        key: tuple(sizes)
        for key, *sizes in rows.values_list("pk", "sided_mm", "moulded_mm", "length_mm")
    }
