"""A paper of every block there is, a short report and a sheet of labels, as they were accepted.

To accept new pictures, after looking at them:

    HULL_LOG_ACCEPT_PICTURES=1 python3 manage.py test tests/restoration/test_small_papers_looks.py
"""

from datetime import date

import pytest
from PIL import Image

from restoration.calc.label_sheet import COMMON
from restoration.drawings.thread import Node, draw_thread
from restoration.reports import paper as plain
from restoration.reports.pdf.labels import draw_labels
from restoration.reports.pdf.paper import draw_paper
from restoration.reports.pdf.short_report import fitted_short_report
from tests.restoration.test_labels import LONG, label
from tests.restoration.test_report_looks import ACCEPTED, ACCEPTING, MOST_APART, apart, seen
from tests.restoration.test_report_pdf import finding, member, replacement, report
from timber_stock.drawings.log_section import CutDrawn, Section, TimberDrawn, section_svg

DAY = date(2026, 4, 9)


def every_block():
    section = Section(
        "the log", 200, 190, 30, (12, 5), 25, 210,
        timbers=[TimberDrawn("F12", "0", -80, 10, 130, 60),
                 TimberDrawn("C1", "1", -80, -90, 30, 90)],
        cuts=[CutDrawn(-190, 0, 190, 0, 3, "7")], bed=-190,
    )  # fmt: skip
    thread = draw_thread(
        [Node("log-1", "log", 0, ("L7", "log, oak"), "L7"),
         Node("board-2", "board", 1, ("L7-2a", "board, green"), "L7-2a", ("log-1",)),
         Node("member-3", "member", 2, ("TEN-F12", "fitted"), "F12", ("board-2",), asked=True)],
        says="a thread",
    )  # fmt: skip
    cuts = plain.Table(
        (plain.Head("Cut", 12), plain.Head("Set", 40), plain.Head("Worth", 20, figures=True)),
        (plain.Line(("1", "7 1/2 in up from the bed", "12.50"), note="Turn it over."),
         plain.Line(("All", "", "12.50"), is_total=True)),
        is_large=True,
    )  # fmt: skip
    graded = plain.Table(
        (plain.Head("Member", 40), plain.Head("Condition", 40)),
        tuple(plain.Line((f"F{n}", plain.Graded(grade, "so"))) for n, grade in enumerate("0123")),
        caption="Members",
    )
    return plain.Paper(
        "Paper", "every block there is", "Sallow Creek Yard",
        (("Yard", "Sallow Creek Yard"), ("For", "Ottoline Verhaag"), ("Printed", "9 April 2026")),
        "every-block",
        (
            plain.Facts((("Vessel", "Tenacious Wren"), ("Built", "1931"), ("Wood", "oak"))),
            plain.Caution("Stand clear of a log that is turned."),
            plain.Heading("Stage 1", "stage_1"),
            plain.Words("Roll it until 2 o'clock is up.", "strong"),
            plain.SideBySide((plain.Figure(section_svg(section), "As it lies.", 0.36),), (cuts,)),
            plain.Heading("The thread", "thread"),
            plain.Figure(thread, "From the log to the member.", looks="thread"),
            graded,
            plain.Words("In small letters.", "small"),
            plain.Scan("https://register.example/t/TEN-F12/", "Follow the thread:"),
            plain.Signatures(("For the yard",)),
        ),
    )  # fmt: skip


def short():
    bad = {"condition": "3", "condition_word": "major", "urgency": 3, "urgency_word": "urgent"}
    found = [member(f"F{n}", found=finding(**bad)) for n in range(9)]
    content = report(*found, replacements=tuple(replacement(f"F{n}") for n in range(4)))
    return draw_paper(fitted_short_report(content, "A4", on=DAY, issued=2), "A4")


PAGES = {
    "every_block": lambda: draw_paper(every_block()),
    "short_report": short,
    "labels": lambda: draw_labels(
        [label(n) for n in range(1, 6)] + [LONG], COMMON["a4-2x7"], 3, outline=True
    ),
}


@pytest.mark.parametrize("name", PAGES)
def test_a_small_paper_looks_as_it_was_accepted(name):
    page, kept = seen(PAGES[name](), 1), ACCEPTED / f"{name}.png"
    if ACCEPTING:
        page.quantize(16).save(kept, optimize=True)
        pytest.fail(f"{kept.name} is written: look at it, and run the tests without accepting.")
    accepted = Image.open(kept).convert("L")
    assert page.size == accepted.size
    assert apart(page, accepted) < MOST_APART


def test_a_label_left_out_is_told_apart():
    accepted = Image.open(ACCEPTED / "labels.png").convert("L")
    fewer = draw_labels([label(n) for n in range(1, 6)], COMMON["a4-2x7"], 3, outline=True)
    assert apart(seen(fewer, 1), accepted) > MOST_APART
