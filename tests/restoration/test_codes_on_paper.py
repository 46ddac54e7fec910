"""The codes on rendered paper, read by a general-purpose decoder that knows nothing of ours."""

import io
import subprocess
from datetime import UTC, datetime

import pytest
import zxingcpp
from PIL import Image

from restoration.actions.reports import issue_report
from restoration.calc.label_sheet import COMMON, places
from restoration.reports.labels import Label
from restoration.reports.pdf.labels import draw_labels

TELEPHONE_DOTS = 150
"""An inch; a telephone held a hand's breadth off sees twice as many (from memory)."""


def pages(pdf, tmp_path, dots=TELEPHONE_DOTS):
    (tmp_path / "paper.pdf").write_bytes(pdf)
    asked = ["pdftoppm", "-r", str(dots), "-gray", "-png", str(tmp_path / "paper.pdf"),
             str(tmp_path / "page")]  # fmt: skip
    subprocess.run(asked, check=True, timeout=120)
    return [Image.open(io.BytesIO(file.read_bytes())) for file in sorted(tmp_path.glob("*.png"))]


def codes(page):
    """Every code on a page with the middle of it in pixels: words and place."""
    found = zxingcpp.read_barcodes(page, formats=zxingcpp.BarcodeFormat.QRCode)
    return [(each.text, middle(each.position)) for each in found]


def middle(corners):
    four = (corners.top_left, corners.top_right, corners.bottom_right, corners.bottom_left)
    return sum(corner.x for corner in four) / 4, sum(corner.y for corner in four) / 4


def labels(count):
    return [
        Label(
            key=f"board-{n}", tag=f"L7-{n}a", wood="white oak", size="3 × 15 in × 12 ft",
            ring_mark="quarter", rings="quarter-sawn, clear of heart",
            member="TEN-F12 floor timber", vessel="Tenacious Wren",
            address=f"https://register.sallow-creek.example/t/L7-{n}a/",
        )
        for n in range(1, count + 1)
    ]  # fmt: skip


@pytest.mark.parametrize(("key", "count"), [("a4-3x8", 26), ("roll-62x29", 3)])
def test_every_label_gives_its_own_address_in_its_own_place(key, count, tmp_path):
    sheet, wanted = COMMON[key], labels(count)
    read = [codes(page) for page in pages(draw_labels(wanted, sheet), tmp_path)]
    assert sorted(words for page in read for words, _ in page) == sorted(
        label.address for label in wanted
    )
    mm = TELEPHONE_DOTS / 25.4
    for label, place in zip(wanted, places(sheet, count), strict=True):
        x, y = dict(read[place.page])[label.address]
        assert 0 < x / mm - place.left_mm < sheet.width_mm / 2
        assert 0 < y / mm - place.top_mm < sheet.height_mm


@pytest.mark.django_db
def test_the_code_on_an_issued_report_is_where_it_can_be_checked(
    client, survey, make_spec, people, tmp_path
):
    make_spec(survey, "F12")
    report = issue_report(
        survey=survey, by=people["surveyor"], at=datetime(2026, 4, 9, 12, tzinfo=UTC),
        units="metric", check_at="https://register.sallow-creek.example/check/{code}/",
    )  # fmt: skip
    with report.pdf.open("rb") as file:
        read = [words for page in pages(file.read(), tmp_path) for words, _ in codes(page)]
    assert read == [f"https://register.sallow-creek.example/check/{report.check_code}/"]
    told = client.get(read[0].removeprefix("https://register.sallow-creek.example"))
    assert f"This is report {report.number}," in told.content.decode()
