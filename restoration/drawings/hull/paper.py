"""What stands on the sheet, in mm of paper from its top left corner: plain data, no format.

`tone` names a weight of line or letter; a writer for a format decides how it looks.
"""

from dataclasses import dataclass

from restoration.calc.curves import Point


@dataclass(frozen=True)
class Area:
    points: tuple[Point, ...]
    tone: str = "member"


@dataclass(frozen=True)
class Line:
    points: tuple[Point, ...]
    tone: str = "thin"


@dataclass(frozen=True)
class Words:
    """`angle` turns the text about its place, in degrees, clockwise as on paper."""

    x: float
    y: float
    text: str
    size: float = 2.2
    anchor: str = "start"
    angle: float = 0.0
    tone: str = "plain"


@dataclass(frozen=True)
class Hatch:
    """The lines of a hatch, each from point to point; `state` says which hatch it is."""

    segments: tuple[tuple[Point, Point], ...]
    state: str


Mark = Area | Line | Words | Hatch


@dataclass(frozen=True)
class Member:
    """All that is drawn of one member in one view. `again` where another view has it already."""

    key: str
    title: str
    href: str
    state: str
    faint: bool
    marks: tuple[Mark, ...]
    again: bool = False


@dataclass(frozen=True)
class Sheet:
    """The whole drawing, from the back to the front; `says` is what it is, in words."""

    width: float
    height: float
    says: str
    items: tuple[Mark | Member, ...]


def width_of(text: str, size: float) -> float:
    """About how wide a text is: enough to keep texts apart and to break lines."""
    return 0.57 * size * len(text)


def broken(text: str, width: float, size: float) -> list[str]:
    """A text in lines no wider than `width`."""
    found: list[str] = []
    for word in text.split():
        joined = f"{found[-1]} {word}" if found else word
        if found and width_of(joined, size) <= width:
            found[-1] = joined
        else:
            found.append(word)
    return found
