"""Pages of the report as they look, held against pictures that a person has looked at and accepted.

A page is drawn by poppler at 50 dots to the inch and may differ a little: letters are smoothed a
little otherwise from one poppler to the next. To accept new pictures, after looking at them:

    HULL_LOG_ACCEPT_PICTURES=1 python3 manage.py test tests/restoration/test_report_looks.py

which writes them to `tests/restoration/accepted_pages/` (and fails, so that it is never left on).
"""

import io
import os
import re
import shutil
import subprocess
from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageDraw, ImageFilter, ImageStat
from pypdf import PdfReader
from reportlab.lib.units import inch, mm

from restoration.calc.hull_particulars import Particulars, lines_from
from restoration.calc.lines import even_stations
from restoration.calc.picture_marks import PictureMark
from restoration.drawings.hull.pieces import Piece
from restoration.drawings.hull.sheet import scale_for
from restoration.reports import wording
from restoration.reports.content import (
    CauseNamed,
    FindingMade,
    MemberState,
    Party,
    PictureTaken,
    ReadingTaken,
    Replacement,
    ReportContent,
    SourceUsed,
    Standing,
    SurveyFacts,
    TimberThread,
    VesselFacts,
)
from restoration.reports.frozen import from_json, to_json
from restoration.reports.hull_facts import HullFacts
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.survey_report import draw_report
from restoration.reports.timber_facts import TimberStep

ACCEPTED = Path(__file__).parent / "accepted_pages"
ACCEPTING = bool(os.environ.get("HULL_LOG_ACCEPT_PICTURES"))
DOTS = 50
MOST_APART = 2.5
"""Mean difference of the greys of a page, of 255: a line of text moved by its height gives more."""
DAY = date(2026, 3, 4)


def wood(width=1200, height=900, tone="#8e6c4a"):
    file = io.BytesIO()
    picture = Image.new("RGB", (width, height), tone)
    pen = ImageDraw.Draw(picture)
    for row in range(0, height, 60):
        pen.line([(0, row), (width, row + 40)], fill="#5d4630", width=6)
    picture.save(file, "JPEG", quality=80)
    return file.getvalue()


FILES = {"a.jpg": wood(), "tall.jpg": wood(900, 1600), "her.jpg": wood(1600, 900, "#3a5462")}


def opened(name):
    if name == "cut.jpg":
        return io.BytesIO(FILES["a.jpg"][:2000])
    if name not in FILES:
        raise FileNotFoundError(name)
    return io.BytesIO(FILES[name])


def photograph(file="a.jpg", caption="bolt drawn", marks=()):
    size = (900, 1600) if file == "tall.jpg" else (1200, 900)
    return PictureTaken(file, "0" * 64, *size, caption, DAY, marks)


RING = PictureMark("ring", ((0.4, 0.5), (0.55, 0.5)), "soft")
ARROW = PictureMark("arrow", ((0.1, 0.1), (0.5, 0.45)), "crack")


def finding(**given):
    facts = {
        "condition": "3", "condition_word": "major", "urgency": 3, "urgency_word": "urgent",
        "measure": 3, "measure_word": "major intervention", "not_examined_reason": "",
        "seen": "Both bolts wasted. Soft through the moulded depth at the port bolt.",
        "extent_from_mm": 300.0, "extent_to_mm": 700.0, "recorded_on": DAY,
        "recorded_by": "P. Prober",
        "causes": (CauseNamed(1, "FASTENER_IRON", "Iron corrosion", "established",
                              "drawn bolts wasted", "replace the fastening", "read"),),
        "readings": (ReadingTaken("probe", 47.6, "", 400.0, "spike"),), "pictures": (),
    }  # fmt: skip
    return FindingMade(**(facts | given))


def member(mark, found=None, group="transverse", term="floor timber"):
    return MemberState(mark, term, group, "centreline", 12.0, None, 63.5, 127.0, 1066.8,
                       "white oak (Quercus alba)", found)  # fmt: skip


def steps(depth):
    log = TimberStep("L7", "log", "white oak (Quercus alba)", 4000.0, 780.0, 700.0, None, None, "",
                     "", "felled at Hangar Wood; from a mill", DAY)  # fmt: skip
    pieces = [
        TimberStep("L7" + "-A1a2b3"[: n + 2], "board", "white oak (Quercus alba)", 4000.0 - n * 200,
                   None, None, 78.0, 180.0, "clear of heart", "rift", "sawn by J. Sawyer", DAY)
        for n in range(depth)
    ]  # fmt: skip
    return (log, *pieces)


