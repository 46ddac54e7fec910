from hypothesis import given
from hypothesis import strategies as st

from tests.sawing.judge import free_by_cuts
from timber_stock.sawing.guillotine import sawable
from timber_stock.sawing.layout import Box

KERFS = (3.0, 3.0, 6.0)


def box(x, y, z=(0.0, 100.0), index=0):
    return Box((x, y, z), index)


def test_five_boxes_in_a_pinwheel_cannot_be_sawn():
    pinwheel = [
        box((0.0, 60.0), (0.0, 30.0)),
        box((65.0, 95.0), (0.0, 60.0)),
        box((35.0, 95.0), (65.0, 95.0)),
        box((0.0, 30.0), (35.0, 95.0)),
        box((35.0, 60.0), (35.0, 60.0)),
    ]
    assert not sawable(pinwheel, KERFS)
    assert not free_by_cuts([b.spans for b in pinwheel], KERFS)
    assert sawable(pinwheel[1:], KERFS)


def test_neighbours_need_a_whole_kerf_between_them():
    assert sawable([box((0.0, 10.0), (0.0, 10.0)), box((13.0, 20.0), (0.0, 10.0))], KERFS)
    assert not sawable([box((0.0, 10.0), (0.0, 10.0)), box((12.9, 20.0), (0.0, 10.0))], KERFS)


def test_two_lengths_end_to_end_are_parted_by_the_crosscut():
    ends = [box((0.0, 9.0), (0.0, 9.0), (0.0, 50.0)), box((0.0, 9.0), (0.0, 9.0), (56.0, 90.0))]
    assert sawable(ends, KERFS)
    assert not sawable(ends, (3.0, 3.0, 7.0))


@st.composite
def sawn(draw, spans=((0.0, 300.0), (0.0, 200.0), (0.0, 900.0)), depth=4):
    """Boxes made by really sawing a block, so that they can be sawn."""
    axis = draw(st.integers(0, 2))
    low, high = spans[axis]
    if depth == 0 or high - low < 40 or draw(st.integers(0, 4)) == 0:
        return [spans]
    at = draw(st.floats(low + 10, high - 20))
    below, above = list(spans), list(spans)
    below[axis], above[axis] = (low, at), (at + KERFS[axis], high)
    return draw(sawn(tuple(below), depth - 1)) + draw(sawn(tuple(above), depth - 1))


@given(sawn())
def test_whatever_was_sawn_can_be_sawn(spans):
    assert sawable([box(*s) for s in spans], KERFS)


spans = st.tuples(st.integers(0, 12), st.integers(2, 9)).map(
    lambda p: (p[0] * 5.0, (p[0] + p[1]) * 5.0)
)


@given(st.lists(st.tuples(spans, spans, spans), min_size=2, max_size=6))
def test_the_planner_and_the_judge_agree_on_what_can_be_sawn(found):
    assert sawable([box(*s) for s in found], KERFS) == free_by_cuts(found, KERFS)
