"""What stays together over a page's end, on papers made of the parts alone."""

import io

import pytest
from pypdf import PdfReader
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether, Spacer

from restoration.reports.pdf.keeping import MOST_WHITE, Kept, WithPicture, stays
from restoration.reports.pdf.page import SIZES, SheetWords, inside, made, turned
from restoration.reports.pdf.parts import Heading, heading, subheading, text, texts
from restoration.reports.pdf.tables import Column, Row, schedule

WORDS = SheetWords(
    title="A trial", author="T. Rier", subject="", head_left="A trial", head_right="",
    foot=(("Yard", "Y"), ("Paper", "P"), ("On", "today")), is_draft=False,
)  # fmt: skip
WIDTH, HEIGHT = inside()


def pages(story, size=SIZES["A4"]):
    reader = PdfReader(io.BytesIO(made(story, WORDS, size)))
    return [" ".join(page.extract_text().split()) for page in reader.pages]


def filled_but(points):
    """A page with so many points left at its foot."""
    return Spacer(1, HEIGHT - points)


@pytest.mark.parametrize("left", range(14, 130, 4))
def test_a_heading_never_ends_a_page_whatever_is_left_of_it(left):
    table = schedule([Column("Tag", 1)], [Row([f"L{n}"]) for n in range(60)], WIDTH)
    for following, first in (
        (text("Soft under the chainplate. " * 40), "Soft under"),
        (table, "Tag L0"),
        (KeepTogether([text("Kept so."), text("And so.")]), "Kept so."),
    ):
        for opening in (
            [Heading("7 Timber", 0, "a")],
            heading("7 Timber", 0, "a", room=1),
            [*heading("7 Timber", 0, "a", room=1), *subheading("From the log")],
        ):
            said = pages([filled_but(left), *opening, following])
            page = next(words for words in said if "7 Timber" in words)
            assert first in page


def test_a_heading_at_the_end_of_a_paper_is_still_printed():
    assert "7 Timber" in " ".join(pages([text("One."), Heading("7 Timber", 0, "a")]))


@pytest.mark.parametrize("left", [40, 55, 70])
def test_a_short_piece_goes_to_the_next_page_whole(left):
    piece = Kept([stays(text("Strip")), text("Seen. " * 60), text("Cause")], whole_up_to=80 * mm)
    said = pages([filled_but(left), piece])
    assert "Strip" not in said[0]
    assert "Strip" in said[1]
    assert "Cause" in said[1]


def test_a_long_piece_begins_where_it_stands():
    note = " ".join(f"Strake {n} weeps." for n in range(900))
    said = pages([filled_but(100), Kept([stays(text("Strip")), text(note)], whole_up_to=80 * mm)])
    assert "Strip" in said[0]
    assert "Strake 0 weeps." in said[0]
    assert "Strake 899 weeps." in said[-1]


def test_no_page_begins_or_ends_with_one_line_of_a_paragraph():
    note = "Planks are loose. " * 40
    _, tall = text(note).wrap(WIDTH, 1000)
    assert tall > 6 * 13
    for left in range(20, int(tall) + 12, 7):
        reader = PdfReader(io.BytesIO(made([filled_but(left), text(note)], WORDS)))
        lines = [page.extract_text().splitlines() for page in reader.pages]
        assert 1 not in [sum("loose" in line for line in page) for page in lines], left


def test_a_page_that_lies_across_has_its_own_edges_and_the_next_stands_upright():
    reader = PdfReader(
        io.BytesIO(made([text("One."), *turned([text("Two.")]), text("Three.")], WORDS))
    )
    sizes = [(float(p.mediabox.width), float(p.mediabox.height)) for p in reader.pages]
    assert [wide > tall for wide, tall in sizes] == [False, True, False]
    assert all("A trial" in page.extract_text() for page in reader.pages)


@pytest.mark.parametrize("name", ["A4", "Letter"])
def test_a_paper_is_of_the_size_that_is_asked_for(name):
    reader = PdfReader(io.BytesIO(made(texts("One."), WORDS, SIZES[name])))
    box = reader.pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(SIZES[name], abs=0.01)


def test_a_word_wider_than_its_cell_is_broken_and_all_of_it_is_there():
    word = "x" * 400 + "END"
    said = pages([schedule([Column("A", 1), Column("B", 9)], [Row([word, "b"])], WIDTH)])
    assert "".join(said[0].split()).count("x") >= 400
    assert "END" in "".join(said[0].split())


def test_a_row_taller_than_a_page_is_broken_over_pages_and_loses_nothing():
    note = " ".join(f"Strake {n} weeps." for n in range(1500))
    said = pages([schedule([Column("A", 1), Column("B", 9)], [Row(["a", note])], WIDTH)])
    assert len(said) > 2
    assert "Strake 0 weeps." in said[0]
    assert "Strake 1499 weeps." in said[-1]


class Picture(Flowable):
    """With a caption that can be found."""

    def wrap(self, available_width, available_height):
        return 100, 70 * mm

    def draw(self):
        self.canv.drawString(0, 0, "A crack.")


def finding(words=""):
    head = [Heading("F12 floor timber", 0, "f12"), stays(text("Class 3"))]
    told = [text("Seen: soft."), *texts(words), text("Cause: iron.")]
    return WithPicture([*head, *told, Picture()])


@pytest.mark.parametrize("left", range(10, 700, 60))
def test_a_picture_never_begins_a_page_without_the_last_words_before_it(left):
    said = pages([filled_but(left), finding()])
    page = next(words for words in said if "A crack." in words)
    assert "Cause: iron." in page
    assert "Class 3" in next(words for words in said if "F12 floor" in words)
    lost = left if "F12 floor" not in said[0] else 0
    assert lost <= MOST_WHITE * HEIGHT


def test_a_finding_with_its_picture_is_broken_only_where_much_white_would_be_left():
    kept = pages([filled_but(MOST_WHITE * HEIGHT - 5), finding()])
    assert "F12 floor" in kept[1]
    broken = pages([filled_but(MOST_WHITE * HEIGHT + 40), finding("Blackened. " * 100)])
    assert "F12 floor" in broken[0]
    assert "Blackened." in broken[0]
    assert "Blackened." not in broken[1]


def test_a_picture_with_few_words_goes_along_with_its_heading():
    head = [Heading("F12 floor timber", 0, "f12"), stays(text("Class 3"))]
    said = pages([filled_but(300), WithPicture([*head, text("Seen: soft."), Picture()])])
    assert "F12 floor" in next(words for words in said if "A crack." in words)


def test_a_note_longer_than_a_page_begins_where_it_stands_and_still_has_its_picture():
    said = pages([filled_but(200), finding("Strake weeps. " * 2000)])
    assert "Strake weeps." in said[0]
    assert "A crack." in said[-1]


def test_no_line_breaks_inside_a_length_and_it_is_found_as_it_is_typed():
    figure = "1 5/8 in"
    for width in range(40, 90):
        said = text(f"Rot to a depth of {figure} aft")
        said.wrap(width, 500)
        lines = [getattr(line, "words", line) for line in said.blPara.lines]
        lines = [" ".join(words[1] if isinstance(words, tuple) else words) for words in lines]
        assert any(figure in line.replace("\N{NO-BREAK SPACE}", " ") for line in lines), lines
    assert figure in pages([text(f"Rot {figure} deep")])[0]


def test_in_a_column_narrower_than_a_figure_it_breaks_between_its_parts():
    said = text("5/64 in high")
    said.wrap(30, 500)
    assert [line[1] for line in said.blPara.lines] == [["5/64"], ["in"], ["high"]]
