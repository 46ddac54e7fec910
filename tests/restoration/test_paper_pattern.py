"""The full-size paper pattern, read back out of the PDF by pypdf: sizes, places, seams."""

import io
import re

import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

from restoration.calc.pattern import Bevel, BoltHole, Pattern, PatternLine
from restoration.calc.tiles import FOOT_MM, MARGIN_MM, OVERLAP_MM, tiling
from restoration.drawings.pattern.sheets import EDGE, Named, full_size, is_drawn, with_sheets
from restoration.drawings.pattern.svg import svg
from restoration.reports.pdf.pattern_tiles import (
    PaperPattern,
    draw_paper_pattern,
    how_to_join,
)

POINT_MM = 25.4 / 72
SWEPT = Pattern(
    ((0, 0), (430, 90), (811, 395), (700, 480), (350, 215), (-20, 130)), 63.5,
    (PatternLine("rabbet", ((30, 50), (400, 140), (730, 410))),
     PatternLine("bearding", ((30, 80), (390, 170), (715, 430)))),
    (BoltHole(187, 100, 19),), (Bevel(300, 4.5),), 20,
)  # fmt: skip
NAMED = Named("Stem foot", "TEN-SF1", lambda mm: f"{mm:.0f} mm")


def paper(name, pattern=SWEPT, mirrored=False):
    drawing = full_size(pattern, NAMED, mirrored=mirrored)
    laid = tiling(drawing.width, drawing.height, name, is_drawn(pattern, mirrored=mirrored))
    made = draw_paper_pattern(
        PaperPattern(
            "Stem foot, TEN-SF1, Tenacious Wren", "The yard", svg(drawing), drawing.width,
            drawing.height, svg(with_sheets(pattern, NAMED, laid, mirrored=mirrored)), laid,
            [("Sided", "64 mm")], how_to_join(laid),
        )
    )  # fmt: skip
    return laid, made


def times(one, other):
    a, b, c, d, e, f = one
    p, q, r, s, t, u = other
    return (a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s,
            e * p + f * r + t, e * q + f * s + u)  # fmt: skip


def placed(reader, page):
    """The matrix under which the drawing is laid on a page; None where it is not."""
    matrix, kept = (1, 0, 0, 1, 0, 0), []
    for operands, operator in ContentStream(page.get_contents(), reader).operations:
        if operator == b"q":
            kept.append(matrix)
        elif operator == b"Q":
            matrix = kept.pop()
        elif operator == b"cm":
            matrix = times([float(n) for n in operands], matrix)
        elif operator == b"Do":
            return matrix
    return None


def outline_in_form(reader, page):
    """The corners of the outline as the form has them, in its own points."""
    (form,) = page["/Resources"]["/XObject"].values()
    matrix, kept = (1, 0, 0, 1, 0, 0), []
    best = []
    points = []
    for operands, operator in ContentStream(form.get_object(), reader).operations:
        if operator == b"q":
            kept.append(matrix)
        elif operator == b"Q":
            matrix = kept.pop()
        elif operator == b"cm":
            matrix = times([float(n) for n in operands], matrix)
        elif operator in (b"m", b"l"):
            x, y = map(float, operands)
            a, b, c, d, e, f = matrix
            points.append((a * x + c * y + e, b * x + d * y + f))
        elif operator in (b"S", b"s", b"b", b"B", b"f", b"n", b"f*", b"b*", b"B*"):
            best = points if len(points) > len(best) else best
            points = []
    return best


@pytest.mark.parametrize("name", ["A4", "A3", "Letter"])
def test_the_same_point_on_two_sheets_meets_when_they_are_joined(name):
    laid, made = paper(name)
    reader = PdfReader(io.BytesIO(made))
    assert len(reader.pages) == len(laid.tiles) + 1
    corner = (MARGIN_MM, FOOT_MM + laid.frame_tall_mm)
    for page, tile in zip(reader.pages[1:], laid.tiles, strict=True):
        a, b, c, d, e, f = placed(reader, page)
        assert (a, b, c, d) == (1, 0, 0, 1)  # at its true size, not turned
        # Where the drawing's own zero comes to lie, told from the sheet's frame, joined: the
        # frame of a tile begins left_mm, top_mm into the drawing.
        x = e * POINT_MM - corner[0] + tile.left_mm
        y = f * POINT_MM - corner[1] - tile.top_mm
        assert x == pytest.approx(0, abs=1e-3)
        assert y == pytest.approx(-full_size(SWEPT, NAMED).height, abs=1e-3)


def test_the_outline_on_paper_is_as_long_as_the_timber():
    _, made = paper("A3")
    reader = PdfReader(io.BytesIO(made))
    points = [(x * POINT_MM, y * POINT_MM) for x, y in outline_in_form(reader, reader.pages[1])]
    left, low = min(x for x, _ in points), min(y for _, y in points)
    found = {(round(x - left, 2), round(y - low, 2)) for x, y in points}
    assert found == {(round(x + 20, 2), round(y, 2)) for x, y in SWEPT.outline_mm}
    assert left == pytest.approx(EDGE, abs=0.001)


