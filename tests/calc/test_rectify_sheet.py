"""The true picture's frame, and marks taken all the way."""

import numpy as np
import pytest

from restoration.calc.rectify import Mark, fit_plane, to_px
from restoration.calc.rectify_settled import settle
from restoration.calc.rectify_sheet import LONGEST_PX, cells, sheet_of
from tests.calc.photographed import Camera
from tests.calc.test_rectify import ASLANT, BOARD, EIGHT, marks_of

STEEP = Camera(2600, tilt_deg=52, swing_deg=-20, focal=1.3)


def plane_of(camera, places=BOARD):
    return fit_plane(marks_of(camera, places), camera.width, camera.height).plane


@pytest.mark.parametrize("camera", [ASLANT, STEEP, Camera(9000, focal=4, tilt_deg=5)])
def test_a_sheet_holds_every_mark_and_is_never_too_large(camera):
    sheet = sheet_of(plane_of(camera), marks_of(camera, BOARD))
    for x, y in BOARD:
        assert sheet.left_mm <= x <= sheet.right_mm
        assert sheet.top_mm - sheet.height_px * sheet.mm_per_px <= y <= sheet.top_mm
    assert max(sheet.width_px, sheet.height_px) <= LONGEST_PX
    assert sheet.left_mm > -400
    assert sheet.right_mm < 1400


@pytest.mark.parametrize("camera", [ASLANT, STEEP])
def test_within_a_cell_an_even_stretch_is_right_to_a_fifth_of_a_pixel(camera):
    plane = plane_of(camera)
    sheet = sheet_of(plane, marks_of(camera, BOARD))
    drawn = cells(sheet, plane)
    assert drawn
    for (left, top, right, bottom), corners in drawn[:: max(1, len(drawn) // 60)]:
        middle = np.array([[(left + right) / 2, (top + bottom) / 2]])
        true = [sheet.left_mm, sheet.top_mm] + middle * [sheet.mm_per_px, -sheet.mm_per_px]
        stretched = np.array(corners).reshape(4, 2).mean(axis=0)
        assert stretched == pytest.approx(to_px(plane, true)[0], abs=0.2)


def test_the_cells_cover_the_marks_without_a_gap():
    plane = plane_of(ASLANT)
    sheet = sheet_of(plane, marks_of(ASLANT, BOARD))
    covered = np.zeros((sheet.height_px, sheet.width_px), dtype=int)
    for (left, top, right, bottom), _ in cells(sheet, plane):
        covered[top:bottom, left:right] += 1
    assert covered.max() == 1
    for x, y in BOARD:
        row = int((sheet.top_mm - y) / sheet.mm_per_px)
        column = int((x - sheet.left_mm) / sheet.mm_per_px)
        assert covered[row, column] == 1


def test_a_board_that_is_hardly_on_the_picture_still_gives_its_part():
    """Marks at the very edge: the sheet ends where the photograph does."""
    close = Camera(1400, (500, 205), focal=1.1)
    plane = plane_of(close)
    sheet = sheet_of(plane, marks_of(close, BOARD))
    seen = to_px(plane, np.array([[sheet.left_mm, 200.0], [sheet.right_mm, 200.0]]))
    assert seen[:, 0].min() > -120
    assert seen[:, 0].max() < close.width + 120


def test_settled_marks_name_the_one_that_does_not_agree():
    marks = marks_of(ASLANT, EIGHT)
    marks[5] = Mark(marks[5].x_px, marks[5].y_px, marks[5].x_mm, marks[5].y_mm - 25)
    board = settle(marks, ASLANT.width, ASLANT.height)
    assert board.proven
    assert any(said.startswith("Mark 6 does not agree") for said in board.warnings)
    good = settle(marks_of(ASLANT, EIGHT), ASLANT.width, ASLANT.height)
    assert not any("agree" in said for said in good.warnings)
    assert 0 < good.doubt_middle_mm < board.doubt_middle_mm


def test_a_height_above_the_marks_that_cannot_be_is_refused():
    with pytest.raises(ValueError, match="How far the pattern lies above the marks"):
        settle(marks_of(ASLANT, BOARD), ASLANT.width, ASLANT.height, -3)
