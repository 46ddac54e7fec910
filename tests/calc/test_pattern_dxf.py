"""Patterns out of drawings: what is read, what is asked, and what is refused in a sentence."""

import io
import math
import random

import ezdxf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon

from restoration.calc.pattern import Bevel, BoltHole, Pattern, PatternLine
from restoration.calc.pattern_dxf.asking import question
from restoration.calc.pattern_dxf.chains import chained
from restoration.calc.pattern_dxf.flat import Run, runs
from restoration.calc.pattern_dxf.layers import use_by_name
from restoration.calc.pattern_dxf.reading import MOST_BYTES, NotADrawing, read_drawing
from restoration.calc.pattern_dxf.taking import Asked, SeveralOutlines, pattern_from
from restoration.calc.pattern_dxf.writing import pattern_as_dxf

FOOT = ((0, 0), (500, -20), (900, 30), (880, 180), (400, 120), (10, 150))
BELL = ((0, 0), (300, 0), (0, 200), (300, 200))


def drawing(draw, unit=4, version="R2010"):
    """A DXF file with what `draw(space, document)` puts in its model space."""
    document = ezdxf.new(version)
    document.header["$INSUNITS"] = unit
    draw(document.modelspace(), document)
    file = io.StringIO()
    document.write(file)
    return file.getvalue().encode(document.output_encoding, errors="dxfreplace")


def outline(space, points=FOOT, layer="OUTLINE", close=True):
    return space.add_lwpolyline(points, close=close, dxfattribs={"layer": layer})


def taken(data, mm_per_unit=1.0, uses=None, **more):
    found = read_drawing(data)
    said = {layer.name: layer.use for layer in question(found).layers} | (uses or {})
    asked = Asked(mm_per_unit, 60.0, said, **more)
    return pattern_from(found, runs(found, mm_per_unit), asked)


def refused(draw, **more):
    with pytest.raises(ValueError, match=r"\w") as said:
        taken(drawing(draw, **more))
    return str(said.value)


def test_an_outline_of_lines_and_arcs_drawn_in_any_order_closes_into_one():
    def draw(space, _):
        space.add_line((100, 0), (400, 0), dxfattribs={"layer": "EDGE"})
        space.add_arc((400, 60), 60, -90, 90, dxfattribs={"layer": "EDGE"})
        space.add_line((100, 120), (400, 120), dxfattribs={"layer": "EDGE"})
        space.add_arc((100, 60), 60, 90, 270, dxfattribs={"layer": "EDGE"})

    shape = Polygon(taken(drawing(draw)).outline_mm)
    assert shape.area == pytest.approx(300 * 120 + math.pi * 60**2, rel=1e-3)
    assert shape.bounds == pytest.approx((40, 0, 460, 120), abs=0.06)


def test_a_bulge_in_a_polyline_is_the_arc_it_stands_for():
    def draw(space, _):
        space.add_lwpolyline(
            [(0, 0, 0.5), (300, 0, 0), (300, 200, -0.25), (0, 200, 0)],
            format="xyb", close=True, dxfattribs={"layer": "OUTLINE"},
        )  # fmt: skip

    low, high = 0.5 * 300 / 2, 0.25 * 300 / 2  # a bulge is the rise over half the chord
    left, foot, right, top = Polygon(taken(drawing(draw)).outline_mm).bounds
    assert (left, right) == pytest.approx((0, 300), abs=0.05)
    assert foot == pytest.approx(-low, abs=0.06)
    assert top == pytest.approx(200, abs=0.06)
    area = Polygon(taken(drawing(draw)).outline_mm).area
    assert area < 300 * 200 + 2 / 3 * 300 * low * 1.1 - 2 / 3 * 300 * high * 0.9


def test_an_old_polyline_with_bulges_reads_as_the_new_kind_does():
    corners = [(0, 0, 0.5), (300, 0, 0), (300, 200, -0.25), (0, 200, 0)]
    new = drawing(lambda s, _: s.add_lwpolyline(corners, format="xyb", close=True))
    old = drawing(lambda s, _: s.add_polyline2d(corners, format="xyb", close=True), version="R12")
    one, other = taken(new).outline_mm, taken(old).outline_mm
    assert len(one) == len(other)
    assert max(math.dist(a, b) for a, b in zip(one, other, strict=True)) < 1e-6


@pytest.mark.parametrize(
    ("unit", "name", "mm"),
    [(1, "in", 25.4), (2, "ft", 304.8), (4, "mm", 1), (5, "cm", 10), (6, "m", 1000)],
)
def test_the_unit_that_a_drawing_says_is_honoured(unit, name, mm):
    small = tuple((x / mm, y / mm) for x, y in FOOT)
    found = read_drawing(drawing(lambda s, _: outline(s, small), unit=unit))
    assert found.unit == name
    assert question(found).likely_unit(found.unit) == name
    assert question(found).sizes_mm()[name] == pytest.approx((900, 200), rel=1e-6)


