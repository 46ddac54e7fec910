"""Pieces laid out on a flitch: lawful by a judge of its own, never worse than rectangles."""

import math
from dataclasses import replace

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from restoration.calc.nesting_cases import cases
from restoration.calc.nesting_left_out import why_left_out
from restoration.calc.nesting_pieces import Piece, centred, copies, rectangle
from restoration.calc.nesting_search import Request, climb, lay_out, score
from restoration.calc.nesting_sheet import Defect, Sheet, Station, box, oval, tapered
from restoration.calc.nesting_yield import yield_of
from tests.calc.nesting_judge import judge

CASES = {case.name: case for case in cases()}
STEPS = 24


@pytest.fixture(scope="module")
def laid():
    """Every case laid out once, and its rectangles alone by four times as many steps."""
    return {
        name: (
            lay_out(case.request, steps=STEPS),
            climb(case.request, boxes=True, steps=4 * STEPS, seed=9)[0],
        )
        for name, case in CASES.items()
    }


@pytest.mark.parametrize("name", CASES)
def test_every_layout_is_lawful(name, laid):
    layout, rectangles = laid[name]
    assert layout.places
    judge(CASES[name].request, layout.places)
    judge(CASES[name].request, rectangles)


@pytest.mark.parametrize("name", CASES)
def test_a_layout_is_never_worse_than_rectangles_alone(name):
    request = CASES[name].request
    rectangles, _ = climb(request, boxes=True, steps=STEPS + STEPS // 2, seed=1)
    assert score(request, lay_out(request, steps=STEPS, seed=1).places) >= score(
        request, rectangles
    )
    assert score(request, lay_out(request, steps=1, seed=1).places) >= score(
        request, climb(request, boxes=True, steps=1, seed=1)[0]
    )


def test_where_few_steps_find_no_better_the_rectangles_are_the_answer():
    request = CASES["straight pieces, tapered flitch"].request
    rectangles, _ = climb(request, boxes=True, steps=12, seed=5)
    shapes, _ = climb(request, boxes=False, steps=8, seed=5, begin=rectangles)
    assert score(request, shapes) < score(request, rectangles)  # else this would show nothing
    layout = lay_out(request, steps=8, seed=5)
    assert layout.rectangles_only
    assert layout.places == rectangles
    judge(request, layout.places)


@pytest.mark.parametrize("name", [name for name, case in CASES.items() if case.curved])
def test_curved_floors_and_knees_yield_15_percent_more_than_rectangles(name, laid):
    """Against four times the steps for the rectangles, of the whole face and of what is used."""
    request = CASES[name].request
    ours, theirs = (
        yield_of(request.sheet, request.pieces, places)
        for places in (laid[name][0].places, laid[name][1])
    )
    assert ours.of_the_face >= 1.15 * theirs.of_the_face
    assert ours.of_what_is_used >= 1.15 * theirs.of_what_is_used


def test_the_same_request_steps_and_seed_give_the_same_layout():
    request = CASES["floors and knees, natural edge"].request
    assert lay_out(request, steps=8, seed=4) == lay_out(request, steps=8, seed=4)


def test_more_steps_are_never_worse():
    request = CASES["stem foot, floors and a plank"].request
    found = [score(request, lay_out(request, steps=n, seed=2).places) for n in (2, 10, 30)]
    assert found == sorted(found)


def test_a_piece_as_wide_as_the_board_fits_it():
    layout = lay_out(CASES["one straight piece as wide as the board"].request, steps=1)
    assert len(layout.places) == 1


def test_a_longer_board_never_takes_less():
    short = CASES["curved floors, tapered flitch with defects"].request
    sheet = replace(short.sheet, length_mm=5200, stations=tapered(5200, 520, 420))
    longer = lay_out(replace(short, sheet=sheet), steps=6)
    assert score(short, longer.places)[0] >= score(short, lay_out(short, steps=6).places)[0]


def test_a_piece_thicker_than_the_board_is_left_out_and_said_so():
    sheet = Sheet(2000, 50, tapered(2000, 300, 300))
    pieces = (
        rectangle("A", "bearer A", long_mm=800, wide_mm=100, sided_mm=60),
        rectangle("B", "bearer B", long_mm=800, wide_mm=100, sided_mm=50),
        rectangle("C", "bearer C", long_mm=2400, wide_mm=100, sided_mm=50),
    )
    request = Request(sheet, pieces)
    layout = lay_out(request, steps=3)
    assert [place.key for place in layout.places] == ["B"]
    said = why_left_out(request, layout.places)
    assert said["A"] == "bearer A is sided 60.0 mm; the board is only 50.0 mm thick."
    assert said["C"].startswith("bearer C fits nowhere on the clear face, even alone, within 5°")


def test_what_finds_no_room_beside_the_others_is_told_apart_from_what_fits_nowhere():
    sheet = Sheet(1000, 50, tapered(1000, 120, 120))
    piece = rectangle("A", "cleat", long_mm=700, wide_mm=100, sided_mm=40)
    request = Request(sheet, copies(piece, 2))
    layout = lay_out(request, steps=4)
    assert len(layout.places) == 1
    (said,) = why_left_out(request, layout.places).values()
    assert "no room was found for it beside the others" in said


def test_sapwood_is_used_only_by_the_pieces_that_may_have_it():
    sheet = Sheet(1500, 50, tapered(1500, 200, 200), sapwood_left_mm=60, sapwood_right_mm=60)
    narrow = rectangle("A", "heartwood only", long_mm=1000, wide_mm=75, sided_mm=40)
    wide = replace(rectangle("B", "either", long_mm=1000, wide_mm=190, sided_mm=40), turn_deg=0.0)
    assert not lay_out(Request(sheet, (wide,)), steps=2).places
    may = replace(wide, sapwood_allowed=True)
    assert lay_out(Request(sheet, (may,)), steps=2).places
    assert lay_out(Request(sheet, (narrow,)), steps=2).places


def test_a_mirrored_piece_is_laid_mirrored():
    hooked = centred([(0, 0), (900, 0), (900, 260), (780, 110), (0, 90)])
    made = rectangle("F", "hooked floor", long_mm=1, wide_mm=1, sided_mm=60)
    pieces = copies(replace(made, outline_mm=hooked, hand="drawn"), 1, other_side=1)
    sheet = Sheet(2500, 80, tapered(2500, 700, 700))
    request = Request(sheet, pieces)
    layout = lay_out(request, steps=4)
    judge(request, layout.places)
    assert sorted(place.mirrored for place in layout.places) == [False, True]


@pytest.mark.parametrize("steps", [0, 2001])
def test_a_search_of_no_steps_or_far_too_many_is_refused(steps):
    with pytest.raises(ValueError, match="1 to 2000 steps"):
        lay_out(CASES["straight pieces, narrow board"].request, steps=steps)


def test_a_search_that_is_out_of_time_says_how_far_it_came():
    layout = lay_out(CASES["knees, parallel board"].request, steps=50, seconds=0.0)
    assert layout.steps == 1
    assert layout.places


sides = st.integers(40, 420)


@st.composite
def wedges(draw, key):
    """A lopsided piece of three to nine corners round its middle."""
    count = draw(st.integers(3, 9))
    long, wide = draw(st.integers(120, 700)), draw(st.integers(50, 200))
    spread = [draw(st.floats(0.35, 1.0)) for _ in range(count)]
    corners = [
        (
            long / 2 * far * math.cos(2 * math.pi * n / count),
            wide / 2 * far * math.sin(2 * math.pi * n / count),
        )
        for n, far in enumerate(spread)
    ]
    made = rectangle(key, key, long_mm=1, wide_mm=1, sided_mm=draw(st.integers(20, 60)))
    hand = draw(st.sampled_from(["either", "drawn", "mirrored"]))
    turn = draw(st.sampled_from([0.0, 3.0, 20.0, 45.0]))
    may = draw(st.booleans())
    return replace(made, outline_mm=centred(corners), hand=hand, turn_deg=turn, sapwood_allowed=may)


@st.composite
def requests(draw):
    long = draw(st.integers(700, 2500))
    at = sorted(draw(st.sets(st.integers(60, long - 60), max_size=2)))
    stations = tuple(Station(x, draw(sides), draw(sides)) for x in [0, *at, long])
    shapes = st.sampled_from([box, oval])
    defects = tuple(
        Defect(
            "knot",
            draw(shapes)(
                draw(st.integers(0, long)), draw(st.integers(-30, 30)), draw(st.integers(10, 200)),
                draw(st.integers(10, 60)),
            ),
            draw(st.integers(0, 15)),
        )
        for _ in range(draw(st.integers(0, 3)))
    )  # fmt: skip
    sheet = Sheet(
        long, 50, stations, draw(st.integers(0, 200)), draw(st.integers(0, 200)),
        draw(st.integers(0, 60)), draw(st.integers(0, 60)), defects,
    )  # fmt: skip
    pieces = tuple(draw(wedges(f"P{n}")) for n in range(draw(st.integers(1, 5))))
    return Request(sheet, pieces, draw(st.integers(0, 12)))


def steep_edge():
    """A wedge at the butt, where the edge runs out three times as fast as along."""
    leaf = 21.650635094610962
    wedge = Piece(
        "P0", "P0", ((45.0, 0.0), (-45.0, leaf), (-45.0, -leaf)), 20, 0.0, "either", None, False
    )
    stations = (Station(0, 40, 40), Station(60, 210, 40), Station(700, 40, 40))
    return Request(Sheet(700, 50, stations, 0, 0, 0, 0, ()), (wedge,), 0)


@settings(max_examples=30, deadline=None)
@given(requests(), st.integers(0, 1000))
@example(steep_edge(), 0)
def test_no_layout_whatever_the_flitch_breaks_a_rule(request, seed):
    layout = lay_out(request, steps=4, seed=seed)
    judge(request, layout.places)
    boxes, _ = climb(request, boxes=True, steps=6, seed=seed)
    judge(request, boxes)
    assert score(request, layout.places) >= score(request, boxes)
    why_left_out(request, layout.places)
