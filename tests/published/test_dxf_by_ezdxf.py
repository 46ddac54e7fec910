"""Our DXF drawings against ezdxf, a general-purpose library that reads and draws them by itself."""

import io
import math

import ezdxf
import pytest
from ezdxf.math import bulge_to_arc
from ezdxf.units import InsertUnits
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.pattern import LINE_KINDS, Bevel, BoltHole, Pattern, PatternLine
from restoration.calc.pattern_dxf.flat import TOLERANCE_MM, runs
from restoration.calc.pattern_dxf.layers import NAMES
from restoration.calc.pattern_dxf.reading import read_drawing
from restoration.calc.pattern_dxf.units import BY_HEADER, UNIT_WORDS
from restoration.calc.pattern_dxf.writing import pattern_as_dxf

KNEE = Pattern(
    ((0, 0), (419.5, 0), (421.25, 44), (130, 141), (43, 420.125), (0, 417)), 39.6875,
    tuple(PatternLine(kind, ((5 + n, 5), (60, 60 + n))) for n, kind in enumerate(LINE_KINDS)),
    (BoltHole(60, 28.5, 6.35), BoltHole(26, 320, 12.7)), (Bevel(100, 3.5), Bevel(300, -2.25)), 12,
)  # fmt: skip


def opened(data: bytes):
    return ezdxf.read(io.StringIO(data.decode("utf-8")))


def written(draw) -> bytes:
    document = ezdxf.new("R2010", units=4)
    draw(document.modelspace())
    file = io.StringIO()
    document.write(file)
    return file.getvalue().encode()


def test_ezdxf_reads_our_drawing_without_a_fault_and_finds_every_figure():
    document = opened(pattern_as_dxf(KNEE, "knee"))
    assert not document.audit().errors
    assert document.dxfversion == "AC1024"  # R2010
    assert document.header["$INSUNITS"] == InsertUnits.Millimeters
    space = document.modelspace()
    (outline,) = space.query(f'LWPOLYLINE[layer=="{NAMES["outline"]}"]')
    assert outline.closed
    assert [tuple(p) for p in outline.get_points("xy")] == list(KNEE.outline_mm)
    circles = {(c.dxf.center.x, c.dxf.center.y, 2 * c.dxf.radius) for c in space.query("CIRCLE")}
    assert circles == {(h.x_mm, h.y_mm, h.diameter_mm) for h in KNEE.holes}
    for line in KNEE.lines:
        (drawn,) = space.query(f'LWPOLYLINE[layer=="{NAMES[line.kind]}"]')
        assert [tuple(p) for p in drawn.get_points("xy")] == list(line.points_mm)
    assert {t.dxf.text for t in space.query("TEXT")} == {"BEVEL 3.5", "BEVEL -2.25"}


def test_each_kind_of_line_has_a_layer_and_a_line_type_of_its_own():
    document = opened(pattern_as_dxf(KNEE))
    drawn = [document.layers.get(NAMES[kind]) for kind in LINE_KINDS]
    assert len({layer.dxf.name for layer in drawn}) == len(LINE_KINDS)
    assert len({layer.dxf.linetype for layer in drawn}) == len(LINE_KINDS)


def test_the_numbers_of_units_in_a_header_mean_what_ezdxf_says():
    """DXF reference, $INSUNITS, as ezdxf.units.InsertUnits has it."""
    american = {"millimetres": "Millimeters", "centimetres": "Centimeters",
                "decimetres": "Decimeters", "metres": "Meters"}  # fmt: skip
    for number, unit in BY_HEADER.items():
        words = UNIT_WORDS[unit]
        assert InsertUnits(number).name == american.get(words, words.capitalize())


@given(
    st.floats(-4, 4).filter(lambda b: abs(b) > 0.01),
    st.tuples(st.floats(-500, 500), st.floats(-500, 500)),
    st.floats(50, 2000),
    st.floats(0, 360),
)
@settings(max_examples=50, deadline=None)
def test_a_bulge_makes_the_arc_that_ezdxf_makes_of_it(bulge, start, chord, turn):
    end = (start[0] + chord * math.cos(turn), start[1] + chord * math.sin(turn))
    data = written(lambda s: s.add_lwpolyline([(*start, bulge), (*end, 0)], format="xyb"))
    (run,) = runs(read_drawing(data), 1.0)
    centre, first, last, radius = bulge_to_arc(start, end, bulge)
    for x, y in run.points_mm:
        assert math.dist((x, y), centre) == pytest.approx(radius, abs=1e-4)
        angle = math.atan2(y - centre.y, x - centre.x)
        assert (angle - first) % math.tau <= (last - first) % math.tau + 1e-4 or math.isclose(
            (angle - first) % math.tau, math.tau, abs_tol=1e-4
        )
    for a, b in zip(run.points_mm, run.points_mm[1:], strict=False):
        half = math.dist(a, b) / 2
        assert radius - math.sqrt(max(radius**2 - half**2, 0)) <= TOLERANCE_MM + 1e-6


@pytest.mark.parametrize("mm_per_unit", [1.0, 25.4, 1000.0])
def test_splines_and_ellipses_are_followed_to_the_stated_tolerance(mm_per_unit):
    """Against ezdxf's own evaluation of the curve at 4,000 places."""
    size = 1000 / mm_per_unit
    fit = [(0, 0), (0.3 * size, 0.2 * size), (0.6 * size, -0.1 * size), (size, 0.3 * size)]

    def draw(space):
        space.add_spline(fit)
        space.add_ellipse((0, 0), (0.5 * size, 0.1 * size), 0.4, 0.3, 4.0)

    found = read_drawing(written(draw))
    curves = [
        found.curves[0].entity.construction_tool(), found.curves[1].entity.construction_tool(),
    ]  # fmt: skip
    spline, ellipse = runs(found, mm_per_unit)
    places = [curves[0].max_t * n / 4000 for n in range(4001)]
    _all_near(spline.points_mm, [p * mm_per_unit for p in curves[0].points(places)])
    places = [0.3 + (4.0 - 0.3) * n / 4000 for n in range(4001)]
    _all_near(ellipse.points_mm, [p * mm_per_unit for p in curves[1].vertices(places)])


def _all_near(drawn, true_points):
    from shapely import LineString, Point

    way = LineString(drawn)
    assert max(way.distance(Point(p.x, p.y)) for p in true_points) <= TOLERANCE_MM


def test_an_arc_of_a_great_radius_is_followed_too():
    """A plank's sweep: 20 m radius, over 2 m; a Bézier curve for it would be out by more."""
    data = written(lambda s: s.add_arc((0, -20_000), 20_000, 87, 93))
    (run,) = runs(read_drawing(data), 1.0)
    middles = [
        ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        for a, b in zip(run.points_mm, run.points_mm[1:], strict=False)
    ]
    for point in (*run.points_mm, *middles):
        assert abs(math.dist(point, (0, -20_000)) - 20_000) <= TOLERANCE_MM + 1e-6