@pytest.mark.parametrize("unit", [0, 3, 18])
def test_without_a_unit_for_timber_the_sizes_under_each_are_there_to_choose_from(unit):
    found = read_drawing(drawing(lambda s, _: outline(s), unit=unit))
    assert found.unit == ""
    sizes = question(found).sizes_mm()
    assert sizes["mm"] == pytest.approx((900, 200))
    assert sizes["in"] == pytest.approx((22_860, 5_080))


def test_a_unit_that_makes_no_timber_of_it_is_asked_again():
    found = read_drawing(drawing(lambda s, _: outline(s), unit=6))  # 900 m long
    assert found.unit == "m"
    assert question(found).likely_unit("m") == ""


def test_layers_are_told_by_name_and_what_is_not_clear_is_marked_so():
    def draw(space, document):
        outline(space, layer="shape 7")
        space.add_circle((100, 60), 9, dxfattribs={"layer": "K"})
        space.add_line((50, 60), (800, 90), dxfattribs={"layer": "Rabbet line"})
        space.add_line((0, 0), (0, 9), dxfattribs={"layer": "hidden one"})
        document.layers.add("hidden one").off()
        space.add_text("floor", dxfattribs={"layer": "notes"})

    layers = {layer.name: layer for layer in question(read_drawing(drawing(draw))).layers}
    assert {name: (x.use, x.is_clear) for name, x in layers.items()} == {
        "shape 7": ("outline", False), "K": ("holes", False), "Rabbet line": ("rabbet", True),
        "hidden one": ("leave", True), "notes": ("leave", False),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("name", "use"),
    [("INNER_RABBET", "inner_rabbet"), ("Bolt holes", "holes"), ("CL", "centre"), ("0", None),
     ("BEARDING-LINE", "bearding"), ("Dimensions", "leave"), ("OUTLINE", "outline")],
)  # fmt: skip
def test_a_layers_name_tells_its_use(name, use):
    assert use_by_name(name) == use


def test_every_circle_on_a_used_layer_is_a_bolt_hole_and_so_is_a_round_polyline():
    def draw(space, _):
        outline(space)
        space.add_circle((100, 60), 9, dxfattribs={"layer": "OUTLINE"})
        space.add_lwpolyline(
            [(290, 60, 1), (310, 60, 1)], format="xyb", close=True, dxfattribs={"layer": "BOLTS"}
        )

    first, second = sorted(taken(drawing(draw)).holes, key=lambda hole: hole.x_mm)
    assert first == BoltHole(100, 60, 18)
    assert (second.x_mm, second.y_mm, second.diameter_mm) == pytest.approx((300, 60, 20), abs=0.1)


def test_what_stands_on_a_hole_layer_and_is_not_round_is_said():
    def draw(space, _):
        outline(space)
        outline(space, ((90, 50), (150, 50), (150, 70), (90, 70)), layer="BOLTS")

    assert "no full circle" in refused(draw)


def test_blocks_are_opened_where_they_stand_and_take_their_layer_with_them():
    def draw(space, document):
        block = document.blocks.new("BOLT")
        block.add_circle((0, 0), 8)
        outline(space)
        for x in (100, 300):
            space.add_blockref("BOLT", (x, 60), dxfattribs={"layer": "HOLES"})

    found = question(read_drawing(drawing(draw)))
    assert {layer.name: layer.holds for layer in found.layers} == {
        "OUTLINE": "1 line",
        "HOLES": "2 circles",
    }
    holes = taken(drawing(draw)).holes
    assert [(h.x_mm, h.y_mm, h.diameter_mm) for h in holes] == [(100, 60, 16), (300, 60, 16)]


def test_several_closed_lines_are_asked_about_and_the_answer_is_taken():
    def draw(space, _):
        outline(space)
        outline(space, ((0, 400), (200, 400), (200, 470), (0, 470)))

    data = drawing(draw)
    with pytest.raises(SeveralOutlines) as said:
        taken(data)
    assert [round(loop.size_mm[0]) for loop in said.value.loops] == [900, 200]
    assert taken(data, outline=1).outline_mm[0] == (0, 400)
    with pytest.raises(SeveralOutlines):
        taken(data, outline=7)


def test_an_outline_that_does_not_close_says_where_and_a_wider_gap_closes_it():
    data = drawing(lambda s, _: outline(s, (*FOOT, (3, 2)), close=False))
    with pytest.raises(ValueError, match=r"does not close: .*3\.61 millimetres apart"):
        taken(data)
    assert len(taken(data, gap_mm=5).outline_mm) == 6
    with pytest.raises(ValueError, match="up to 25 mm at most"):
        taken(data, gap_mm=26)


