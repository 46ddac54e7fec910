"""A pattern written as a DXF drawing of its own: millimetres, a layer for each kind of line."""

import io
import math

from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new
from ezdxf.layouts.layout import Modelspace

from restoration.calc.pattern import Pattern, checked
from restoration.calc.pattern_dxf.layers import NAMES
from restoration.calc.pattern_dxf.units import MILLIMETRES

VERSION = "R2010"
TEXT_MM = 8.0
_LINETYPES = {
    "inner_rabbet": "DASHED",
    "bearding": "DASHED2",
    "centre": "CENTER",
    "waterline": "DOT",
    "scarf": "DASHDOT",
    "other": "HIDDEN",
    "grain": "PHANTOM",
}
_COLOURS = {"outline": 7, "holes": 1, "bevels": 3, "grain": 8}


def pattern_as_dxf(pattern: Pattern, title: str = "") -> bytes:
    """The drawing as a file. The siding stands in the header's custom properties.

    The outline is one closed polyline, holes are circles, a bevel is a text “BEVEL 3.5” at its
    place along, the grain a line. Raises ValueError where the pattern does not hold.
    """
    checked(pattern)
    document = new(VERSION, setup=["linetypes"])
    document.header["$INSUNITS"] = MILLIMETRES
    document.header["$MEASUREMENT"] = 1  # metric, by the DXF reference
    document.header["$LTSCALE"] = 10.0
    document.header.custom_vars.append("SIDED_MM", f"{pattern.sided_mm:.6g}")
    document.header.custom_vars.append("TITLE", title)
    for use, name in NAMES.items():
        document.layers.add(
            name, color=_COLOURS.get(use, 4), linetype=_LINETYPES.get(use, "CONTINUOUS")
        )
    space = document.modelspace()
    _draw(space, pattern)
    file = io.StringIO()
    document.write(file)
    return file.getvalue().encode(document.output_encoding, errors="dxfreplace")


def _draw(space: Modelspace, pattern: Pattern) -> None:
    space.add_lwpolyline(pattern.outline_mm, close=True, dxfattribs={"layer": NAMES["outline"]})
    for line in pattern.lines:
        space.add_lwpolyline(line.points_mm, dxfattribs={"layer": NAMES[line.kind]})
    for hole in pattern.holes:
        attributes = {"layer": NAMES["holes"]}
        space.add_circle((hole.x_mm, hole.y_mm), hole.diameter_mm / 2, dxfattribs=attributes)
    low = min(y for _, y in pattern.outline_mm)
    for bevel in pattern.bevels:
        text = space.add_text(
            f"BEVEL {bevel.degrees:.6g}", height=TEXT_MM, dxfattribs={"layer": NAMES["bevels"]}
        )
        text.set_placement((bevel.x_mm, low - 2 * TEXT_MM), align=TextEntityAlignment.LEFT)
    _draw_grain(space, pattern, low - 4 * TEXT_MM)


def _draw_grain(space: Modelspace, pattern: Pattern, below: float) -> None:
    """Below the pattern, a third of its length long."""
    xs = [x for x, _ in pattern.outline_mm]
    turn, long = math.radians(pattern.grain_deg), (max(xs) - min(xs)) / 3
    middle = ((min(xs) + max(xs)) / 2, below - long)
    half = (math.cos(turn) * long / 2, math.sin(turn) * long / 2)
    space.add_line(
        (middle[0] - half[0], middle[1] - half[1]),
        (middle[0] + half[0], middle[1] + half[1]),
        dxfattribs={"layer": NAMES["grain"]},
    )
