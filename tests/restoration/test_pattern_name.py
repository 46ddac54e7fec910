"""The name of a pattern at full size stands clear of its grain arrow, its lines and its edge."""

import pytest
from shapely import LineString, Polygon, box

from restoration.calc.pattern import Bevel, BoltHole, Pattern, PatternLine
from restoration.drawings.hull.paper import Line, Words, width_of
from restoration.drawings.pattern.sheets import EDGE, Named, full_size

NAMED = Named("Hanging knee", "TEN-HK2P", lambda mm: f"{mm:.0f} mm")
BROAD = ((0, 0), (420, 25), (610, 240), (480, 330), (60, 190))
NARROW = ((0, 0), (900, 30), (890, 88), (0, 61))


def pattern(outline, grain, lines=(), holes=(), bevels=()):
    return Pattern(outline, 44.0, tuple(lines), tuple(holes), tuple(bevels), grain)


def written(drawing):
    """The two rows of the name, each as the box it fills."""
    found = []
    for each in drawing.shapes:
        if isinstance(each, Words) and (each.tone == "bold" or "sided" in each.text):
            half = width_of(each.text, each.size) / 2
            found.append(box(each.x - half, each.y - 0.75 * each.size, each.x + half, each.y))
    assert len(found) == 2
    return found


def struck(drawing):
    lines = [each for each in drawing.shapes if isinstance(each, Line)]
    rows = written(drawing)
    return {each.tone for each in lines for row in rows if LineString(each.points).intersects(row)}


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("grain", [-88.0, -37.0, -14.0, 0.0, 22.0, 61.0, 90.0])
def test_whichever_way_the_grain_runs_its_arrow_crosses_no_name(grain, mirrored):
    assert struck(full_size(pattern(BROAD, grain), NAMED, mirrored=mirrored)) == set()


def test_a_name_beside_a_centreline_a_hole_and_a_station_is_crossed_by_none():
    drawing = full_size(
        pattern(
            NARROW, 3.0, [PatternLine("centre", ((5, 30), (890, 58)))],
            [BoltHole(140, 20, 16)], [Bevel(60, 4), Bevel(230, 2), Bevel(330, -3)],
        ),
        NAMED,
    )  # fmt: skip
    timber = Polygon([(x + EDGE, 88 - y + EDGE) for x, y in NARROW])
    assert struck(drawing) == set()
    assert all(timber.contains(row) for row in written(drawing))


def test_where_nothing_is_clear_the_arrow_at_least_is_let_alone():
    lines = [PatternLine("other", ((5, y), (880, y + 27))) for y in range(5, 60, 6)]
    drawing = full_size(pattern(NARROW, 40.0, lines), NAMED)
    assert "grain" not in struck(drawing)
    assert "cut" not in struck(drawing)
