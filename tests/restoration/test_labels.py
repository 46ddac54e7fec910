"""Labels on paper: each in its place, its code read back, its words inside its edge."""

import io
import re
import subprocess
from dataclasses import replace

import pytest
from PIL import Image
from pypdf import PdfReader
from reportlab.graphics.barcode.qr import QrCodeWidget

from restoration.calc.label_sheet import COMMON, LabelSheet, places
from restoration.reports.labels import Label
from restoration.reports.pdf.labels import draw_labels, fitted
from restoration.reports.pdf.qr import LEAST_MODULE_MM, QUIET, least_side_mm, matrix
from restoration.reports.pdf.type import REGULAR
from tests.restoration.reading_qr import read

DPI = 400
MM = DPI / 25.4
LOPSIDED = LabelSheet(
    "ours", 210, 297, 2, 5, 88.5, 43.2, left_mm=11.3, top_mm=19.7, across_mm=97.1, down_mm=51.6
)


def label(n=1, **given):
    facts = {
        "key": f"board-{n}", "tag": f"L7-{n}a", "wood": "white oak", "size": "3 × 15 in × 12 ft",
        "ring_mark": "quarter", "rings": "quarter-sawn, clear of heart",
        "member": "TEN-F12 floor timber", "vessel": "Tenacious Wren",
        "address": f"https://register.sallow-creek.example/t/L7-{n}a/",
    }  # fmt: skip
    return Label(**(facts | given))


LONG = label(
    tag="L7-2a-WITH-A-TAG-NOBODY-CAN-READ-ALOUD", wood="white oak " * 12, size="3 × 15 in " * 9,
    member="floor timber " * 14, vessel="The Honourable Tenacious Wren of Sallow Creek " * 3,
)  # fmt: skip


def pictures(pdf, tmp_path):
    (tmp_path / "labels.pdf").write_bytes(pdf)
    asked = ["pdftoppm", "-r", str(DPI), "-gray", str(tmp_path / "labels.pdf"),
             str(tmp_path / "page")]  # fmt: skip
    subprocess.run(asked, check=True)
    return [Image.open(file).convert("L") for file in sorted(tmp_path.glob("page*.pgm"))]


def ink(picture, box):
    """The corners of what is printed in a box of millimetres; in millimetres too."""
    cut = picture.crop(tuple(round(side * MM) for side in box))
    found = cut.point(lambda tone: 255 * (tone < 128)).getbbox()
    return [box[0] + found[0] / MM, box[1] + found[1] / MM,
            box[0] + found[2] / MM, box[1] + found[3] / MM]  # fmt: skip


def modules(picture, left, top, size, count):
    one = size / count
    return [
        [
            picture.getpixel((round((left + (c + 0.5) * one) * MM),
                              round((top + (r + 0.5) * one) * MM))) < 128
            for c in range(count)
        ]
        for r in range(count)
    ]  # fmt: skip


def words_with_boxes(pdf, tmp_path):
    """Every word with its corners in millimetres from the top left, as poppler sees them."""
    (tmp_path / "w.pdf").write_bytes(pdf)
    asked = ["pdftotext", "-bbox", str(tmp_path / "w.pdf"), "-"]
    found = subprocess.run(asked, check=True, capture_output=True, text=True).stdout
    for numbers, word in re.findall(r"<word ([^>]*)>([^<]*)</word>", found):
        yield word, [float(n) / 72 * 25.4 for n in re.findall(r'"([\d.]+)"', numbers)]


@pytest.mark.parametrize(
    "words", ["https://a.example/t/L7/", "https://a.example/t/" + "x" * 90 + "/"]
)
def test_the_modules_are_those_of_the_librarys_own_widget(words):
    widget = QrCodeWidget(words, barLevel="M")
    widget.qr.make()
    assert matrix(words) == tuple(tuple(bool(dark) for dark in row) for row in widget.qr.modules)


@pytest.mark.parametrize("letters", [1, 20, 45, 70, 100, 140, 180])
def test_a_code_of_any_length_reads_back_by_another_hand(letters):
    words = f"https://r.example/t/{'Ab-7' * 60}"[: 20 + letters] + "/"
    assert read(matrix(words)) == words


@pytest.mark.parametrize("key", ["a4-3x8", "letter-3x10", "roll-62x29"])
def test_each_printed_code_leads_to_the_thread_of_its_own_piece(key, tmp_path):
    sheet, labels = COMMON[key], [label(n) for n in (1, 2, 31)]
    printed = pictures(draw_labels(labels, sheet), tmp_path)
    for each, place in zip(labels, places(sheet, 3), strict=True):
        picture = printed[place.page]
        count = len(matrix(each.address))
        wide = min(sheet.width_mm * 0.44, sheet.height_mm - 3)  # the words begin further right
        half = (place.left_mm, place.top_mm, place.left_mm + wide, place.top_mm + sheet.height_mm)
        left, top, right, bottom = ink(picture, half)
        assert right - left == pytest.approx(bottom - top, abs=0.15)
        one = (right - left) / count
        assert one >= LEAST_MODULE_MM - 0.01
        assert left - place.left_mm >= QUIET * one - 0.1
        assert read(modules(picture, left, top, right - left, count)) == each.address


