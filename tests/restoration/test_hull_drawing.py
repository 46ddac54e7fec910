"""The hull sheet as plain data: every member in place, its hatch inside it."""

import re
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from restoration.calc.hull_particulars import Particulars, hull_kinds, lines_from
from restoration.calc.lines import even_stations
from restoration.calc.setting_out import Layout, propose
from restoration.calc.vocabulary import member_kinds
from restoration.drawings.hull import fold_out, plans, profile
from restoration.drawings.hull.hatch import FAMILIES, hatching
from restoration.drawings.hull.labels import APART, Wanted, row
from restoration.drawings.hull.paper import Area, Member, Words
from restoration.drawings.hull.pieces import Piece, place_all
from restoration.drawings.hull.sheet import HEIGHT, WIDTH, draw_sheet, scale_for
from restoration.drawings.hull.svg import svg
from restoration.drawings.hull.title_block import Title

LOA = 9754.0
TITLE = Title("Tenacious Wren", "TEN", "Hull sheet", "Our yard", "4 March 2026")


def lines(hull="long_keel"):
    return lines_from(Particulars(hull, LOA, 7315))


def drawn(pieces, hull="long_keel", **more):
    hers = lines(hull)
    stations = even_stations(hers, 20)
    return draw_sheet(hers, stations, place_all(pieces, hers, stations, hull), TITLE, **more)


def members_of(sheet):
    return [each for each in sheet.items if isinstance(each, Member)]


def usual_hull(hull):
    hers = lines(hull)
    layout = Layout(
        hull, LOA, even_stations(hers, 20), first_frame_mm=800, last_frame_mm=9100,
        frame_spacing_mm=310, strakes=9, beams=11, keel_bolts=6,
    )  # fmt: skip
    return [
        Piece(m.mark, m.mark, m.kind, m.side, m.number, m.station_from, m.station_to,
              title=m.mark, href=f"/members/{m.mark}/")
        for m in propose(layout)
    ]  # fmt: skip


@pytest.mark.parametrize("side", ["C", "P", "S", "B"])
@pytest.mark.parametrize("kind", list(member_kinds()))
def test_a_member_of_any_kind_and_side_is_drawn_once_as_a_link(kind, side):
    piece = Piece("7", "M7", kind, side, 7, 4.0, 9.5, title="M7", href="/members/7/")
    for near in ("P", "S"):
        links = [each for each in members_of(drawn([piece], near=near)) if not each.again]
        assert len(links) == 1, (kind, side, near)
        assert isinstance(links[0].marks[0], Area)


def test_every_kind_of_the_member_table_has_a_shape_in_profile():
    assert set(profile.SHAPES) == set(member_kinds())
    assert {*plans.DECK, *plans.BOTTOM} <= set(member_kinds())


@pytest.mark.parametrize("hull", list(hull_kinds()))
def test_a_usual_hull_lies_within_the_sheet_and_every_mark_is_on_it(hull):
    pieces = usual_hull(hull)
    sheet = drawn(pieces, hull)
    for member in members_of(sheet):
        for mark in member.marks:
            places = [(mark.x, mark.y)] if isinstance(mark, Words) else getattr(mark, "points", ())
            assert all(0 < x < WIDTH and 0 < y < HEIGHT for x, y in places), member.key
    said = {mark.text for each in members_of(sheet) for mark in each.marks
            if isinstance(mark, Words)}  # fmt: skip
    assert {piece.mark for piece in pieces} <= said


@pytest.mark.parametrize("near", ["P", "S"])
def test_port_and_starboard_frames_stand_at_their_station_in_two_views(near):
    pair = [Piece(s, f"FR7{s}", "frame", s, 7, 6.0, 6.0, title=s, href="/") for s in ("P", "S")]
    sheet = drawn(pair, near=near)
    assert len(members_of(sheet)) == 4, "a shape and a mark of each, and no side twice"
    shapes = {each.key: each.marks[0].points for each in members_of(sheet) if not each.again}
    middles = {key: sum(x for x, _ in points) / len(points) for key, points in shapes.items()}
    assert middles["P"] == pytest.approx(middles["S"])
    assert min(y for _, y in shapes[near]) < min(y for _, y in shapes["S" if near == "P" else "P"])


@pytest.mark.parametrize(
    ("paper", "said"),
    [
        ("A4", "Scale 1:30 along her length, on A3"),
        # 11 in are 279.4 mm, of the 297 mm of A3: a share of 0.9407.
        ("Letter", "Scale 1:31.9 along her length, on 11 × 17 in"),
    ],
)
def test_the_scale_is_that_of_the_paper_the_sheet_comes_out_on(paper, said):
    hers = lines()
    title = replace(TITLE, paper=fold_out.of(paper))
    sheet = draw_sheet(hers, even_stations(hers, 20), [], title)
    assert scale_for(hers) == 30
    assert said in [each.text for each in sheet.items if isinstance(each, Words)]


