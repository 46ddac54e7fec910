"""From the gathered thread to the nodes of its picture; what leads nowhere is folded when large."""

from collections.abc import Callable
from dataclasses import replace

from restoration.drawings.thread import Node
from restoration.reports.thread_lookup import Answer
from restoration.reports.thread_parts import LogFacts, Piece, Timber, Use
from timber_stock import measure
from timber_stock.web.fields import size_for

MOST_NODES = 60


class ThreadPicture:
    """Lays out every log, piece and member of some timber; `href` gives the address of a tag."""

    def __init__(self, timber: Timber, asked: Answer, units: str, href: Callable[[str], str]):
        self.timber, self.asked, self.units, self.href = timber, asked, units, href
        self.shown = _shown(timber, asked)
        self.places: dict[str, Node] = {}

    def nodes(self) -> list[Node]:
        for log in self.timber.logs:
            self._add_log(log)
            self._add_pieces(self.timber.sawn_from_log(log.id), f"log-{log.id}", 1)
        self._add_pieces(self.timber.sawn_from_log(None), "", 1)
        return list(self.places.values())

    def _add_log(self, log: LogFacts) -> None:
        butt, top = (self._long(mm) for mm in (log.butt_diameter_mm, log.top_diameter_mm))
        facts = ("log, " + log.wood, self._long(log.length_mm), "butt " + butt)
        self._add("log", log.id, 0, log.tag, facts, f"Log {log.tag}, top {top}", parent="")

    def _add_pieces(self, start: list[Piece], whence: str, column: int) -> None:
        for piece in self.timber.walk(start):
            if piece.id in self.shown:
                self._add_piece(piece, whence)
        self._fold(start, whence, column)

    def _add_piece(self, piece: Piece, whence: str) -> None:
        parent = whence if piece.parent_id is None else f"board-{piece.parent_id}"
        section = self._section(piece.thickness_mm, piece.width_mm)
        facts = (f"{piece.word}, {piece.state}", section, self._long(piece.length_mm))
        title = f"{piece.word.capitalize()} {piece.tag}, {piece.wood}"
        self._add("board", piece.id, piece.depth, piece.tag, facts, title, parent)
        for use in self.timber.uses_of(piece.id):
            self._add_use(use)
        self._fold(self.timber.sawn_from_piece(piece.id), f"board-{piece.id}", piece.depth + 1)

    def _add_use(self, use: Use) -> None:
        parent = f"board-{use.board_id}"
        if placed := self.places.get(f"member-{use.member_id}"):
            parents = tuple(dict.fromkeys([*placed.parents, parent]))
            self.places[placed.key] = replace(placed, parents=parents)
            return
        uses = [each for each in self.timber.uses if each.member_id == use.member_id]
        stages = " and ".join(dict.fromkeys(each.stage for each in uses))
        total = self._long(sum(each.to_mm - each.from_mm for each in uses))
        taken = f"{total} of it" if len(uses) == 1 else f"{len(uses)} lengths, {total}"
        facts = (f"{use.term}, {stages}", use.vessel_name, taken)
        title = f"{use.term.capitalize()} {use.mark} of {use.vessel_name}"
        self._add("member", use.member_id, 0, use.full_mark, facts, title, parent)

    def _fold(self, pieces: list[Piece], whence: str, column: int) -> None:
        """One box for all that is not shown of what was sawn from one thing."""
        hidden = [piece for piece in pieces if piece.id not in self.shown]
        if not hidden:
            return
        count = sum(1 for _ in self.timber.walk(hidden))
        lines = (f"+ {count}", "more, not allotted;", "see the text")
        node = Node(f"more-{whence}", "more", column, lines, _tags(hidden), _only(whence))
        self.places[node.key] = node

    def _add(self, kind, key, column, name, facts, title, parent) -> None:
        node = Node(
            key=f"{kind}-{key}",
            kind=kind,
            column=column,
            lines=(name, *facts),
            title=f"{title}: {'; '.join(facts)}",
            parents=_only(parent),
            href=self.href(name),
            asked=(kind, key) == (self.asked.kind, self.asked.id),
        )
        self.places[node.key] = node

    def _long(self, mm: float) -> str:
        return size_for(mm, self.units)

    def _section(self, one_mm: float, other_mm: float) -> str:
        finest = 32 if self.units == "imperial32" else 16
        units = "metric" if self.units == "metric" else "imperial"
        return measure.format_section(one_mm, other_mm, None, units, finest)


def _shown(timber: Timber, asked: Answer) -> set[int]:
    """Every piece; or, of too many, those that lead to a member or to what was asked for."""
    members = {use.member_id for use in timber.uses}
    if len(timber.logs) + len(timber.pieces) + len(members) <= MOST_NODES:
        return set(timber.by_id)
    leads = {use.board_id for use in timber.uses}
    if asked.kind == "board":
        leads.add(asked.id)
    return {piece.id for board_id in leads for piece in timber.way_to(board_id)[1]}


def _only(parent: str) -> tuple[str, ...]:
    return (parent,) if parent else ()


def _tags(pieces: list[Piece]) -> str:
    tags = ", ".join(piece.tag for piece in pieces[:20])
    return tags + (" and more" if len(pieces) > 20 else "")
