"""Full-size drawings over sheets of paper: nothing between the sheets, every name once."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.tiles import (
    FOOT_MM,
    MARGIN_MM,
    MOST_SHEETS,
    OVERLAP_MM,
    PAPERS,
    row_letters,
    tiling,
)


def everywhere(*_):
    return True


sizes = st.floats(5, 2500)


@given(sizes, st.floats(5, 900), st.sampled_from(sorted(PAPERS)), st.data())
@settings(max_examples=80, deadline=None)
def test_every_point_of_the_drawing_lies_on_a_sheet_and_seams_on_two(wide, tall, paper, data):
    laid = tiling(wide, tall, paper, everywhere)
    x = data.draw(st.floats(0, wide))
    y = data.draw(st.floats(0, tall))
    on = [
        tile
        for tile in laid.tiles
        if -1e-6 <= x - tile.left_mm <= laid.frame_wide_mm + 1e-6
        and -1e-6 <= y - tile.top_mm <= laid.frame_tall_mm + 1e-6
    ]
    assert on
    for tile in laid.tiles:
        right, foot = tile.left_mm + laid.frame_wide_mm, tile.top_mm + laid.frame_tall_mm
        for other in laid.tiles:
            if (other.row, other.column) == (tile.row, tile.column + 1):
                assert right - other.left_mm == pytest.approx(OVERLAP_MM)
                assert other.top_mm == pytest.approx(tile.top_mm)
            if (other.row, other.column) == (tile.row + 1, tile.column):
                assert foot - other.top_mm == pytest.approx(OVERLAP_MM)


@given(sizes, st.floats(5, 900), st.sampled_from(sorted(PAPERS)))
@settings(max_examples=60, deadline=None)
def test_no_fewer_rows_or_columns_would_do_and_no_name_comes_twice(wide, tall, paper):
    laid = tiling(wide, tall, paper, everywhere)
    assert len({tile.label for tile in laid.tiles}) == len(laid.tiles) == laid.rows * laid.columns
    fewer = (laid.columns - 1) * (laid.frame_wide_mm - OVERLAP_MM) + OVERLAP_MM
    assert laid.columns == 1 or fewer < wide
    fewer = (laid.rows - 1) * (laid.frame_tall_mm - OVERLAP_MM) + OVERLAP_MM
    assert laid.rows == 1 or fewer < tall


def test_the_sheets_lie_upright_or_across_as_takes_fewer():
    assert tiling(180, 250, "A4", everywhere).is_across is False
    assert tiling(270, 150, "A4", everywhere).is_across is True
    assert len(tiling(270, 150, "A4", everywhere).tiles) == 1


def test_a_sheet_on_which_nothing_lies_is_left_out():
    def only_the_left(left, _top, _right, _foot):
        return left < 100

    laid = tiling(900, 100, "A4", only_the_left)
    assert {tile.column for tile in laid.tiles} == {0}
    assert laid.columns > 1
    assert not laid.has(0, 1)


def test_a_frame_leaves_the_margins_of_its_paper():
    laid = tiling(100, 100, "Letter", everywhere)
    assert laid.frame_wide_mm == pytest.approx(215.9 - 2 * MARGIN_MM)
    assert laid.frame_tall_mm == pytest.approx(279.4 - MARGIN_MM - FOOT_MM)


@pytest.mark.parametrize(
    ("row", "letters"), [(0, "A"), (25, "Z"), (26, "AA"), (27, "AB"), (702, "AAA")]
)
def test_rows_go_on_after_z(row, letters):
    assert row_letters(row) == letters


@pytest.mark.parametrize(
    ("wide", "tall", "paper", "says"),
    [(100, 100, "A5", "Sheets are"), (0, 9, "A4", "more|wider"), (float("nan"), 9, "A4", "number"),
     (29_000, 9_000, "A4", f"sheets, and {MOST_SHEETS} are made at most")],
)  # fmt: skip
def test_what_cannot_be_laid_on_sheets_is_refused_in_a_sentence(wide, tall, paper, says):
    with pytest.raises(ValueError, match=says):
        tiling(wide, tall, paper, everywhere)