def test_a_drawing_turned_and_far_off_can_be_laid_along_and_begins_at_nought():
    turn = math.radians(37)
    c, s = math.cos(turn), math.sin(turn)
    far = [(x * c - y * s + 2e6, x * s + y * c - 3e6) for x, y in ((0, 0), (700, 0), (700, 90))]
    data = drawing(lambda space, _: outline(space, far))
    kept = Polygon(taken(data).outline_mm)
    assert kept.bounds[:2] == pytest.approx((0, 0), abs=1e-6)
    along = Polygon(taken(data, lay_along=True).outline_mm)
    assert along.area == pytest.approx(700 * 90 / 2, rel=1e-6)
    assert along.bounds[2:] == pytest.approx((math.hypot(700, 90), 700 * 90 / math.hypot(700, 90)))


def test_the_grain_is_as_its_layer_shows_it_unless_a_person_says_otherwise():
    def draw(space, _):
        outline(space)
        space.add_line((300, 100), (200, 0), dxfattribs={"layer": "GRAIN"})

    assert taken(drawing(draw)).grain_deg == pytest.approx(45)
    assert taken(drawing(draw), grain_deg=-7.0).grain_deg == -7


# What is refused


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "is empty"),
        (b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 40, "not a DXF file"),
        (b"AC1032" + bytes(5000), "not a DXF file"),
        (b"0\nSECTION\n2\nHEADER\n" + b"\xff\xfe rubbish\n" * 30 + b"0\nEOF\n", "cannot be read"),
        (b"AutoCAD Binary DXF\r\n\x1a\x00" + bytes(300), "cannot be read"),
        (b"0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n", "nothing in the drawing"),
    ],
)
def test_what_is_no_drawing_is_refused_in_a_sentence(data, says):
    with pytest.raises(NotADrawing, match=says):
        read_drawing(data)


