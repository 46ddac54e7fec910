"""Our drawings on paper: the screen's own SVG, as vectors, with nothing left out in silence."""

import io

import pytest
from pypdf import PdfReader

from restoration.reports.pdf.page import SheetWords, made
from restoration.reports.pdf.vectors import Drawing
from timber_stock.drawings.log_end import LogEnd, log_end_svg
from timber_stock.drawings.log_section import CutDrawn, Section, TimberDrawn, section_svg
from timber_stock.drawings.section import SectionPicture
from timber_stock.drawings.section import section_svg as dried_svg
from timber_stock.drawings.svg import drawing, element, label
from timber_stock.wood.distortion import dry_section

WORDS = SheetWords("t", "a", "s", "h", "r", (("a", "b"),) * 3, False)
BOX = ((0.0, 0.0), (120.0, 0.0), (120.0, 60.0), (0.0, 60.0))
LOG = Section(
    "a log", 300, 250, 30, (20, -10), 30, 300,
    timbers=[TimberDrawn("F12", "1", -100, 20, 80, 160, dried=[(-98, 22), (-24, 22), (-24, 176)]),
             TimberDrawn("F14", "2", 20, 20, 120, 60, pinned=True)],
    cuts=[CutDrawn(-300, 0, 300, 0, 6, "7")], knots=[[(0, 0), (200, 30), (200, -30)]],
    rot=[(0, -200, 20)], gone=[(-300, 200, 600, 100)], bed=-260,
)  # fmt: skip
DRAWN = {
    "an end": log_end_svg(LogEnd("Butt", 800, 30, 40, 25, "31 1/2 in", "x"), widest_mm=900),
    "a log on the saw": section_svg(LOG),
    "a dried section": dried_svg(
        SectionPicture(
            dry_section(BOX, (60.0, -40.0), 4.3, 8.9), 1, "k", "120 mm", "60 mm", "green", "x"
        )
    ),
}


def paper(svg, width=220):
    return PdfReader(io.BytesIO(made([Drawing(svg, width)], WORDS)))


def strokes(reader):
    """The operators of the page, one a line as the paper holds them."""
    return reader.pages[0].get_contents().get_data().decode("latin-1")


@pytest.mark.parametrize("name", DRAWN)
def test_what_the_screen_draws_comes_out_as_vectors_and_not_as_a_picture(name):
    reader = paper(DRAWN[name])
    assert not reader.pages[0].images
    assert strokes(reader).count(" c") > 5 or strokes(reader).count(" l") > 20


def test_the_words_of_a_drawing_can_be_read_and_searched():
    said = paper(DRAWN["a log on the saw"]).pages[0].extract_text()
    for word in ("F12", "• F14", "7", "12"):
        assert word in said
    assert "31 1/2 in" in paper(DRAWN["an end"]).pages[0].extract_text()


def test_a_drawing_keeps_its_shape_within_the_room_it_is_given():
    wide = Drawing(DRAWN["an end"], 160)
    tall = Drawing(DRAWN["an end"], 400, most_tall=86)
    assert (wide.width, wide.height) == pytest.approx((160, 172))
    assert (tall.width, tall.height) == pytest.approx((80, 86))


def test_places_are_where_the_screen_has_them():
    """A square from (10, 20) to (30, 40) of a drawing 100 wide, at two points to the unit."""
    svg = drawing(
        100.0, 50.0, "x", element("path", d="M10 20h20v20H10z", fill="none", stroke="#000")
    )
    said = strokes(paper(svg, 200))
    assert "2 0 0 -2 0 100 cm" in said
    assert "n 10 20 m 30 20 l 30 40 l 10 40 l h S" in " ".join(said.split())


@pytest.mark.parametrize(
    "inside",
    [
        element("image", href="x.png"),
        element("path", d="M0 0C1 1 2 2 3 3"),
        element("rect", width=1, height=1, fill="red"),
        element("rect", width=1, height=1, filter="url(#x)"),
        element("g", label("a", 1, 1), transform="matrix(1 0 0 1 0 0)"),
    ],
)
def test_what_papers_cannot_draw_is_an_error_and_never_left_out(inside):
    with pytest.raises(ValueError, match="papers"):
        paper(drawing(100.0, 50.0, "x", inside))
