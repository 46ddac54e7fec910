"""The drawing of a pattern: a dash of its own for each line, all parts there, paper the same."""

import io
import re
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader
from reportlab.pdfgen.canvas import Canvas

from restoration.calc.pattern import LINE_KINDS, Bevel, BoltHole, Pattern, PatternLine
from restoration.calc.pattern_figures import figures
from restoration.drawings.hull.paper import Area, Line, Words
from restoration.drawings.pattern.frame import Frame
from restoration.drawings.pattern.shapes import LOOKS, Circle
from restoration.drawings.pattern.sheets import EDGE, Named, full_size, small_drawing
from restoration.drawings.pattern.svg import svg
from restoration.reports.pdf.letters import register_fonts
from restoration.reports.pdf.vectors import Drawing as OnPaper

NAMED = Named("Floor", "TEN-F7", lambda mm: f"{mm:.0f} mm")
FLOOR = Pattern(
    ((0, 170), (150, 60), (530, 0), (910, 55), (1065, 175), (1060, 205), (530, 120), (5, 200)),
    64.0,
    tuple(PatternLine(kind, ((200 + 40 * n, 60), (700, 80))) for n, kind in enumerate(LINE_KINDS)),
    (BoltHole(450, 70, 16), BoltHole(610, 70, 19)),
    (Bevel(150, 3.5), Bevel(910, -2)), -8.0,
)  # fmt: skip


def of(drawing, kind):
    return [shape for shape in drawing.shapes if isinstance(shape, kind)]


def test_each_kind_of_line_has_a_dash_or_a_weight_that_no_other_has():
    looks = [(LOOKS[kind].dash, LOOKS[kind].width) for kind in LINE_KINDS]
    assert len(set(looks)) == len(LINE_KINDS)
    assert len({LOOKS[kind].dash for kind in LINE_KINDS}) == len(LINE_KINDS)


@pytest.mark.parametrize("drawn", [small_drawing, full_size])
def test_every_part_of_the_pattern_is_drawn(drawn):
    drawing = drawn(FLOOR, NAMED)
    assert len([a for a in of(drawing, Area) if len(a.points) == 8]) == 1
    assert {line.tone for line in of(drawing, Line)} >= {*LINE_KINDS, "station", "grain", "cross"}
    assert [c.radius * drawing.scale for c in of(drawing, Circle)] == pytest.approx([8, 9.5])
    words = [each.text for each in of(drawing, Words)]
    assert {"3.5°", "−2°", "grain"} <= set(words)
    for shape in drawing.shapes:
        for x, y in getattr(shape, "points", [(getattr(shape, "x", 0), getattr(shape, "y", 0))]):
            assert 0 <= x <= drawing.width
            assert 0 <= y <= drawing.height


def test_the_small_drawing_has_its_scale_its_dimensions_and_a_key():
    words = {each.text for each in of(small_drawing(FLOOR, NAMED), Words)}
    assert {"1065 mm", "205 mm", "1 : 5 · sided 64 mm", *LINE_KINDS.values()} <= words


def test_the_grain_arrow_points_as_the_grain_runs():
    arrow = next(line for line in of(full_size(FLOOR, NAMED), Line) if line.tone == "grain")
    (x, y), (u, v) = arrow.points
    assert (v - y) / (u - x) == pytest.approx(0.140541, abs=1e-5)  # falls to the right by 8 degrees
    turned = full_size(FLOOR, NAMED, mirrored=True)
    arrow = next(line for line in of(turned, Line) if line.tone == "grain")
    (x, y), (u, v) = arrow.points
    assert (v - y) / (u - x) == pytest.approx(-0.140541, abs=1e-5)


def test_full_size_is_full_size_and_right_way_up():
    drawing = full_size(FLOOR, NAMED)
    (outline,) = of(drawing, Area)
    expected = [(x + EDGE, 205 - y + EDGE) for x, y in FLOOR.outline_mm]
    assert [tuple(map(pytest.approx, p)) for p in outline.points] == expected


def test_turned_over_is_a_mirror_and_twice_is_back():
    once = Frame(FLOOR, 1, 0, 0, mirrored=True)
    upright = Frame(FLOOR, 1, 0, 0)
    for (x, y), (u, v) in zip(once.to(FLOOR.outline_mm), upright.to(FLOOR.outline_mm), strict=True):
        assert x == u
        assert y == pytest.approx(upright.tall - v)


def test_the_drawing_is_sound_svg_that_paper_draws_too():
    register_fonts()
    said = svg(small_drawing(FLOOR, NAMED))
    root = ElementTree.fromstring(said)
    assert "style" not in said
    file = io.BytesIO()
    canvas = Canvas(file)
    OnPaper(said, 500).drawOn(canvas, 20, 200)
    canvas.save()
    text = PdfReader(file).pages[0].extract_text()
    for words in (each.text for each in root.iter() if each.tag.endswith("text")):
        assert words.replace("−", "–") in text


def test_a_name_with_marks_of_markup_is_drawn_as_it_is():
    named = Named('A<b>&"', "TEN-F7", lambda mm: "x")
    assert 'aria-label="A&lt;b&gt;&amp;&quot; of TEN-F7' in svg(small_drawing(FLOOR, named))
    assert re.search(r">A&lt;b&gt;&amp;&quot;</text>", svg(full_size(FLOOR, named)))


def test_the_figures_of_a_pattern_are_those_of_its_shape():
    square = Pattern(
        ((0, 0), (300, 0), (300, 120), (0, 120)), 50.0,
        (PatternLine("rabbet", ((0, 0), (30, 40), (30, 100))),), (BoltHole(100, 45, 20),),
    )  # fmt: skip
    found = figures(square)
    assert (found.long_mm, found.broad_mm, found.area_mm2, found.round_mm) == (
        300, 120, 36_000, 840,
    )  # fmt: skip
    assert found.lines == (("rabbet line", 110.0),)
    assert found.holes[0].to_edge_mm == 35
