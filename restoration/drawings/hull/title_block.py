"""The foot of the sheet: what the hatches mean, what stands out, notes, scale and title block."""

from collections.abc import Sequence
from dataclasses import dataclass

from restoration.calc.lines import CAUTION
from restoration.calc.tiles import Paper
from restoration.drawings.hull.fold_out import A3, share
from restoration.drawings.hull.hatch import hatching
from restoration.drawings.hull.paper import Area, Line, Mark, Words, broken, width_of

FOOT_MM = 304.8
COLUMNS = (0.19, 0.47, 0.715, 1.0)
"""Where the four columns end: legend, members by class, notes, title."""
TO_THE_FOOT = {
    8: "1 1/2 in", 12: "1 in", 16: "3/4 in", 24: "1/2 in", 32: "3/8 in", 48: "1/4 in",
    64: "3/16 in", 96: "1/8 in",
}  # fmt: skip


@dataclass(frozen=True)
class Title:
    """legend: state, figure and words, each with how many. listed: heading and the marks under it.
    particulars: label and value. notes: sentences. feet: whether her people measure in feet.
    paper: what it is printed on."""

    name: str
    code: str
    heading: str
    yard: str
    drawn_on: str
    particulars: tuple[tuple[str, str], ...] = ()
    legend: tuple[tuple[str, str, str, int], ...] = ()
    listed: tuple[tuple[str, tuple[str, ...]], ...] = ()
    notes: tuple[str, ...] = ()
    feet: bool = True
    paper: Paper = A3


def block(title: Title, scale: float, box: tuple[float, float, float, float]) -> list[Mark]:
    left, top, right, foot = box
    edges = [left, *(left + (right - left) * share for share in COLUMNS)]
    rules = [Line(((x, top), (x, foot)), "rule") for x in edges[1:-1]]
    return [
        Line(((left, top), (right, top)), "rule"),
        *rules,
        *_legend(title, edges[0] + 3, top),
        *_listed(title, edges[1] + 3, top, edges[2] - edges[1] - 6, foot),
        *_notes(title, edges[2] + 3, top, edges[3] - edges[2] - 6, foot),
        *_title(title, scale, (edges[3], top, right, foot)),
    ]


def _heading(text: str, x: float, top: float) -> Words:
    return Words(x, top + 4.6, text, 2.3, tone="caption")


def _legend(title: Title, x: float, top: float) -> list[Mark]:
    found: list[Mark] = [_heading("KEY", x, top)]
    step = min(32.5 / max(len(title.legend), 1), 5.4)
    for number, (state, figure, words, count) in enumerate(title.legend):
        y = top + 6.6 + number * step
        tall = step - 1.0
        corners = ((x, y), (x + 11, y), (x + 11, y + tall), (x, y + tall))
        middle = y + tall / 2 + 0.8
        found += [
            Area(corners),
            *hatching(corners, state),
            Words(x + 13, middle, figure, 2.3, tone="badge"),
            Words(x + 18.5, middle, words, 2.2),
            Words(x + 68, middle, str(count), 2.3, "end", tone="badge"),
        ]
    return found


def _listed(title: Title, x: float, top: float, width: float, foot: float) -> list[Mark]:
    """Marks of the members that stand out, worst first, as far as there is room."""
    found: list[Mark] = []
    y = top + 4.6
    for heading, marks in title.listed:
        if y > foot - 3.5:
            break
        found.append(Words(x, y, f"{heading} ({len(marks)})", 2.3, tone="caption"))
        rows = broken(" ".join(marks) or "none", width, 2.1)
        room = max(int((foot - 1.5 - y) / 2.9), 0)
        for line in _fitted(rows, room):
            y += 2.9
            found.append(Words(x, y, line, 2.1, tone="mark"))
        y += 4.2
    return found


def _fitted(rows: Sequence[str], room: int) -> Sequence[str]:
    if len(rows) <= room:
        return rows
    return [*rows[: room - 1], f"{rows[room - 1]} …"] if room else []


def _notes(title: Title, x: float, top: float, width: float, foot: float) -> list[Mark]:
    found: list[Mark] = [_heading("NOTES", x, top)]
    size, step = 1.9, 2.7
    rows = [row for note in (CAUTION, *title.notes) for row in _numbered(note, width, size)]
    room = int((foot - top - 7) / step)
    for number, row in enumerate(_fitted(rows, room)):
        found.append(Words(x, top + 8.2 + number * step, row, size))
    return found


def _numbered(note: str, width: float, size: float) -> list[str]:
    first, *rest = broken(note, width - 2.5, size) or [""]
    return [f"– {first}", *(f"\u2002 {row}" for row in rest)]


def _title(title: Title, scale: float, box: tuple[float, float, float, float]) -> list[Mark]:
    left, top, right, foot = box
    x = left + 3
    size = min(7.0, (right - left - 24) / max(width_of(title.name, 1), 1))
    found: list[Mark] = [
        Words(x, top + 8.4, title.name, size, tone="name"),
        Words(right - 3, top + 8.4, title.code, 4.2, "end", tone="mark"),
        Words(x, top + 12.7, title.heading, 2.7, tone="caption"),
        Line(((left, top + 14.6), (right, top + 14.6)), "rule"),
    ]
    found += _particulars(title, (left, top + 14.6, right, top + 24))
    return [*found, *_scale(title, scale, (left, top + 24, right, foot))]


def _particulars(title: Title, box: tuple[float, float, float, float]) -> list[Mark]:
    left, top, right, foot = box
    cell = (right - left) / max(len(title.particulars), 1)
    found: list[Mark] = [Line(((left, foot), (right, foot)), "rule")]
    for number, (label, value) in enumerate(title.particulars):
        x = left + cell * number
        found += [
            Words(x + 3, top + 3.6, label, 1.7, tone="soft"),
            Words(x + 3, top + 7.6, value, 2.5),
        ]
        if number:
            found.append(Line(((x, top), (x, foot)), "rule"))
    return found


def _scale(title: Title, scale: float, box: tuple[float, float, float, float]) -> list[Mark]:
    left, top, right, _ = box
    printed = scale / share(title.paper)
    to_the_foot = f" ({TO_THE_FOOT[int(printed)]} to the foot)" if printed in TO_THE_FOOT else ""
    said = f"Scale 1:{printed:.3g}{to_the_foot} along her length, on {title.paper.name}"
    return [
        Words(left + 3, top + 3.8, said, 2.3),
        *_scale_bar(title, scale, left + 3, top + 6),
        Words(left + 3, top + 14.2, title.yard, 2.1, tone="soft"),
        Words(right - 3, top + 14.2, f"Drawn {title.drawn_on}", 2.1, "end", tone="soft"),
    ]


def _scale_bar(title: Title, scale: float, x: float, y: float) -> list[Mark]:
    unit = (FOOT_MM if title.feet else 1000.0) / scale
    step = next((n for n in (1, 2, 5, 10, 20) if unit * n >= 9), 50)
    count = max(int(80 / (unit * step)), 1)
    found: list[Mark] = []
    for number in range(count):
        start, end = x + number * step * unit, x + (number + 1) * step * unit
        corners = ((start, y), (end, y), (end, y + 1.4), (start, y + 1.4))
        found.append(Area(corners, "ink" if number % 2 == 0 else "member"))
        found.append(
            Words(start, y + 4.2, str(number * step), 1.8, "middle" if number else "start")
        )
    end_words = f"{count * step} {'ft' if title.feet else 'm'}"
    return [*found, Words(x + count * step * unit, y + 4.2, end_words, 1.8, "middle")]