def thread(mark, depth=3):
    return TimberThread(mark, "floor timber", "fitted", 100.0, 1300.0, DAY, "W. Right", DAY,
                        "W. Right", DAY, "W. Right", steps(depth))  # fmt: skip


def specified(mark="F12", **given):
    facts = Replacement(
        mark, "floor timber", "transverse", DAY, "white oak (Quercus alba)", ("iroko",), 63.5,
        127.0, 1066.8, "quarter-sawn", "on the sided face", True, False, "green", None,
        "two 5/8 in bolts", "Leave the nuts to be taken up.", Decimal("11.5"), Decimal("620.00"),
        "cut", False,
    )  # fmt: skip
    return replace(facts, **given)


LINES = lines_from(Particulars("long_keel", 9754.0, 7315.0, 2700.0, 1500.0))
PIECES = (
    Piece("K1", "K1", "keel", "C", 1, 1.0, 8.0, state="1", badge="1", title="K1"),
    Piece("F12", "F12", "floor_timber", "C", 12, 5.0, 5.0, state="3", badge="3", title="F12",
          href="#finding_F12"),
    Piece("FR4P", "FR4P", "frame", "P", 4, 4.0, 4.0, state="2", badge="2", title="FR4P"),
    Piece("FR6P", "FR6P", "frame", "P", 6, 6.0, 6.0, state="NE", badge="NE", title="FR6P"),
)  # fmt: skip
HULL = HullFacts("long_keel", LINES, even_stations(LINES), PIECES, ("beam",))
CONTENT = ReportContent(
    Standing(3, DAY, "W. Right", 2), "imperial", "NOK", Party("Sallow Creek Yard", "The Slip"),
    Party("Ottoline Verhaag", "Mill Lane 4"),
    VesselFacts("TEN", "Tenacious Wren", "sloop", "gaff", "", "A. Builder", 1931, "Port Osmund",
                "", "17", 9753.6, 7315.0, 2700.0, 1500.0, "carvel", "larch", "copper", ""),
    SurveyFacts(DAY, None, "Sallow Creek", "ashore", "P. Prober", "surveyor, of a body",
                "the owner", "dry", "Before she is bought.", "Spike, hammer.", "Behind the tank."),
    "Ottoline Verhaag", "Look again in spring.",
    (
        member("K1", finding(condition="1", condition_word="minor", urgency=0, measure=1,
                             urgency_word="long term", measure_word="maintenance"),
               "backbone", "keel"),
        member("F12", finding(pictures=(photograph(marks=(RING,)), photograph(marks=(ARROW,))))),
        member("FR4P", finding(condition="0", condition_word="no symptoms", urgency=0, measure=0,
                               seen="", causes=(), readings=()), term="frame"),
        member("FR6P", finding(condition="NE", condition_word="not examined", urgency=None,
                               measure=None, seen="", causes=(), readings=(),
                               not_examined_reason="behind the tank"), term="frame"),
    ),
    (specified(),), (thread("F12"),),
    (SourceUsed("X", "A handbook of wooden hulls", "A. Writer", "1961", "ch. 2", "-", "causes"),),
    wording.fixed_words(), cover=PictureTaken("her.jpg", "0" * 64, 1600, 900, "On the slip", None),
    hull=HULL,
)  # fmt: skip


def drawn(content=CONTENT):
    return draw_report(content, Pictures(opened))


@cache
def standard():
    return drawn()


def read(pdf):
    return PdfReader(io.BytesIO(pdf))


def said(pdf):
    return [" ".join(page.extract_text().split()) for page in read(pdf).pages]


def page_of(pages, words):
    return next(n for n, text in enumerate(pages, 1) if words in text)


def seen(pdf, number):
    """A page as poppler draws it, in greys."""
    assert shutil.which("pdftoppm"), "These tests need poppler (pdftoppm)."
    command = ["pdftoppm", "-r", str(DOTS), "-f", str(number), "-l", str(number), "-gray", "-"]
    made = subprocess.run(command, input=pdf, capture_output=True, check=True).stdout
    return Image.open(io.BytesIO(made)).convert("L")


def apart(one, other):
    soft = [picture.filter(ImageFilter.BoxBlur(1)) for picture in (one, other)]
    return ImageStat.Stat(ImageChops.difference(*soft)).mean[0]


