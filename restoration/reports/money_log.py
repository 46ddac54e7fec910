"""Where the cost of one log lies: what each member carries of it, and what is still in stock."""

from dataclasses import dataclass
from decimal import Decimal

from restoration.calc.money_chain import Carried
from restoration.reports.money_timber import Spread, TimberMoney
from restoration.reports.thread_parts import Piece, Use

NOT_FOR_A_MEMBER = {
    "used": "used up, for no member on record",
    "gone": "sold or scrapped",
}


@dataclass(frozen=True)
class MemberShare:
    use: Use
    carried: Carried


@dataclass(frozen=True)
class BoardShare:
    """A board, or what is left of one; `piece` is None for the log itself, not sawn yet."""

    piece: Piece | None
    state: str
    carried: Carried


@dataclass(frozen=True)
class LogMoney:
    spread: Spread
    members: tuple[MemberShare, ...]
    in_stock: tuple[BoardShare, ...]
    out_of_stock: tuple[BoardShare, ...]
    by_worth: int  # how many of its boards have a worth set
    boards: int

    @property
    def paid(self) -> Decimal:
        return self.spread.paid

    @property
    def in_members(self) -> Carried:
        return sum((share.carried for share in self.members), Carried())

    @property
    def lying_in_stock(self) -> Carried:
        return sum((share.carried for share in self.in_stock), Carried())

    @property
    def gone(self) -> Carried:
        return sum((share.carried for share in self.out_of_stock), Carried())


def log_money(money: TimberMoney, log_id: int, worths: int) -> LogMoney:
    tree = next(spread for spread in money.spreads if spread.log_id == log_id)
    uses = {str(use.id): use for use in money.timber.uses}
    tags = {piece.tag: piece for piece in money.timber.pieces}
    shares = [
        BoardShare(tags.get(entry.key), _state(entry.kind, tags.get(entry.key)), entry.carried)
        for entry in tree.entries
        if entry.kind != "length"
    ]
    out = set(NOT_FOR_A_MEMBER.values())
    return LogMoney(
        spread=tree,
        members=tuple(
            MemberShare(uses[entry.key], entry.carried)
            for entry in tree.entries
            if entry.kind == "length"
        ),
        in_stock=tuple(share for share in shares if share.state not in out),
        out_of_stock=tuple(share for share in shares if share.state in out),
        by_worth=worths,
        boards=len(money.timber.pieces),
    )


def _state(kind: str, piece: Piece | None) -> str:
    if kind == "unsawn" or piece is None:
        return "not sawn yet"
    return NOT_FOR_A_MEMBER.get(kind, piece.state)
