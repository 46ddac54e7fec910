"""Marks lie on the picture, and are drawn in the same place whatever size it is shown at."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from restoration.calc.picture_marks import picture_mark, strokes

place = st.tuples(st.floats(0, 1), st.floats(0, 1))


@pytest.mark.parametrize(
    ("kind", "points", "text", "said"),
    [
        ("blob", [(0.1, 0.2)], "", "no mark called"),
        ("arrow", [(0.1, 0.2)], "", "has 2 points"),
        ("ring", [(0.1, 0.2), (1.3, 0.2)], "", "lies on the picture"),
        ("ring", [(0.1, 0.2), (math.nan, 0.2)], "", "must be a number"),
        ("arrow", [(0.41, 0.2), (0.412, 0.2)], "", "in one place"),
        ("note", [(0.41, 0.2)], "  ", "needs its words"),
        ("scale", [(0.1, 0.2), (0.6, 0.2)], "", "what length"),
        ("note", [(0.41, 0.2, 0.7)], "soft", "two numbers"),
    ],
)
def test_a_mark_that_cannot_be_drawn_is_refused_with_a_sentence(kind, points, text, said):
    with pytest.raises(ValueError, match=said):
        picture_mark(kind, points, text)


@given(st.sampled_from(["arrow", "ring", "scale"]), place, place, st.floats(1, 9))
def test_a_larger_print_draws_the_same_mark_larger(kind, one, other, times):
    if math.dist(one, other) < 0.01:
        return
    mark = picture_mark(kind, [one, other], "90 mm")
    small, large = strokes(mark, 400, 300), strokes(mark, 400 * times, 300 * times)
    for drawn, again in zip(small.lines, large.lines, strict=True):
        for (x, y), (u, v) in zip(drawn, again, strict=True):
            assert (u, v) == pytest.approx((x * times, y * times))
    assert bool(small.circle) == (kind == "ring")
    if small.circle:
        assert large.circle == pytest.approx([part * times for part in small.circle])


def test_an_arrow_ends_at_its_tip_and_a_ring_goes_through_its_second_point():
    arrow = strokes(picture_mark("arrow", [(0.1, 0.2), (0.7, 0.9)]), 800, 600)
    assert arrow.lines[0][-1] == arrow.lines[1][1] == pytest.approx((560, 540))
    ring = strokes(picture_mark("ring", [(0.5, 0.5), (0.5, 0.75)]), 800, 600)
    assert ring.circle == pytest.approx((400, 300, 150))


@given(place, place, st.floats(50, 4000), st.floats(50, 4000))
def test_the_words_of_a_scale_bar_begin_clear_of_the_bar_and_its_ticks(start, end, width, height):
    if math.dist(start, end) < 0.01:
        return
    bar = strokes(picture_mark("scale", [start, end], "150 mm"), width, height)
    rows = [y for line in bar.lines for _, y in line]
    letters = 0.03 * max(width, height)
    _, y = bar.text_at
    assert y - letters > max(rows) or y < min(rows)