def test_along_her_length_the_sheet_is_to_scale():
    ends = [Piece(str(n), f"F{n}", "floor_timber", "B", n, s, s) for n, s in ((1, 3.0), (2, 17.0))]
    sheet = drawn(ends)
    middle = [
        sum(x for x, _ in each.marks[0].points) / 4
        for each in members_of(sheet)
        if not each.again and isinstance(each.marks[0], Area)
    ]
    apart = abs(middle[0] - middle[1]) * scale_for(lines())
    assert apart == pytest.approx(14 / 20 * LOA, rel=1e-6)


def test_a_member_without_a_station_is_drawn_dashed_and_a_strake_is_not():
    pieces = [
        Piece("a", "F1", "floor_timber", "B", 1),
        Piece("b", "P3P", "planking", "P", 3),
        Piece("c", "F2", "floor_timber", "B", 2, 5.0),
        Piece("d", "F9", "floor_timber", "B", 9, 44.0),
    ]
    hers = lines()
    placed = place_all(pieces, hers, even_stations(hers, 20), "long_keel")
    assert [each.assumed for each in placed] == [True, False, False, False]
    assert [each.astray for each in placed] == [False, False, False, True]
    assert placed[3].end_mm == LOA


def test_members_without_stations_are_spread_in_the_order_of_their_numbers():
    pieces = [Piece(str(n), f"F{n}", "floor_timber", "B", n) for n in (3, 1, 2)]
    placed = place_all(pieces, lines(), even_stations(lines(), 20), "long_keel")
    by_number = sorted(placed, key=lambda each: each.piece.number)
    assert [p.start_mm for p in by_number] == sorted(p.start_mm for p in placed)


SQUARE = ((10.0, 10.0), (30.0, 10.0), (30.0, 25.0), (10.0, 25.0))


@pytest.mark.parametrize("state", list(FAMILIES))
def test_a_hatch_fills_its_outline_and_stays_inside_it(state):
    (hatch,) = hatching(SQUARE, state)
    for segment in hatch.segments:
        for x, y in segment:
            assert 10 - 1e-6 <= x <= 30 + 1e-6
            assert 10 - 1e-6 <= y <= 25 + 1e-6
    inked = sum(((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5 for (x0, y0), (x1, y1) in hatch.segments)
    families = len(FAMILIES[state])
    step = FAMILIES[state][0][2]
    assert inked == pytest.approx(families * 20 * 15 / step, rel=0.12)


def test_a_hatch_leaves_the_notch_of_a_shape_clear():
    notched = ((0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (20.0, 20.0), (20.0, 5.0), (10.0, 5.0),
               (10.0, 20.0), (0.0, 20.0))  # fmt: skip
    (hatch,) = hatching(notched, "right")
    for (x0, y0), (x1, _) in hatch.segments:
        assert y0 < 5 or not (min(x0, x1) < 14 < max(x0, x1))


def test_marks_in_a_row_stand_apart_and_the_worst_keep_theirs_when_there_is_no_room():
    crowd = [
        Wanted(Piece(str(n), f"FR{n}P", "frame", "P", n, state="3" if n == 77 else "0"),
               (100 + n * 0.5, 50.0))
        for n in range(120)
    ]  # fmt: skip
    found = row(crowd, 40.0, up=True)
    assert "77" in found
    places = sorted(marks[-1].x for marks in found.values())
    assert 10 < len(places) < 40
    assert all(b - a > APART - 1e-6 for a, b in pairwise(places))


def test_the_svg_is_well_formed_whatever_is_typed_and_the_class_stands_in_figure_and_hatch():
    nasty = '<script>alert("x")</script> & Co'
    piece = Piece("1", "F1", "floor_timber", "B", 1, 6.0, 6.0, state="3", badge="3",
                  title=nasty, href='/members/1/"onclick="x')  # fmt: skip
    text = svg(drawn([piece], says=nasty))
    root = ElementTree.fromstring(text)
    space = "{http://www.w3.org/2000/svg}"
    links = [a for a in root.iter(f"{space}a") if a.get("aria-hidden") is None]
    assert [link.findtext(f"{space}title") for link in links] == [nasty]
    assert "<script" not in text
    assert 'class="h-3"' in text
    assert re.search(r'class="w-badge"[^>]*>3<', text)


def test_a_faint_member_has_no_hatch_and_no_mark():
    piece = Piece("1", "F1", "floor_timber", "B", 1, 6.0, 6.0, state="3", badge="3", faint=True)
    text = svg(drawn([piece]))
    assert "h-3" not in text
    assert ">F1<" not in text
    assert "faint" in text


def test_a_ship_too_long_for_the_sheet_is_refused_in_a_sentence():
    with pytest.raises(ValueError, match="too long to draw"):
        scale_for(lines_from(Particulars("workboat", 400_000.0)))
