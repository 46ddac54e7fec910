"""What a thread from member to log is made of: plain facts, read once and never changed.

Lengths are in millimetres, volumes in cubic millimetres; a day not known is None.
"""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property
from itertools import pairwise


@dataclass(frozen=True)
class LogFacts:
    id: int
    tag: str
    wood: str
    botanical_name: str
    length_mm: float
    butt_diameter_mm: float
    top_diameter_mm: float
    felled_on: date | None
    felled_note: str
    felled_place: str
    supplier: str
    supplier_place: str
    received_on: date | None
    solid_mm3: float
    unsawn_mm3: float


@dataclass(frozen=True)
class Piece:
    """A piece of timber. `word` is flitch (sawn from the log and resawn since) or board.

    One that was bought sawn has no log and no parent, but a supplier. `depth` is 1 for what
    was sawn from the log, 2 for what was sawn from that, and so on.
    """

    id: int
    tag: str
    word: str
    parent_id: int | None
    log_id: int | None
    depth: int
    wood: str
    botanical_name: str
    thickness_mm: float
    width_mm: float
    length_mm: float
    heart: str
    rings: str
    has_sapwood: bool
    state: str
    place: str
    sawn_on: date | None
    sawn_by: str
    supplier: str
    supplier_place: str
    received_on: date | None
    is_in_stock: bool

    @property
    def grain(self) -> str:
        """How it was taken out of the log, in words."""
        unknown = "not known"
        heart = "heart not known" if self.heart == unknown else self.heart
        rings = [] if self.rings == unknown else [self.rings]
        return "; ".join([heart, *rings, *(["with sapwood"] if self.has_sapwood else [])])


@dataclass(frozen=True)
class Use:
    """A length of a piece that is promised to a member, or cut for it, or fitted in it."""

    id: int
    board_id: int
    board_tag: str
    from_mm: float
    to_mm: float
    allotted_on: date
    allotted_by: str
    cut_on: date | None
    cut_by: str
    fitted_on: date | None
    fitted_by: str
    spec_id: int
    member_id: int
    mark: str
    term: str
    vessel_id: int
    vessel_code: str
    vessel_name: str

    @property
    def stage(self) -> str:
        if self.fitted_on:
            return "fitted"
        return "cut" if self.cut_on else "allotted"

    @property
    def full_mark(self) -> str:
        return f"{self.vessel_code}-{self.mark}"


@dataclass(frozen=True)
class Step:
    """A piece, and what it was sawn out of: a piece, or a log, or neither (bought sawn)."""

    piece: Piece
    out_of: Piece | None
    log: LogFacts | None


def upward(log: LogFacts | None, pieces: Sequence[Piece]) -> list[Step]:
    """From the last piece up to the log, one sawing at a time."""
    steps = [Step(piece, above, None) for above, piece in pairwise(pieces)]
    return [Step(pieces[0], None, log), *steps][::-1]


@dataclass(frozen=True)
class Chain:
    """From the log (None when bought sawn), piece out of piece, to the length a member took.

    The first piece was sawn from the log; the last is the one `use` was allotted from.
    """

    log: LogFacts | None
    pieces: tuple[Piece, ...]
    use: Use

    def upward(self) -> list[Step]:
        return upward(self.log, self.pieces)


@dataclass(frozen=True)
class Timber:
    """Whole trees: every log, every piece of it (a piece before its own pieces), every use."""

    logs: tuple[LogFacts, ...]
    pieces: tuple[Piece, ...]
    uses: tuple[Use, ...]

    @cached_property
    def by_id(self) -> dict[int, Piece]:
        return {piece.id: piece for piece in self.pieces}

    @cached_property
    def _sawn(self) -> dict[tuple[str, int | None], list[Piece]]:
        found: dict[tuple[str, int | None], list[Piece]] = defaultdict(list)
        for piece in self.pieces:
            whence = ("log", piece.log_id) if piece.parent_id is None else ("", piece.parent_id)
            found[whence].append(piece)
        return found

    @cached_property
    def _uses(self) -> dict[int, list[Use]]:
        found: dict[int, list[Use]] = defaultdict(list)
        for use in self.uses:
            found[use.board_id].append(use)
        return found

    def sawn_from_log(self, log_id: int | None) -> list[Piece]:
        """What was sawn straight from a log; with None, what was bought sawn."""
        return self._sawn.get(("log", log_id), [])

    def sawn_from_piece(self, piece_id: int) -> list[Piece]:
        return self._sawn.get(("", piece_id), [])

    def uses_of(self, piece_id: int) -> list[Use]:
        """In order along the board."""
        return self._uses.get(piece_id, [])

    def walk(self, start: Sequence[Piece]) -> Iterator[Piece]:
        """Each of these pieces, followed at once by everything sawn from it, however deep."""
        waiting = list(reversed(start))
        while waiting:
            piece = waiting.pop()
            yield piece
            waiting.extend(reversed(self.sawn_from_piece(piece.id)))

    def chain_of(self, use: Use) -> Chain:
        log, pieces = self.way_to(use.board_id)
        return Chain(log, pieces, use)

    def way_to(self, piece_id: int) -> tuple[LogFacts | None, tuple[Piece, ...]]:
        """The log, and the pieces from it down to this one."""
        way: list[Piece] = []
        at: int | None = piece_id
        while at is not None:
            way.insert(0, self.by_id[at])
            at = way[0].parent_id
        log = next((log for log in self.logs if log.id == way[0].log_id), None)
        return log, tuple(way)
