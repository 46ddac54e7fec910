"""The pictures of one section sheet: one for each of its ends that differs, with what it says."""

from collections.abc import Sequence
from dataclasses import dataclass

from timber_stock.web.fields import size_for
from timber_stock.wood.distortion import over_green_mm
from timber_stock.wood.outline import Point
from timber_stock.wood.section_sheet import End, SectionSheet

from .section import SectionPicture, section_svg

NEAR = 0.3


@dataclass(frozen=True)
class Drawn:
    """One picture, the end it shows and the exaggeration it is drawn with."""

    end: End
    svg: str
    exaggeration: float


def drawn_ends(
    sheet: SectionSheet, exaggeration: float, units: str, *, key: str = "section"
) -> list[Drawn]:
    """Both ends at one scale; one picture when they are alike."""
    return drawn_alike([sheet], exaggeration, units, key=key)


def drawn_alike(
    sheets: Sequence[SectionSheet], exaggeration: float, units: str, *, key: str
) -> list[Drawn]:
    """Every end of every sheet, all at one scale."""
    ends = [(sheet, end) for sheet in sheets for end in sheet.ends]
    room = _room([end for _, end in ends], exaggeration)
    return [
        Drawn(end, _svg(sheet, end, exaggeration, units, f"{key}-{n}", room), exaggeration)
        for n, (sheet, end) in enumerate(ends)
    ]


def _room(ends: Sequence[End], exaggeration: float) -> tuple[Point, ...]:
    points = [
        point
        for end in ends
        for point in (*end.shape.outline_mm, *over_green_mm(end.shape.dried, exaggeration))
    ]
    points += [end.shape.pith_mm for end in ends if _is_near(end)]
    xs, ys = zip(*points, strict=True)
    return ((min(xs), min(ys)), (max(xs), max(ys)))


def _is_near(end: End) -> bool:
    """Whether the heart lies near enough to be shown beside the section."""
    size = max(end.shape.change.width.green_mm, end.shape.change.thickness.green_mm)
    return end.shape.angles.heart_clearance_mm < NEAR * size


def _svg(
    sheet: SectionSheet,
    end: End,
    exaggeration: float,
    units: str,
    key: str,
    room: tuple[Point, ...],
) -> str:
    xs, ys = zip(*end.shape.outline_mm, strict=True)
    wide, thick = (size_for(max(at) - min(at), units) for at in (xs, ys))
    moved = sheet.movement
    times = f"{exaggeration:g} times its movement" if exaggeration != 1 else "its true movement"
    return section_svg(
        SectionPicture(
            dried=end.shape.dried,
            exaggeration=exaggeration,
            key=key,
            width_text=wide,
            thickness_text=thick,
            begins=moved.begins_at,
            description=f"A section {wide} by {thick}, {moved.begins_at} and at "
            f"{moved.to_percent:g} % moisture, drawn with {times}",
            within=room,
        )
    )
