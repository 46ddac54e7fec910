"""The text of a thread page: where a thing came from, where it went, what is left."""

from dataclasses import dataclass

from restoration.calc.free_length import Stretch, free_stretches
from restoration.reports.thread_content import board_timber, log_timber, members_timber
from restoration.reports.thread_lookup import Answer
from restoration.reports.thread_parts import Chain, LogFacts, Piece, Step, Timber, Use, upward

DEEPEST_INDENT = 8


@dataclass(frozen=True)
class Branch:
    """One piece on the way down: what it became, whom it went to and what is free of it."""

    piece: Piece
    became: tuple[Piece, ...]
    uses: tuple[Use, ...]
    free: tuple[Stretch, ...]
    asked: bool

    @property
    def indent(self) -> int:
        return min(self.piece.depth, DEEPEST_INDENT)


@dataclass(frozen=True)
class Tree:
    """One log (None: bought sawn) and everything out of it, each piece before its own pieces."""

    log: LogFacts | None
    first: tuple[Piece, ...]
    branches: tuple[Branch, ...]
    asked: bool

    def left(self) -> list[Branch]:
        return [branch for branch in self.branches if branch.free]


@dataclass(frozen=True)
class ThreadText:
    chains: tuple[Chain, ...]  # of a member: up to each log
    steps: tuple[Step, ...]  # of a board: up to its log
    went: tuple[Use, ...]  # of a log or a board: into which members
    trees: tuple[Tree, ...]


def timber_of(answer: Answer) -> Timber:
    if answer.kind == "member":
        return members_timber([answer.id])
    return log_timber(answer.id) if answer.kind == "log" else board_timber(answer.id)


def thread_text(timber: Timber, answer: Answer) -> ThreadText:
    trees = [_tree(timber, log, answer) for log in (*timber.logs, None)]
    return ThreadText(
        chains=_chains(timber, answer),
        steps=tuple(upward(*timber.way_to(answer.id))) if answer.kind == "board" else (),
        went=_went(timber, answer),
        trees=tuple(tree for tree in trees if tree.log or tree.branches),
    )


def _chains(timber: Timber, answer: Answer) -> tuple[Chain, ...]:
    if answer.kind != "member":
        return ()
    return tuple(timber.chain_of(use) for use in timber.uses if use.member_id == answer.id)


def _went(timber: Timber, answer: Answer) -> tuple[Use, ...]:
    if answer.kind == "member":
        return ()
    start = timber.sawn_from_log(answer.id) if answer.kind == "log" else [timber.by_id[answer.id]]
    return tuple(use for piece in timber.walk(start) for use in timber.uses_of(piece.id))


def _tree(timber: Timber, log: LogFacts | None, answer: Answer) -> Tree:
    first = timber.sawn_from_log(log.id if log else None)
    return Tree(
        log=log,
        first=tuple(first),
        branches=tuple(_branch(timber, piece, answer) for piece in timber.walk(first)),
        asked=log is not None and (answer.kind, answer.id) == ("log", log.id),
    )


def _branch(timber: Timber, piece: Piece, answer: Answer) -> Branch:
    uses = timber.uses_of(piece.id)
    taken = [Stretch(use.from_mm, use.to_mm) for use in uses]
    return Branch(
        piece=piece,
        became=tuple(timber.sawn_from_piece(piece.id)),
        uses=tuple(uses),
        free=tuple(free_stretches(piece.length_mm, taken)) if piece.is_in_stock else (),
        asked=(answer.kind, answer.id) == ("board", piece.id),
    )
