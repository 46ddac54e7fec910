"""Where labels lie: laws of the places, and what is refused in a sentence."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from restoration.calc.label_sheet import A4_MM, COMMON, LETTER_MM, LabelSheet, pages, places

LOPSIDED = LabelSheet(
    "ours", 210, 297, 3, 5, 61, 47, left_mm=9, top_mm=21.5, across_mm=63.5, down_mm=50
)
sheets = st.builds(
    lambda columns, rows, wide, tall, gap_x, gap_y, left, top: LabelSheet(
        "any", 4000, 4000, columns, rows, wide, tall, left, top, wide + gap_x, tall + gap_y
    ),
    st.integers(1, 9), st.integers(1, 12), st.floats(30, 150), st.floats(17, 100),
    st.floats(0, 20), st.floats(0, 20), st.floats(0, 40), st.floats(0, 40),
)  # fmt: skip


@given(sheets, st.integers(0, 200), st.data())
def test_no_two_labels_share_a_place_and_none_runs_off_its_sheet(sheet, count, data):
    first = data.draw(st.integers(1, sheet.per_page))
    found = places(sheet, count, first)
    assert len(found) == len(set(found)) == count
    for place in found:
        assert -1e-6 <= place.left_mm <= sheet.page_width_mm - sheet.width_mm
        assert -1e-6 <= place.top_mm <= sheet.page_height_mm - sheet.height_mm
    assert len({place.page for place in found}) == pages(sheet, count, first)


@given(sheets, st.integers(1, 60), st.data())
def test_a_sheet_begun_at_n_is_the_sheet_begun_at_one_less_its_first_labels(sheet, count, data):
    first = data.draw(st.integers(1, sheet.per_page))
    assert places(sheet, count, first) == places(sheet, count + first - 1)[first - 1 :]


def test_labels_go_row_by_row_from_the_top_left():
    found = places(LOPSIDED, 5, 3)
    assert [(p.page, p.left_mm, p.top_mm) for p in found] == [
        (0, 136, 21.5), (0, 9, 71.5), (0, 72.5, 71.5), (0, 136, 71.5), (0, 9, 121.5),
    ]  # fmt: skip
    assert places(LOPSIDED, 2, 15)[1].page == 1


@pytest.mark.parametrize(
    ("wrong", "why"),
    [
        ({"rows": 6}, "6 rows need 318.5 mm and the sheet is 297 mm high"),
        ({"columns": 4}, "4 columns need 260.5 mm and the sheet is 210 mm wide"),
        ({"across_mm": 60.5}, "lie over each other: the pitch across is 60.5 mm"),
        ({"down_mm": 0}, "lie over each other: the pitch down is 0 mm"),
        ({"left_mm": -1}, "begins on the sheet"),
        ({"height_mm": 12}, "at least 30 mm wide and 17 mm high"),
        ({"rows": 0}, "1 to 60 labels each way"),
        ({"width_mm": float("nan")}, "width must be a number"),
    ],
)
def test_a_sheet_that_cannot_be_is_refused_in_a_sentence(wrong, why):
    with pytest.raises(ValueError, match=why):
        replace(LOPSIDED, **wrong)


@pytest.mark.parametrize("first", [0, 16, -3])
def test_a_position_beyond_the_sheet_is_refused_with_those_there_are(first):
    with pytest.raises(ValueError, match=f"positions 1 to 15; {first} is not"):
        places(LOPSIDED, 1, first)


def test_a_roll_has_one_label_a_page():
    roll = COMMON["roll-62x29"]
    assert [place.page for place in places(roll, 3)] == [0, 1, 2]
    with pytest.raises(ValueError, match="1 alone; 2 is not"):
        places(roll, 1, 2)


def test_common_sheets_are_as_they_are_called_and_lie_in_the_middle_of_their_paper():
    for key, sheet in COMMON.items():
        paper = A4_MM if key.startswith("a4") else LETTER_MM
        if key.startswith("roll"):
            assert (sheet.page_width_mm, sheet.per_page) == (62, 1)
            continue
        assert (sheet.page_width_mm, sheet.page_height_mm) == paper
        assert sheet.name.startswith(f"{sheet.columns} × {sheet.rows} on ")
        wide = (sheet.columns - 1) * sheet.across_mm + sheet.width_mm
        tall = (sheet.rows - 1) * sheet.down_mm + sheet.height_mm
        assert paper[0] - wide == pytest.approx(2 * sheet.left_mm, abs=0.2)
        assert paper[1] - tall == pytest.approx(2 * sheet.top_mm, abs=0.2)
