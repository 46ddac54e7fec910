"""A layout as a paper to set out by on the board: the drawing to a scale, and the figures."""

from django.utils import timezone
from reportlab.lib.units import mm

from restoration.calc.nesting_set_out import Marked, set_out
from restoration.calc.nesting_sheet import DEFECT_KINDS, Defect, runs_off_the_face
from restoration.calc.nesting_yield import Yield, yield_of
from restoration.drawings.nesting import Drawing, Drawn, layout_drawing
from restoration.models import Layout, Yard
from restoration.reports.paper import Facts, Figure, Head, Line, Paper, Table, Words
from restoration.reports.pdf.page import inside
from restoration.reports.pdf.paper import TALLEST, page_size
from timber_stock.templatetags.measures import about
from timber_stock.web.days import day_said
from timber_stock.web.fields import format_for, size_for

HOW = (
    "Strike a chalk line down the face, as the edges were measured from it. Lay each pattern to "
    "its two corners A and B: how far from the butt end, and how far left or right of the chalk "
    "line as you look along from the butt."
)


def drawn_pieces(layout: Layout, units: str) -> list[Drawn]:
    """Each laid piece with what is said of it."""
    rows = {row.key: row for row in layout.pieces.all()}
    request = layout.request()
    pieces = {piece.key: piece for piece in request.pieces}
    return [
        Drawn(
            pieces[place.key],
            place,
            name=str(rows[place.key].pk),
            mark=short(pieces[place.key].label),
            note=said_of(set_out(pieces[place.key], place), pieces[place.key].label, units),
        )
        for place in layout.places()
    ]


def short(label: str) -> str:
    """What fits on a piece: the member's mark, and which of several it is."""
    words = label.split()
    return f"{words[0]} {words[-1]}" if words[1:] and words[-1].startswith("(") else words[0]


def said_of(marked: Marked, label: str, units: str) -> str:
    over = ", turned over" if marked.mirrored else ""
    start, end = (about(at, units) for at in (marked.from_mm, marked.to_mm))
    return (
        f"{label}: {start} to {end} from the butt, {marked.off_grain_deg:.1f}° off the grain{over}"
    )


def across_words(across_mm: float, units: str) -> str:
    """How far from the chalk line and to which side."""
    words = about(abs(across_mm), units)
    return (
        f"{words} {'left' if across_mm > 0 else 'right'}"
        if abs(across_mm) >= 0.5
        else "on the line"
    )


def figures_of(layout: Layout) -> Yield:
    request = layout.request()
    return yield_of(request.sheet, request.pieces, layout.places())


def layout_paper(layout: Layout, units: str, size: str) -> Paper:
    """For a paper of this size lying across, whose drawing comes out at a round scale."""
    room_mm = inside(page_size(size, lying=True))[0] / mm, TALLEST / mm - 2
    laid = drawn_pieces(layout, units)
    says = f"Pieces laid out on {layout.board}"
    drawing = layout_drawing(layout.face(), laid, says, room_mm=room_mm, marks=True, units=units)
    blocks = (
        Facts(_facts(layout, units, drawing)),
        Figure(drawing.svg, _caption(drawing), drawing.width_mm / room_mm[0]),
        Words(HOW, "small"),
        _pieces(laid, units),
        *_defects(layout, units),
    )
    kept = day_said(layout.kept_on) if layout.kept_on else "not kept yet"
    foot = (("Board", str(layout.board)), ("Laid out by", layout.by.full_name()), ("Kept", kept))
    yard = Yard.current().name
    return Paper("Layout", f"{layout.board}", yard, foot, f"layout-{layout.board}", blocks)


def _caption(drawing: Drawing) -> str:
    return (
        f"Scale 1:{drawing.scale}, printed at its own size (no fitting to the page); the ruler "
        "says whether it was. Grey is cut off or kept clear, the tint is sapwood; figures in dark "
        "patches are the defects and promised lengths below."
    )


def _facts(layout: Layout, units: str, drawing: Drawing) -> tuple[tuple[str, str], ...]:
    found = figures_of(layout)
    board = layout.board
    day = timezone.localtime(layout.laid_out_at)
    return (
        ("Board", f"{board.tag}, {board.species.common_name}"),
        ("Thickness", size_for(layout.face().thickness_mm, units)),
        ("Laid out", day_said(day)),
        ("Yield of the whole face", f"{100 * found.of_the_face:.0f} %"),
        ("Yield of what is used", f"{100 * found.of_what_is_used:.0f} %"),
        ("Used from the butt", about(found.used_length_mm, units)),
        ("Gap between pieces", format_for(layout.gap_mm, units)),
        ("Off the grain at most", f"{layout.grain_deg:g}°"),
        ("Scale", f"1:{drawing.scale}"),
    )


def _pieces(laid: list[Drawn], units: str) -> Table:
    heads = (
        Head("Piece", 30), Head("From", 14, True), Head("To", 14, True),
        Head("A, from butt", 16, True),
        Head("A, across", 18, True), Head("B, from butt", 16, True), Head("B, across", 18, True),
        Head("Sided", 12, True), Head("Off grain", 10, True), Head("Lies", 16),
    )  # fmt: skip
    return Table(heads, tuple(_piece_line(drawn, units) for drawn in laid))


def _piece_line(drawn: Drawn, units: str) -> Line:
    marked = set_out(drawn.piece, drawn.place)
    cells = [drawn.piece.label, *(about(at, units) for at in (marked.from_mm, marked.to_mm))]
    for along, across in (marked.a_mm, marked.b_mm):
        cells += [about(along, units), across_words(across, units)]
    cells += [size_for(drawn.piece.sided_mm, units), f"{marked.off_grain_deg:.1f}°"]
    cells.append("turned over" if marked.mirrored else "as drawn")
    return Line(tuple(cells))


def _defects(layout: Layout, units: str) -> list[Table]:
    lines = [Line(cells) for cells in defects_told(layout, units)]
    if not lines:
        return []
    heads = (
        Head("Defect", 30),
        Head("From the butt", 40),
        Head("Across", 40),
        Head("Clear by", 20),
    )
    return [Table(heads, tuple(lines), caption="Defects kept clear of, and lengths promised")]


def defects_told(layout: Layout, units: str) -> list[tuple[str, str, str, str]]:
    """Of each, by its number on the drawing: what it is, from where to where, how far clear."""
    return [_defect(n, defect, units) for n, defect in enumerate(layout.face().defects, 1)]


def _defect(number: int, defect: Defect, units: str) -> tuple[str, str, str, str]:
    along = [max(0.0, x) for x, _ in defect.points_mm]
    across = [y for _, y in defect.points_mm]
    span = f"{size_for(min(along), units)} to {size_for(max(along), units)}"
    wide = f"{across_words(max(across), units)} to {across_words(min(across), units)}"
    name = f"{number} {DEFECT_KINDS[defect.kind]}"
    return name, span, wide, format_for(defect.clearance_mm, units)


def notes_on_face(layout: Layout) -> list[str]:
    """What a shipwright should know of the face as it was entered."""
    sheet = layout.face()
    return [
        f"Defect {number}, the {DEFECT_KINDS[sheet.defects[number - 1].kind]}, runs off the face: "
        "only what lies on the face counts."
        for number in runs_off_the_face(sheet)
        if sheet.defects[number - 1].kind != "used"  # promised over the whole width, by intent
    ]
