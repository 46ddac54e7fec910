"""How the picture of a thread is laid out: nothing overlaps, and too much is folded."""

import re
from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.drawings.thread import HIGH, WIDE, Node, draw_thread
from restoration.reports.thread_lookup import Answer
from restoration.reports.thread_parts import LogFacts, Piece, Timber, Use
from restoration.reports.thread_picture import MOST_NODES, ThreadPicture

DAY = date(2025, 3, 2)
LOG = LogFacts(
    id=1, tag="L1", wood="white oak", botanical_name="Quercus alba", length_mm=4000,
    butt_diameter_mm=600, top_diameter_mm=500, felled_on=DAY, felled_note="", felled_place="",
    supplier="", supplier_place="", received_on=None, solid_mm3=1e9, unsawn_mm3=2e8,
)  # fmt: skip


def a_piece(number, parent=None, depth=1):
    return Piece(
        id=number, tag=f"P{number}", word="board", parent_id=parent, log_id=1, depth=depth,
        wood="white oak", botanical_name="Quercus alba", thickness_mm=50, width_mm=200,
        length_mm=3000, heart="not known", rings="not known", has_sapwood=False, state="green",
        place="", sawn_on=DAY, sawn_by="J. Sawyer", supplier="", supplier_place="",
        received_on=None, is_in_stock=True,
    )  # fmt: skip


def a_use(number, board, member):
    return Use(
        id=number, board_id=board, board_tag=f"P{board}", from_mm=0, to_mm=900, allotted_on=DAY,
        allotted_by="A", cut_on=None, cut_by="", fitted_on=None, fitted_by="", spec_id=member,
        member_id=member, mark=f"F{member}", term="floor", vessel_id=1, vessel_code="TEN",
        vessel_name="Tenacious Wren",
    )  # fmt: skip


def nodes_of(timber, kind="log", number=1):
    asked = Answer(kind, number, "L1", "log L1")
    return ThreadPicture(timber, asked, "imperial", lambda tag: f"/t/{tag}/").nodes()


def boxes(svg):
    found = re.findall(r'<rect x="([\d.]+)" y="([\d.]+)"', svg)
    return [(float(x), float(y)) for x, y in found]


@st.composite
def trees(draw):
    """A log with pieces out of it and out of each other, some of them allotted."""
    pieces, uses = [], []
    for number in range(1, draw(st.integers(1, 30)) + 1):
        parent = draw(st.sampled_from([None, *pieces[-6:]]))
        depth = parent.depth + 1 if parent else 1
        pieces.append(a_piece(number, parent and parent.id, depth))
        if draw(st.booleans()):
            uses.append(a_use(number, number, draw(st.integers(1, 12))))
    return Timber((LOG,), tuple(sorted(pieces, key=lambda p: p.depth)), tuple(uses))


@settings(max_examples=60, deadline=None)
@given(trees())
def test_no_two_boxes_overlap_and_every_thing_has_one(timber):
    nodes = nodes_of(timber)
    drawn = draw_thread(nodes, says="a thread")
    places = boxes(drawn)
    members = {use.member_id for use in timber.uses}
    assert len(places) == 1 + len(timber.pieces) + len(members)
    for n, (x, y) in enumerate(places):
        for ox, oy in places[:n]:
            assert abs(x - ox) >= WIDE or abs(y - oy) >= HIGH
    width, height = (
        float(n) for n in re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', drawn).groups()
    )
    assert all(0 <= x <= width - WIDE and 0 <= y <= height - HIGH for x, y in places)


@settings(max_examples=40, deadline=None)
@given(trees(), st.integers(1, 5))
def test_on_paper_no_more_columns_stand_side_by_side_than_there_is_room_for(timber, most):
    places = boxes(draw_thread(nodes_of(timber), says="a thread", most_across=most))
    assert len({x for x, _ in places}) <= most
    for n, (x, y) in enumerate(places):
        for ox, oy in places[:n]:
            assert abs(x - ox) >= WIDE or abs(y - oy) >= HIGH


@settings(max_examples=60, deadline=None)
@given(trees())
def test_what_comes_out_of_a_thing_stands_right_of_it_and_members_stand_last(timber):
    nodes = nodes_of(timber)
    places = dict(zip((n.key for n in nodes), boxes(draw_thread(nodes, says="")), strict=True))
    for node in nodes:
        assert all(places[parent][0] < places[node.key][0] for parent in node.parents)
    columns = {node.kind: [] for node in nodes}
    for node in nodes:
        columns[node.kind].append(places[node.key][0])
    for x in columns.get("member", []):
        assert x > max(columns["board"])
        assert x == columns["member"][0]


def test_a_member_of_two_boards_is_drawn_once_with_a_line_to_each():
    timber = Timber((LOG,), (a_piece(1), a_piece(2)), (a_use(1, 1, 5), a_use(2, 2, 5)))
    (member,) = [node for node in nodes_of(timber) if node.kind == "member"]
    assert member.parents == ("board-1", "board-2")
    assert "2 lengths, 5 ft 10 7/8 in" in member.lines
    assert draw_thread(nodes_of(timber), says="").count('class="line"') == 4


def many(count, uses):
    """One flitch with many pieces out of it, the last two sawn once more."""
    flitch = a_piece(1)
    pieces = [flitch, *(a_piece(n, 1, 2) for n in range(2, count))]
    pieces += [a_piece(count, count - 1, 3), a_piece(count + 1, count - 2, 3)]
    return Timber((LOG,), tuple(pieces), tuple(a_use(n, board, n) for n, board in uses))


def test_a_small_tree_is_drawn_whole():
    nodes = nodes_of(many(MOST_NODES - 4, [(1, 5)]))
    assert len(nodes) <= MOST_NODES
    assert not [node for node in nodes if node.kind == "more"]


def test_a_big_tree_folds_what_leads_to_no_member_and_says_how_much():
    timber = many(80, [(1, 5), (2, 81)])
    nodes = {node.key: node for node in nodes_of(timber)}
    assert set(nodes) == {
        "log-1", "board-1", "board-5", "board-78", "board-81", "member-1", "member-2",
        "more-board-1",
    }  # fmt: skip
    folded = nodes["more-board-1"]
    # 81 pieces, of which the flitch, 5, 78 and 81 are drawn.
    assert folded.lines[0] == "+ 77"
    assert folded.column == 2
    assert folded.parents == ("board-1",)


def test_a_board_asked_for_is_never_folded_away():
    nodes = {node.key: node for node in nodes_of(many(80, [(1, 5)]), "board", 80)}
    assert nodes["board-80"].asked
    assert "board-79" in nodes


def test_long_words_are_cut_short_in_the_box_and_whole_in_its_title():
    long = "of the long and well remembered name"
    drawn = draw_thread([Node("log-1", "log", 0, ("L1", long), long)], says="")
    assert f"<title>{long}</title>" in drawn
    assert ">of the long and well re…</text>" in drawn
