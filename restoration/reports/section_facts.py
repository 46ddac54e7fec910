"""Figures that explain a choice: the same section cut otherwise, and where in the log it lay."""

from dataclasses import dataclass


@dataclass(frozen=True)
class FigureDrawn:
    """One drawing as the screen shows it (SVG), and what is said under it."""

    svg: str
    caption: str


@dataclass(frozen=True)
class Choice:
    """Why the timber of these members is cut as it is. `figures` lists what was reckoned with and
    the source of each."""

    marks: tuple[str, ...]
    term: str
    asked: str
    drawn: tuple[FigureDrawn, ...]
    reckoned: str = ""
    figures: tuple[str, ...] = ()
