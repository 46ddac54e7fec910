"""A drawing as it came, before it is a pattern: every line faint, the closed ones numbered."""

from collections.abc import Sequence

from restoration.calc.pattern import Point
from restoration.calc.pattern_dxf.chains import Loop
from restoration.calc.pattern_dxf.flat import Run
from restoration.drawings.hull.paper import Line, Words
from restoration.drawings.pattern.shapes import Drawing, Shape

WIDE, TALL, EDGE = 240.0, 140.0, 6.0


def unsorted_drawing(runs: Sequence[Run], loops: Sequence[Loop]) -> Drawing:
    """Every run of a drawing, and its loops by the numbers they are asked about with."""
    points = [point for run in runs for point in run.points_mm]
    left, high = min(x for x, _ in points), max(y for _, y in points)
    long = max(max(x for x, _ in points) - left, 1e-9)
    broad = max(high - min(y for _, y in points), 1e-9)
    scale = max(long / (WIDE - 2 * EDGE), broad / (TALL - 2 * EDGE))

    def to(places: Sequence[Point]) -> tuple[Point, ...]:
        return tuple((EDGE + (x - left) / scale, EDGE + (high - y) / scale) for x, y in places)

    found: list[Shape] = [Line(to(run.points_mm), "rabbet") for run in runs]
    if len(loops) > 1:
        for number, loop in enumerate(loops, 1):
            corners = to((*loop.points_mm, loop.points_mm[0]))
            found.append(Line(corners, "loop"))
            x, y = min(corners)
            found.append(Words(x + 2, y - 1, str(number), 5, tone="sheet"))
    tall = broad / scale + 2 * EDGE
    return Drawing(WIDE, tall, scale, "The lines of the drawing as it came", tuple(found))