def test_labels_stand_in_their_places_to_a_tenth_of_a_millimetre(tmp_path):
    labels = [label(n) for n in range(1, 9)]
    printed = pictures(draw_labels(labels, LOPSIDED, first=4, outline=True), tmp_path)
    assert len(printed) == 2
    for place in places(LOPSIDED, 8, 4):
        box = (place.left_mm - 1, place.top_mm - 1, place.left_mm + LOPSIDED.width_mm + 1,
               place.top_mm + LOPSIDED.height_mm + 1)  # fmt: skip
        left, top, right, bottom = ink(printed[place.page], box)
        assert (left, top) == pytest.approx((place.left_mm, place.top_mm), abs=0.1)
        assert right == pytest.approx(place.left_mm + LOPSIDED.width_mm, abs=0.1)
        assert bottom == pytest.approx(place.top_mm + LOPSIDED.height_mm, abs=0.1)


def test_a_sheet_begun_already_is_begun_where_it_was_left(tmp_path):
    printed = pictures(draw_labels([label(1)], LOPSIDED, first=9), tmp_path)
    corners = ink(printed[0], (0, 0, 210, 297))
    place = places(LOPSIDED, 1, 9)[0]
    assert corners[1] > place.top_mm
    assert place.left_mm < corners[0] < corners[2] < place.left_mm + LOPSIDED.width_mm


@pytest.mark.parametrize("key", sorted(COMMON))
def test_no_word_runs_over_the_edge_of_its_label_however_long_the_names(key, tmp_path):
    sheet = COMMON[key]
    labels = [LONG, label(2), replace(LONG, ring_mark="", vessel="", member="")]
    pdf = draw_labels(labels, sheet)
    inside = [0, 0]
    for _word, (left, top, right, bottom) in words_with_boxes(pdf, tmp_path):
        held = [
            place for place in places(sheet, 3)
            if place.left_mm <= left and right <= place.left_mm + sheet.width_mm
            and place.top_mm <= top and bottom <= place.top_mm + sheet.height_mm
        ]  # fmt: skip
        inside[bool(held)] += 1
    assert inside[1] > 20
    assert inside[0] == 0


def test_a_long_name_is_set_smaller_and_only_then_cut_short_with_a_sign():
    assert fitted("white oak", REGULAR, 200, 10, 6) == ("white oak", 10)
    said, size = fitted("European oak from the hanger", REGULAR, 100, 10, 6)
    assert said == "European oak from the hanger"
    assert 6 < size < 10
    said, size = fitted("European oak from the hanger above the mill", REGULAR, 60, 10, 6)
    assert size == 6
    assert said.endswith("…")
    assert "European oak from" in said


def test_a_label_says_tag_wood_size_rings_member_and_vessel(tmp_path):
    said = PdfReader(io.BytesIO(draw_labels([label(5)], LOPSIDED))).pages[0].extract_text()
    for part in ("L7-5a", "white oak", "3 × 15 in × 12 ft", "quarter-sawn", "TEN-F12 floor timber",
                 "Tenacious Wren"):  # fmt: skip
        assert part in said


def test_on_a_low_label_the_lightest_words_are_left_off_and_the_tag_never():
    low = LabelSheet("low", 90, 18, 1, 1, 90, 18)
    short = label(3, address="https://r.example/t/L7/")
    said = PdfReader(io.BytesIO(draw_labels([short], low))).pages[0].extract_text()
    assert "L7-3a" in said
    assert "TEN-F12" in said
    assert "Tenacious Wren" not in said


def test_an_address_too_long_for_a_readable_code_is_refused_with_the_size_it_needs():
    far = label(1, address="https://register.example/" + "far-away-" * 14)
    least = f"{least_side_mm(far.address):.1f}"
    with pytest.raises(ValueError, match=f"code of L7-1a needs {least} mm.*choose a larger label"):
        draw_labels([far], LabelSheet("low", 62, 20, 1, 1, 62, 20))


def test_labels_are_printed_at_their_own_size_with_their_fonts_in_them_and_no_picture():
    reader = PdfReader(io.BytesIO(draw_labels([label(1), LONG], COMMON["a4-3x7"])))
    assert reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert reader.metadata.title.startswith("Labels: L7-1a, L7-2a-WITH")
    assert reader.trailer["/Root"]["/Lang"] == "en-GB"
    fonts = reader.pages[0]["/Resources"]["/Font"].values()
    described = [f.get_object().get("/FontDescriptor") for f in fonts]
    assert all(d is None or "/FontFile2" in d.get_object() for d in described)
    assert sum(d is not None for d in described) >= 2
    assert not reader.pages[0].images


def test_the_same_labels_give_the_same_bytes():
    assert draw_labels([label(1), LONG], LOPSIDED, 3) == draw_labels([label(1), LONG], LOPSIDED, 3)
    assert draw_labels([label(1)], LOPSIDED, 3) != draw_labels([label(1)], LOPSIDED, 4)