def led_to(reader, number):
    """The pages that the links of a page lead to."""
    links = [a.get_object() for a in reader.pages[number - 1].get("/Annots", [])]
    return {reader.get_page_number(link["/Dest"][0].get_object()) + 1 for link in links}


PAGES = {
    "cover": lambda pages: 1,
    "summary": lambda pages: page_of(pages, "1 Summary Tenacious"),
    "hull_sheet": lambda pages: page_of(pages, "PROFILE"),
    "findings": lambda pages: page_of(pages, "6 Findings Findings: backbone"),
    "schedule": lambda pages: page_of(pages, "8 Replacement schedule Finished"),
}


@pytest.mark.parametrize("name", PAGES)
def test_a_page_looks_as_it_was_accepted(name):
    page = seen(standard(), PAGES[name](said(standard())))
    kept = ACCEPTED / f"{name}.png"
    if ACCEPTING:
        ACCEPTED.mkdir(exist_ok=True)
        page.quantize(16).save(kept, optimize=True)
        pytest.fail(f"{kept.name} is written: look at it, and run the tests without accepting.")
    accepted = Image.open(kept).convert("L")
    assert page.size == accepted.size
    assert apart(page, accepted) < MOST_APART


def test_a_page_that_looks_otherwise_is_told_apart():
    pages = said(standard())
    page = seen(standard(), PAGES["schedule"](pages))
    moved = ImageChops.offset(page, 0, 6)
    assert apart(page, moved) > MOST_APART
    other = seen(standard(), PAGES["findings"](pages))
    assert apart(page, other) > MOST_APART


def test_the_same_frozen_content_gives_the_same_bytes():
    assert drawn(from_json(to_json(CONTENT))) == standard()


def test_all_fonts_are_embedded_and_the_paper_has_its_title_and_language():
    found = subprocess.run(
        ["pdffonts", "-"], input=standard(), capture_output=True, check=True
    ).stdout.decode()
    rows = [line for line in found.splitlines()[2:] if "NotoSans" in line]
    assert len(rows) >= 2
    assert all(line.split()[-5:-3] == ["yes", "yes"] for line in rows)
    reader = read(standard())
    assert reader.metadata.title.startswith("Tenacious Wren: condition and replacement report")
    assert reader.trailer["/Root"]["/Lang"] == "en-GB"


def test_no_picture_has_more_dots_than_two_hundred_to_the_inch():
    found = subprocess.run(
        ["pdfimages", "-list", "-"], input=standard(), capture_output=True, check=True
    ).stdout.decode()
    rows = [line.split() for line in found.splitlines()[2:]]
    assert len(rows) == 3
    for row in rows:
        assert int(row[12]) <= 201
        assert int(row[13]) <= 201
        assert int(row[12]) >= 150


def test_every_mark_in_the_index_leads_to_the_page_it_names():
    reader = read(standard())
    pages = said(standard())
    number = page_of(pages, "Index of members Mark Member")
    reached = led_to(reader, number)
    row = pages[number - 1].split("F12 floor timber ")[1].split()[:4]
    assert [int(figure) for figure in row][1] == page_of(pages, "F12 floor timber · station 12")
    assert {int(figure) for figure in row} <= reached


def test_the_bookmarks_name_every_chapter_and_every_finding():
    def flat(entries):
        for entry in entries:
            yield from flat(entry) if isinstance(entry, list) else [entry.title]

    titles = list(flat(read(standard()).outline))
    assert "1 Summary" in titles
    assert "2 Hull sheet" in titles
    assert any(title.startswith("F12 floor timber") for title in titles)


def test_the_summary_is_one_page_however_long_the_names_and_however_much_there_is():
    named = [CauseNamed(1, f"C{n}", f"Cause {n} of " + "x" * 90, "probable", "e", "", "")
             for n in range(9)]  # fmt: skip
    many = tuple(member(f"FR{n}P", finding(causes=(named[n % 9],))) for n in range(200))
    content = replace(
        CONTENT, members=many,
        vessel=replace(CONTENT.vessel, name="The Unusually Long Name Of A Very Small Vessel " * 2),
        survey=replace(CONTENT.survey, not_reached="Behind the tank. " * 400),
    )  # fmt: skip
    pages = said(drawn(content))
    first = page_of(pages, "1 Summary The Unusually")
    assert "What was not looked at" in pages[first - 1]
    assert "Nothing is known from this survey" in pages[first - 1]
    assert "PROFILE" in pages[first] or "2 Hull sheet" in pages[first]


