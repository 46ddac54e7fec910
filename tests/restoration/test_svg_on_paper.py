"""Drawings of the screen on paper: every path lands where the picture says, as vectors."""

import io
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pypdf import PdfReader
from reportlab.pdfgen.canvas import Canvas

from restoration.reports.pdf import svg_path as path
from restoration.reports.pdf.svg_figure import SvgFigure
from timber_stock.drawings.line_plot import Axis, Band, Dots, Line, line_plot_svg
from timber_stock.drawings.log_section import CutDrawn, Section, TimberDrawn, section_svg

numbers = st.floats(-500, 500).map(lambda n: round(n, 3))


def on_paper(svg, width=300, tallest=400, looks=None):
    file = io.BytesIO()
    canvas = Canvas(file, pagesize=(600, 600), invariant=1, pageCompression=0)
    figure = SvgFigure(svg, width, tallest, looks)
    figure.drawOn(canvas, 100, 50)
    canvas.save()
    return figure, PdfReader(io.BytesIO(file.getvalue())).pages[0]


def operations(page):
    return [(name.decode(), [float(n) for n in numbers if not isinstance(n, str | list)])
            for numbers, name in page.get_contents().operations
            if name in (b"m", b"l", b"re", b"cm", b"c", b"w")]  # fmt: skip


@given(numbers, numbers, st.floats(-360, 360), numbers, numbers)
def test_a_turn_about_a_point_leaves_it_there_and_keeps_every_distance(x, y, turn, px, py):
    turned = path.matrix_of(f"rotate({turn:.6f} {px} {py})")
    assert path.at((px, py), turned) == pytest.approx((px, py), abs=1e-6)
    far = math.dist((x, y), (px, py))
    assert math.dist(path.at((x, y), turned), (px, py)) == pytest.approx(far, abs=1e-6)


@given(numbers, numbers, st.floats(0.1, 9), numbers, numbers)
def test_the_last_transform_named_is_done_first(x, y, scale, dx, dy):
    both = path.matrix_of(f"translate({dx} {dy}) scale({scale:.4f})")
    scale = float(f"{scale:.4f}")
    assert path.at((x, y), both) == pytest.approx((x * scale + dx, y * scale + dy), abs=1e-6)


def test_small_letters_go_on_from_where_the_path_is_and_z_goes_back_to_its_start():
    steps = path.path_steps("M10 20h5v-7l1 1zm2 3 4 0")
    assert steps == [
        ("M", (10, 20)), ("L", (15, 20)), ("L", (15, 13)), ("L", (16, 14)), ("Z",),
        ("M", (12, 23)), ("L", (16, 23)),
    ]  # fmt: skip


def test_a_curve_with_one_handle_is_the_same_curve_with_two():
    (_, start), (_, one, two, end) = path.path_steps("M0 0Q6 9 12 0")
    for t in (0.25, 0.5, 0.8):
        quadratic = (2 * t * (1 - t) * 6 + t * t * 12, 2 * t * (1 - t) * 9)
        cubic = tuple(
            (1 - t) ** 3 * start[i] + 3 * t * (1 - t) ** 2 * one[i]
            + 3 * t * t * (1 - t) * two[i] + t**3 * end[i]
            for i in (0, 1)
        )  # fmt: skip
        assert cubic == pytest.approx(quadratic)


@pytest.mark.parametrize("inside", ["<use href='#a'/>", "<path d='M0 0A1 1 0 0 0 2 2'/>",
                                    "<rect transform='skewX(3)' width='1' height='1'/>"])  # fmt: skip
def test_what_paper_does_not_know_is_refused_and_never_left_off(inside):
    with pytest.raises(ValueError, match="not known on paper"):
        on_paper(f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">{inside}</svg>')


def test_a_line_stands_on_paper_where_it_stands_in_the_picture_with_up_kept_up():
    svg = '<svg viewBox="10 0 100 50"><path d="M10 0L60 50" stroke="#000"/></svg>'
    figure, page = on_paper(svg, width=200)
    assert (figure.width, figure.height) == (200, 100)
    drawn = operations(page)
    assert ("m", [0, 100]) in drawn
    assert ("l", [100, 0]) in drawn
    assert ("cm", [1, 0, 0, 1, 100, 50]) in drawn


def test_a_tall_picture_is_made_smaller_rather_than_run_off_the_page():
    figure, _ = on_paper('<svg viewBox="0 0 10 100"><path d="M0 0"/></svg>', 300, 400)
    assert (figure.width, figure.height) == (40, 400)


def test_a_line_that_keeps_its_width_on_the_screen_keeps_it_on_paper():
    thin = '<path d="M0 0H9" stroke="#000" stroke-width="2"/>'
    kept = thin.replace("/>", ' vector-effect="non-scaling-stroke"/>')
    _, page = on_paper(f'<svg viewBox="0 0 10 10">{thin}{kept}</svg>', width=100)
    widths = [numbers[0] for name, numbers in operations(page) if name == "w"]
    assert widths == [20, 1.5]


def test_the_saw_drawing_and_the_plot_come_onto_paper_with_their_words_and_no_pixel():
    section = Section(
        "the log", 200, 190, 30, (12, 5), 25, 210,
        timbers=[TimberDrawn("F12", "0", -80, 10, 130, 60, dried=[(0, 0), (9, 0), (9, 9)]),
                 TimberDrawn("C1", "1", -80, -90, 30, 90, freed=True)],
        cuts=[CutDrawn(-190, 0, 190, 0, 3, "7")], knots=[[(0, 0), (50, 4), (50, -4)]],
        rot=[(0, 0, 30)], gone=[(-200, 100, 400, 100)], bed=-190,
    )  # fmt: skip
    _, page = on_paper(section_svg(section))
    said = page.extract_text()
    for part in ("F12", "C1", "7", "12", "3"):
        assert part in said
    axis = Axis("days", 0, 10, [(0, "0"), (10, "10")])
    plot = line_plot_svg(
        "a plot", axis, axis,
        [Line("a line", [(0, 1), (9, 9)], dash="6 4"), Dots("dots", [(1, 2)], hollow=True),
         Band("a band", [(0, 0), (9, 0)], [(0, 1), (9, 1)])],
    )  # fmt: skip
    _, plotted = on_paper(plot)
    for part in ("days", "a line", "dots", "a band", "10"):
        assert part in plotted.extract_text()
    assert not page.images
    assert not plotted.images


def test_a_class_of_the_style_sheet_takes_its_look_from_the_looks_given():
    svg = '<svg viewBox="0 0 10 10"><rect class="wide" width="4" height="4"/></svg>'
    look = {"wide": {"stroke": "#000", "stroke-width": "3", "fill": "none"}}
    _, page = on_paper(svg, width=10, looks=look)
    assert ("w", [3]) in operations(page)
