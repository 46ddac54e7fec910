"""The mark to propose for a member: the letters of her kind, the next number, her side."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from restoration.calc.marks import MARK_LETTERS, ONE_OF

SIDE_LETTERS = ("P", "S")


@dataclass(frozen=True)
class ProposedMark:
    """A mark such as ``FR7P`` and the number in it; a single member such as ``K`` has none."""

    mark: str
    number: int | None


def mark_of(kind: str, number: int | None, side: str = "") -> str:
    """The mark of one member: letters of the kind, number, and P or S where it has a side.

    `kind` is a code of the member table. Raises ValueError for a kind that is not in it.
    """
    if kind not in MARK_LETTERS:
        raise ValueError(f"“{kind}” is no kind of member in the tables here.")
    figure = "" if number is None else str(number)
    return f"{MARK_LETTERS[kind]}{figure}{side if side in SIDE_LETTERS else ''}"


def propose_mark(
    kind: str, taken: Iterable[str], side: str = "", number: int | None = None
) -> ProposedMark:
    """The next mark for a member of this kind that is not among the marks `taken`.

    With a number, its own mark, taken or not. Without one: a kind of which a hull has several
    (floors, frames, beams) gets the number after the highest on its side; any other kind gets
    its bare letters first. Capitals and small letters count as the same mark.
    """
    if number is not None:
        return ProposedMark(mark_of(kind, number, side), number)
    marks = {mark.upper() for mark in taken}
    bare = mark_of(kind, None, side)
    if kind not in ONE_OF and bare not in marks:
        return ProposedMark(bare, None)
    following = _highest(kind, side, marks) + 1
    return ProposedMark(mark_of(kind, following, side), following)


def number_in(mark: str) -> int | None:
    """The number in a mark of letters, number and perhaps a side, ``FR7P``; None in any other."""
    found = re.fullmatch(r"[A-Za-z]+(\d{1,4})[PpSs]?", mark, re.ASCII)
    return int(found[1]) if found else None


def _highest(kind: str, side: str, marks: set[str]) -> int:
    suffix = side if side in SIDE_LETTERS else ""
    numbered = re.compile(rf"{mark_of(kind, None)}(\d+){suffix}", re.ASCII)
    numbers = [int(found[1]) for mark in marks if (found := numbered.fullmatch(mark))]
    # Beside an unnumbered one, such as BSP, the next is number 2.
    unnumbered = 1 if mark_of(kind, None, side) in marks else 0
    return max([unnumbered, *numbers])