def test_a_file_that_breaks_off_is_refused():
    whole = drawing(lambda s, _: outline(s))
    for part in (len(whole) // 3, len(whole) - 40):
        with pytest.raises(NotADrawing, match=r"breaks off|cannot be read"):
            read_drawing(whole[:part])


def test_a_large_file_is_refused_with_the_limit_and_is_not_read():
    with pytest.raises(NotADrawing, match=r"50 MB; .* up to 8 MB"):
        read_drawing(b"0\nSECTION\n" + b" " * 50_000_000)
    assert MOST_BYTES == 8_000_000


def test_a_drawing_of_texts_alone_says_what_it_holds():
    said = refused(lambda s, _: [s.add_text("floor 12"), s.add_text("oak")])
    assert "2 texts, but no line" in said


def test_an_outline_that_crosses_itself_says_where():
    said = refused(lambda s, _: outline(s, BELL))
    assert "crosses itself, near 150 mm along, 100 mm across" in said


def test_a_hole_outside_the_timber_is_said_by_its_number():
    said = refused(lambda s, _: [outline(s), s.add_circle((2000, 0), 9)])
    assert "Bolt hole 1 at 2000 mm along, 0 mm across does not lie wholly" in said


def test_everything_at_one_point_is_no_outline():
    said = refused(lambda s, _: s.add_line((5, 5), (5, 5)))
    assert "at one point" in said


def test_blocks_within_blocks_that_multiply_are_counted_before_they_are_opened():
    def draw(space, document):
        document.blocks.new("B0").add_line((0, 0), (1, 1))
        for n in range(1, 8):
            block = document.blocks.new(f"B{n}")
            for m in range(10):
                block.add_blockref(f"B{n - 1}", (m, 0))
        space.add_blockref("B6", (0, 0))

    assert "things with its blocks opened" in refused(draw)


def test_rows_of_one_block_are_counted_too():
    def draw(space, document):
        document.blocks.new("B").add_line((0, 0), (1, 1))
        many = {"row_count": 3000, "column_count": 3000, "row_spacing": 1, "column_spacing": 1}
        space.add_blockref("B", (0, 0), dxfattribs=many)

    assert "18,000,000 things" in refused(draw)


def test_blocks_nested_too_deep_are_refused():
    def draw(space, document):
        document.blocks.new("B0").add_line((0, 0), (1, 1))
        for n in range(1, 20):
            document.blocks.new(f"B{n}").add_blockref(f"B{n - 1}", (0, 0))
        space.add_blockref("B19", (0, 0))

    assert "nested too deep" in refused(draw)


def test_a_block_within_itself_is_refused():
    whole = drawing(
        lambda s, d: [d.blocks.new("A").add_blockref("Q", (0, 0)), s.add_blockref("A", (0, 0)),
                      d.blocks.new("Q").add_line((0, 0), (1, 1))]
    )  # fmt: skip
    looped = whole.replace(b"\n  2\nQ\n 10", b"\n  2\nA\n 10")
    assert looped != whole
    with pytest.raises(NotADrawing, match="within itself"):
        read_drawing(looped)


def test_a_circle_too_large_for_points_and_figures_that_are_none_are_refused():
    big = drawing(lambda s, _: [outline(s), s.add_arc((0, 0), 1e13, 0, 350)])
    with pytest.raises(NotADrawing, match=r"points|cannot be followed"):
        taken(big)
    none = drawing(lambda s, _: outline(s)).replace(b"\n900.0\n", b"\nnan\n")
    with pytest.raises(NotADrawing, match=r"cannot be followed|cannot be read|at one point"):
        taken(none)


def test_splines_too_heavy_to_follow_are_refused():
    heavy = [(x, math.sin(x) * 50, 0) for x in range(6000)]
    assert "control points" in refused(lambda s, _: s.add_open_spline(heavy))


def test_more_layers_than_can_be_asked_about_are_refused():
    def draw(space, _):
        for n in range(61):
            space.add_line((0, n), (90, n), dxfattribs={"layer": f"L{n}"})

    assert "uses 61 layers; 60 can be asked" in refused(draw)


def test_a_bundle_of_lines_from_one_point_is_no_outline():
    def draw(space, _):
        for n in range(61):
            space.add_line((3, 4), (900, 10 * n))

    assert "More than 60 lines end at one place, near (3, 4)" in refused(draw)


def test_a_binary_drawing_gives_the_same_pattern_as_one_in_text():
    document = ezdxf.new()
    outline(document.modelspace())
    text, binary = io.StringIO(), io.BytesIO()
    document.write(text)
    document.write(binary, fmt="bin")
    data = text.getvalue().encode()
    assert binary.getvalue().startswith(b"AutoCAD Binary DXF")
    assert taken(binary.getvalue(), uses={"OUTLINE": "outline"}) == taken(data)


def test_an_outline_that_does_not_lie_flat_is_refused_rather_than_shortened():
    def draw(space, _):
        corners = [(0, 0, 0), (900, 0, 60), (900, 150, 60), (0, 150, 0)]
        space.add_polyline3d(corners, close=True, dxfattribs={"layer": "OUTLINE"})

    said = refused(draw)
    assert "A line on layer “OUTLINE” does not lie flat: seen from above it is 4.0 mm" in said


def test_a_flat_drawing_at_any_one_height_is_as_good_as_on_the_ground():
    def draw(space, _):
        corners = [(x, y, 250) for x, y in FOOT]
        space.add_polyline3d(corners, close=True, dxfattribs={"layer": "OUTLINE"})

    assert taken(drawing(draw)).outline_mm == FOOT


# What goes out comes back


def test_a_pattern_written_and_read_is_the_same_pattern():
    pattern = Pattern(
        FOOT, 95.25,
        (PatternLine("rabbet", ((20, 80), (400, 60))), PatternLine("other", ((9, 9), (99, 9)))),
        (BoltHole(100, 75, 20),), (Bevel(100, 3.5), Bevel(600, -2)), -4.0,
    )  # fmt: skip
    data = pattern_as_dxf(pattern, "stem foot, größer")
    assert read_drawing(data).unit == "mm"
    assert read_drawing(data).sided_mm == 95.25
    again = taken(data)
    assert again.outline_mm == FOOT
    assert (again.lines, again.holes, again.bevels) == (
        pattern.lines, pattern.holes, pattern.bevels,
    )  # fmt: skip
    assert again.grain_deg == pytest.approx(-4)


@given(
    st.lists(st.floats(60, 400), min_size=4, max_size=12),
    st.integers(0, 10**6),
    st.floats(0, 0.09),
)
@settings(max_examples=40, deadline=None)
def test_an_outline_cut_into_pieces_and_shuffled_is_joined_again(radii, seed, gap):
    corners = [
        (r * math.cos(2 * math.pi * n / len(radii)), r * math.sin(2 * math.pi * n / len(radii)))
        for n, r in enumerate(radii)
    ]
    chance = random.Random(seed)
    pieces = []
    for (x, y), end in zip(corners, [*corners[1:], corners[0]], strict=True):
        piece = [(x + gap, y), end]
        pieces.append(Run("L", tuple(piece if chance.random() < 0.5 else piece[::-1])))
    chance.shuffle(pieces)
    loops, opened = chained(pieces, 0.1)
    assert not opened
    assert len(loops) == 1
    assert loops[0].area_mm2 == pytest.approx(Polygon(corners).area, rel=0.01)
