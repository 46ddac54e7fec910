"""Where the names of pieces stand on the drawing of a layout: legible, and told apart."""

import math
import re

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from restoration.calc.nesting_pieces import Piece
from restoration.calc.nesting_places import Place
from restoration.calc.nesting_sheet import Defect, Sheet, Station, box
from restoration.drawings.nesting import Drawn, layout_drawing
from restoration.drawings.nesting_labels import RISE, labels_of, line_in, width_of
from tests.calc.making_patterns import KNEE, stars

ROOM = shapely.box(-200, -200, 200, 200)
NOTHING = shapely.Polygon()
FEW = settings(max_examples=60, deadline=None)


def written(label, words):
    """The room the letters take, baseline to the top of a capital."""
    x, y = label.baseline()
    half, turn = width_of(words, label.size) / 2, label.angle_deg
    level = shapely.box(x - half, y - label.size * RISE, x + half, y)
    return affinity.rotate(level, turn, origin=(x, y))


def as_drawn(points, long_mm):
    """A shape as long as that on paper."""
    shape = shapely.Polygon(points).buffer(0)
    left, low, right, high = shape.bounds
    share = long_mm / max(right - left, high - low)
    return affinity.scale(shape, share, share, origin=(0, 0))


@FEW
@given(stars(), st.floats(6, 120), st.sampled_from(["F3", "WHR-FR11P", "MKT-HK1P (12)"]))
def test_a_name_lies_inside_its_piece_or_beside_it_on_a_leader(points, long_mm, words):
    shape = as_drawn(points, long_mm)
    (label,) = labels_of([(shape, words)], NOTHING, ROOM)
    letters = written(label, words)
    if label.leader is None:
        assert shape.contains(letters)
    else:
        assert not letters.intersects(shape)
        assert shape.distance(shapely.Point(label.leader[1])) < 0.1


@FEW
@given(stars(), st.floats(-90, 90))
def test_no_name_stands_on_its_head(points, turn):
    shape = affinity.rotate(as_drawn(points, 40), turn)
    (label,) = labels_of([(shape, "WHR-FR11P")], NOTHING, ROOM)
    assert -90 <= label.angle_deg < 90


def test_the_name_of_a_knee_lies_along_one_of_its_arms():
    knee = as_drawn(KNEE, 22)
    (label,) = labels_of([(knee, "MKT-HK1P (1)")], NOTHING, ROOM)
    assert label.leader is None
    assert label.angle_deg != 0
    assert knee.contains(written(label, "MKT-HK1P (1)"))


def test_names_of_pieces_too_small_for_them_keep_off_every_piece_and_one_another():
    slips = [(shapely.box(0, y, 14, y + 1.2), f"WHR-P{y}") for y in (0, 1.6, 3.2, 4.8, 6.4)]
    labels = labels_of(slips, NOTHING, ROOM)
    letters = [written(label, words) for label, (_, words) in zip(labels, slips, strict=True)]
    for n, (label, one) in enumerate(zip(labels, letters, strict=True)):
        assert label.leader is not None
        assert not any(one.intersects(other) for other in letters[:n])
        assert not any(one.intersects(shape) for shape, _ in slips)
        leader = shapely.LineString(label.leader)
        assert not any(leader.intersects(shape) for m, (shape, _) in enumerate(slips) if m != n)


def test_a_name_keeps_off_what_is_marked_inside_its_piece():
    bar, marked = shapely.box(0, 0, 60, 8), shapely.box(20, 0, 40, 8)
    (label,) = labels_of([(bar, "F12")], marked, ROOM)
    assert not written(label, "F12").intersects(marked)
    assert bar.contains(written(label, "F12"))


def test_the_line_that_shows_the_grain_lies_in_the_piece_and_clear_of_its_name():
    bar = shapely.box(0, 0, 60, 9)
    (label,) = labels_of([(bar, "WHR-F12")], NOTHING, ROOM)
    grain = shapely.LineString(line_in(bar, label, "WHR-F12", 7.0, (10.0, 4.0)))
    assert bar.contains(grain)
    assert not grain.intersects(written(label, "WHR-F12"))
    (x0, y0), (x1, y1) = grain.coords
    assert math.degrees(math.atan2(y1 - y0, x1 - x0)) == pytest.approx(7.0)
    assert line_in(shapely.box(0, 0, 3, 1), label, "WHR-F12", 0.0, (10.0, 4.0)) is None


def face(*defects):
    stations = (Station(0, 150, 150), Station(3000, 140, 150))
    return Sheet(length_mm=3000, thickness_mm=60, stations=stations, defects=defects)


def test_a_defect_too_thin_for_its_number_has_it_beside_it_in_dark():
    shake, knot = box(1500, 40, 900, 12), box(400, -60, 200, 120)
    svg = layout_drawing(face(Defect("shake", shake), Defect("knot", knot)), [], "says").svg
    assert re.search(r'fill="#4a555f" text-anchor="middle">1<', svg)
    assert re.search(r'fill="#ffffff" text-anchor="middle">2<', svg)


def test_a_defect_that_lies_under_another_is_numbered_where_it_is_still_seen():
    under, over = box(1500, 0, 2000, 400), box(1500, 0, 300, 200)
    svg = layout_drawing(face(Defect("used", under), Defect("knot", over)), [], "says").svg
    (x,) = [float(n) for n in re.findall(r'<text x="([\d.]+)"[^>]*fill="#ffffff"[^>]*>1<', svg)]
    scale = int(re.search(r'data-scale="(\d+)"', svg)[1])
    assert not 1350 <= (x - 5) * scale <= 1650


def test_the_letters_of_the_two_corners_stand_inside_the_piece():
    piece = Piece("p", "WHR-HK1P", tuple((0.3 * x, 0.3 * y) for x, y in KNEE), 60.0)
    place = Place("p", 900.0, -90.0, 33.0)
    drawing = layout_drawing(face(), [Drawn(piece, place)], "says", marks=True)
    d = re.search(r'class="laid".*?d="M([^z]+)z', drawing.svg)[1]
    shape = shapely.Polygon([tuple(map(float, pair.split())) for pair in d.split("L")])
    letters = re.findall(r'<text x="([\d.]+)" y="([\d.]+)"[^>]*>[AB]<', drawing.svg)
    assert len(letters) == 2
    for x, y in letters:
        assert shape.contains(shapely.Point(float(x), float(y) - 0.8))