def test_a_finding_with_twenty_photographs_shows_each_with_its_caption_beside_it():
    twenty = tuple(
        photograph("tall.jpg" if n % 3 == 0 else "a.jpg", f"view {n}") for n in range(20)
    )
    pdf = drawn(replace(CONTENT, members=(member("F12", finding(pictures=twenty)),)))
    text = " ".join(said(pdf))
    assert all(f"Photograph {n + 1}. F12: view {n}" in text for n in range(20))
    put_in = [page.get_contents().get_data().count(b" Do\n") for page in read(pdf).pages]
    assert sum(put_in) == 21


def test_missing_and_truncated_files_are_said_where_the_picture_would_be():
    gone = (photograph("gone.jpg", "lost"), photograph("cut.jpg", "cut short"))
    content = replace(
        CONTENT, members=(member("F12", finding(pictures=gone)),),
        cover=PictureTaken("gone.jpg", "0" * 64, 1600, 900, "", None),
    )  # fmt: skip
    pages = said(drawn(content))
    lost = "The file of this photograph is missing or cannot be read."
    assert sum(page.count(lost) for page in pages) == 3
    assert lost in pages[0]


def test_a_note_of_thirty_thousand_letters_is_all_there_and_its_heading_is_with_it():
    note = " ".join(f"Strake {n} weeps." for n in range(1900))
    assert len(note) > 30_000
    pages = said(drawn(replace(CONTENT, members=(member("F12", finding(seen=note)),))))
    start = page_of(pages, "F12 floor timber · station 12")
    assert "Strake 0 weeps." in pages[start - 1]
    assert "Strake 1899 weeps." in " ".join(pages)


def test_a_thread_six_deep_is_told_whole_under_its_member():
    content = replace(CONTENT, threads=(thread("F12", 6),))
    pages = said(drawn(content))
    page = pages[page_of(pages, "L7-A1a2b3") - 1]
    assert "F12 floor timber" in page
    assert page.count("sawn by J. Sawyer") >= 6


def test_letter_and_metric_are_kept_with_the_content():
    pdf = drawn(replace(CONTENT, paper="Letter", units="metric"))
    sizes = {(round(float(p.mediabox.width)), round(float(p.mediabox.height)))
             for p in read(pdf).pages}  # fmt: skip
    assert sizes == {(612, 792), (1224, 792)}
    assert "1067 mm" in " ".join(said(pdf))


@pytest.mark.parametrize(("paper", "share"), [("A4", 1.0), ("Letter", 279.4 / 297)])
def test_the_fold_out_is_printed_at_the_scale_it_states(paper, share):
    reader = read(drawn(replace(CONTENT, paper=paper)))
    (page,) = [each for each in reader.pages if "PROFILE" in each.extract_text()]
    (stated,) = re.findall(r"Scale 1:([\d.]+)", page.extract_text())
    on_a3 = scale_for(CONTENT.hull.lines)
    assert float(stated) == pytest.approx(on_a3 / share, rel=0.005)
    drawn_at = []
    page.extract_text(visitor_operand_before=lambda op, args, cm, tm: drawn_at.append(cm[0]))
    assert max(drawn_at) == pytest.approx(share * mm, rel=1e-4)  # a mm of the sheet, in points


def test_no_page_is_left_empty_on_either_paper():
    long = replace(CONTENT, readers="The owner and the bank, " * 60)
    for paper in ("A4", "Letter"):
        pages = read(drawn(replace(long, paper=paper))).pages
        held = [page.get_contents().get_data().count(b" Tj") for page in pages]
        assert min(held) > 12, held


def test_names_in_latin_greek_cyrillic_and_with_loose_accents_print_and_others_are_said():
    name = "Žižka Ἀργώ Чайка q\N{COMBINING DIAERESIS} 漢"
    pages = said(drawn(replace(CONTENT, client=Party(name, ""), readers=name)))
    for word in ("Žižka", "Чайка", "U+6F22"):
        assert word in pages[0]
    assert "Ἀργώ" in " ".join(pages)


def test_the_hull_sheet_leads_to_the_finding_of_a_member_and_bears_the_hatches():
    reader = read(standard())
    number = page_of(said(standard()), "PROFILE")
    page = reader.pages[number - 1]
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx(
        (420 / 25.4 * inch, 297 / 25.4 * inch), abs=0.1
    )
    told = page_of(said(standard()), "F12 floor timber · station 12")
    assert led_to(reader, number) == {told}
    assert not page.images
