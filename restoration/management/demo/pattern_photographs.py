"""A pattern on a board, drawn as a camera would see it, its marks set and its outline traced."""

import io
import random

import numpy as np
from PIL import ImageDraw, ImageFilter

from restoration.actions.pattern_photographs import (
    keep_pattern_photograph,
    keep_traced_pattern,
    set_marks,
)
from restoration.calc.pattern import BoltHole, Pattern
from restoration.calc.rectify import Mark, Plane, fit_plane, to_px
from restoration.models import Member, User
from timber_stock.web.pictures import take_in

from .pictures import SIZE, grain, write
from .read import mm, read

PLY, CARD, INK = (222, 206, 172), (112, 82, 58), (40, 40, 46)


def load_pattern_photographs() -> None:
    yard = User.objects.get(username="yard")
    for row in read("pattern_photographs")["photograph"]:
        plane = _plane(row)
        jpeg = _drawn(row, plane, random.Random(row["name"]))
        kept = keep_pattern_photograph(
            member=Member.objects.get(vessel__code=row["vessel"], mark=row["member"]),
            picture=take_in(io.BytesIO(jpeg), "board.jpg"),
            above_mm=mm(row["above"]),
            by=yard,
        )
        set_marks(
            photograph=kept, marks=_marks(row, plane), above_mm=mm(row["above"]),
            as_entered=_as_typed(row, plane),
        )  # fmt: skip
        keep_traced_pattern(
            photograph=kept, pattern=_shape(row), drawing=_tables(row), by=yard, name=row["name"],
            taken_on=row["on"], note=row["note"],
        )  # fmt: skip


def _plane(row: dict) -> Plane:
    wide, tall = row["board"]
    corners = [(0, 0), (wide, 0), (wide, tall), (0, tall)]
    seen = [Mark(*px, *true) for px, true in zip(row["seen"], corners, strict=True)]
    return fit_plane(seen, *SIZE).plane


def _marks(row: dict, plane: Plane) -> list[Mark]:
    """Tapped a little beside where they are, as the fixture says."""
    seen = to_px(plane, np.array(row["marks"], dtype=float)) + np.array(row["taps"])
    return [
        Mark(round(float(x), 1), round(float(y), 1), *map(float, true))
        for (x, y), true in zip(seen, row["marks"], strict=True)
    ]


def _as_typed(row: dict, plane: Plane) -> dict:
    typed = {"how": "places", "above_mm": row["above"]}
    for n, mark in enumerate(_marks(row, plane), 1):
        typed |= {
            f"px_{n}": f"{mark.x_px:g}", f"py_{n}": f"{mark.y_px:g}",
            f"x_{n}": f"{mark.x_mm:g} mm", f"y_{n}": f"{mark.y_mm:g} mm",
        }  # fmt: skip
    return typed


def _shape(row: dict) -> Pattern:
    return Pattern(
        outline_mm=tuple((float(x), float(y)) for x, y in row["outline"]),
        sided_mm=mm(row["sided"]),
        holes=tuple(BoltHole(*map(float, hole)) for hole in row["holes"]),
    )


def _tables(row: dict) -> dict[str, str]:
    tables = {
        name: "\n".join("; ".join(f"{n:g}" for n in each) for each in row[name])
        for name in ("outline", "holes")
    }
    return {"name": row["name"], "sided_mm": row["sided"], **tables}


def _drawn(row: dict, plane: Plane, chance) -> bytes:
    picture = grain(chance)
    pen = ImageDraw.Draw(picture)
    wide, tall = row["board"]

    def seen(points):
        return [tuple(p) for p in to_px(plane, np.array(points, dtype=float))]

    pen.polygon(seen([(0, 0), (wide, 0), (wide, tall), (0, tall)]), PLY, INK)
    pen.polygon(seen(row["outline"]), CARD, INK)
    for x, y, through in row["holes"]:
        pen.polygon(seen(_ring(x, y, through / 2)), PLY, INK)
    for x, y in row["marks"]:
        pen.line(seen([(x - 12, y), (x + 12, y)]), INK, 2)
        pen.line(seen([(x, y - 12), (x, y + 12)]), INK, 2)
        pen.line(seen([*_ring(x, y, 18), (x + 18, y)]), INK, 2)
    picture = picture.filter(ImageFilter.GaussianBlur(0.8))
    write(picture, f"A pattern for {row['member']} on its board")
    out = io.BytesIO()
    picture.save(out, "JPEG", quality=90)
    return out.getvalue()


def _ring(x: float, y: float, radius: float) -> list[tuple[float, float]]:
    turns = np.linspace(0, 2 * np.pi, 36, endpoint=False)
    return [(x + radius * float(np.cos(a)), y + radius * float(np.sin(a))) for a in turns]