def test_the_pattern_turned_over_is_its_mirror_picture():
    _, made = paper("A3", mirrored=True)
    reader = PdfReader(io.BytesIO(made))
    points = [(x * POINT_MM, y * POINT_MM) for x, y in outline_in_form(reader, reader.pages[1])]
    left, high = min(x for x, _ in points), max(y for _, y in points)
    found = {(round(x - left, 2), round(high - y, 2)) for x, y in points}
    assert found == {(round(x + 20, 2), round(y, 2)) for x, y in SWEPT.outline_mm}


def bars(reader, page):
    """Lengths in mm of the thin rectangles in the foot of a page."""
    found = []
    for operands, operator in ContentStream(page.get_contents(), reader).operations:
        if operator == b"re":
            _, low, wide, tall = (float(n) * POINT_MM for n in operands)
            if low < FOOT_MM and tall < 2:
                found.append(wide)
    return found


@pytest.mark.parametrize("page", [0, 1, -1])
def test_every_sheet_has_bars_of_100_mm_and_of_4_inches(page):
    _, made = paper("A4")
    reader = PdfReader(io.BytesIO(made))
    longest = sorted(bars(reader, reader.pages[page]))[-2:]
    assert longest == pytest.approx([100, 101.6], abs=0.001)
    text = reader.pages[page].extract_text()
    assert "100 mm" in text
    assert "4 in" in text


def lines(reader, page):
    """Straight strokes of the page itself, mm from its lower left corner."""
    start, found = None, []
    for operands, operator in ContentStream(page.get_contents(), reader).operations:
        if operator == b"m":
            start = tuple(float(n) * POINT_MM for n in operands)
        elif operator == b"l" and start:
            found.append((start, tuple(float(n) * POINT_MM for n in operands)))
    return found


def crosses(reader, page, laid, tile):
    """The middles of the register crosses, told on the drawing."""
    across = [(a, b) for a, b in lines(reader, page) if abs(a[1] - b[1]) < 1e-6]
    upright = [(a, b) for a, b in lines(reader, page) if abs(a[0] - b[0]) < 1e-6]
    found = set()
    for (x, y), (u, _) in across:
        for (p, q), (_, s) in upright:
            middle = ((x + u) / 2, (q + s) / 2)
            if abs(u - x) < 9 > abs(s - q) and abs(p - middle[0]) < 0.01 > abs(y - middle[1]):
                found.add(
                    (
                        round(middle[0] - MARGIN_MM + tile.left_mm, 2),
                        round(FOOT_MM + laid.frame_tall_mm - middle[1] + tile.top_mm, 2),
                    )
                )
    return found


def test_register_marks_stand_at_the_same_place_of_the_drawing_on_both_sheets():
    laid, made = paper("A4")
    reader = PdfReader(io.BytesIO(made))
    by_tile = {
        (tile.row, tile.column): crosses(reader, page, laid, tile)
        for page, tile in zip(reader.pages[1:], laid.tiles, strict=True)
    }
    seams = 0
    for (row, column), found in by_tile.items():
        for neighbour in ((row, column + 1), (row + 1, column)):
            if neighbour in by_tile:
                seams += 1
                assert len(found & by_tile[neighbour]) == 2
    assert seams >= 3


def test_a_cut_line_runs_in_the_middle_of_the_shared_strip():
    laid, made = paper("A4")
    reader = PdfReader(io.BytesIO(made))
    page, tile = next(
        (page, tile)
        for page, tile in zip(reader.pages[1:], laid.tiles, strict=True)
        if laid.has(tile.row, tile.column - 1)
    )
    upright = [x for (x, a), (u, b) in lines(reader, page) if x == u and abs(a - b) > 100]
    assert tile.column > 0
    assert any(x == pytest.approx(MARGIN_MM + OVERLAP_MM / 2, abs=0.001) for x in upright)


def test_each_sheet_says_its_row_and_column_and_the_first_page_shows_them_all():
    laid, made = paper("A4")
    reader = PdfReader(io.BytesIO(made))
    first = reader.pages[0].extract_text()
    for page, tile in zip(reader.pages[1:], laid.tiles, strict=True):
        assert re.search(rf"\b{tile.label}\b", page.extract_text())
        assert re.search(rf"\b{tile.label}\b", first)
    assert "Print at 100 %" in first
    assert "crosses" in first
    assert f"{laid.frame_wide_mm:.1f} × {laid.frame_tall_mm:.1f} mm" in first


def test_the_same_pattern_gives_the_same_bytes_and_a_printer_is_asked_not_to_scale():
    one, other = paper("A4")[1], paper("A4")[1]
    assert one == other
    assert PdfReader(io.BytesIO(one)).viewer_preferences.print_scaling == "/None"


def test_a_small_pattern_is_one_sheet_with_nothing_to_cut_or_join():
    small = Pattern(((0, 0), (120, 0), (100, 60), (0, 50)), 30.0)
    laid, made = paper("A4", small)
    assert len(laid.tiles) == 1
    assert "crosses" not in PdfReader(io.BytesIO(made)).pages[0].extract_text()
