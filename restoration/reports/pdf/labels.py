"""Labels as PDF: black on white, each in its place on the sheet to a tenth of a millimetre.

The tag and the code are always there. Of the rest as many lines as there is room for, in the order
of their weight; a line that is too long is set smaller, and where even that is not enough it is
cut short with a sign for it. Nothing runs over the edge of a label.
"""

import io
from collections.abc import Sequence

from reportlab.lib.units import mm
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from restoration.calc.label_sheet import LabelSheet, Place, places
from restoration.reports.labels import Label
from restoration.reports.pdf.letters import printable, register_fonts
from restoration.reports.pdf.qr import draw_qr, least_side_mm
from restoration.reports.pdf.ring_mark import draw_ring_mark
from restoration.reports.pdf.type import BOLD, REGULAR

EDGE_MM = 1.0  # besides the code's own quiet zone
TEXT_EDGE_MM = 2.0
LARGEST_CODE_MM = 32.0
CODE_SHARE = 0.45  # of the width of a label
LARGEST, WELL_READ, SMALL, SMALLEST = 10.0, 7.5, 6.5, 5.5  # points, of all but the tag
TAG_LARGEST, TAG_SMALLEST = 20.0, 8.0
LEADING = 1.22
MORE = "…"


def draw_labels(
    labels: Sequence[Label], sheet: LabelSheet, first: int = 1, *, outline: bool = False
) -> bytes:
    """The labels from position `first` on. ValueError, in a sentence, for a position that the
    sheet has not, and for a label too small for its code to be read."""
    register_fonts()
    found = places(sheet, len(labels), first)
    file = io.BytesIO()
    canvas = _canvas(file, labels, sheet)
    page = 0
    for label, place in zip(labels, found, strict=True):
        while page < place.page:
            canvas.showPage()
            page += 1
        _one(canvas, label, sheet, place, outline)
    canvas.showPage()
    canvas.save()
    return file.getvalue()


def _canvas(file, labels: Sequence[Label], sheet: LabelSheet) -> Canvas:
    size = (sheet.page_width_mm * mm, sheet.page_height_mm * mm)
    canvas = Canvas(file, pagesize=size, invariant=1, lang="en-GB")
    tags = [label.tag for label in labels]
    canvas.setTitle(f"Labels: {printable(', '.join(tags[:6]))}{', …' if len(tags) > 6 else ''}")
    canvas.setSubject(printable(sheet.name))
    canvas.setCreator("Hull & Log")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    canvas.setViewerPreference("PrintScaling", "None")  # a label made smaller is a label misplaced
    return canvas


def _one(canvas: Canvas, label: Label, sheet: LabelSheet, place: Place, outline: bool) -> None:
    wide, tall = sheet.width_mm * mm, sheet.height_mm * mm
    canvas.saveState()
    canvas.translate(
        place.left_mm * mm, (sheet.page_height_mm - place.top_mm - sheet.height_mm) * mm
    )
    canvas.setFillGray(0)
    canvas.setStrokeGray(0)
    if outline:
        canvas.setLineWidth(0.25)
        canvas.rect(0, 0, wide, tall)
    side = _code_side(label, sheet)
    draw_qr(canvas, label.address, EDGE_MM * mm, (tall - side) / 2, side)
    left = EDGE_MM * mm + side
    _text(canvas, label, left, wide - left - TEXT_EDGE_MM * mm, tall)
    canvas.restoreState()


def _code_side(label: Label, sheet: LabelSheet) -> float:
    """As large as there is room for; never too small to be read."""
    least = least_side_mm(label.address)
    room = min(
        sheet.height_mm - 2 * EDGE_MM,
        max(sheet.width_mm * CODE_SHARE, min(least, sheet.width_mm * 0.6)),
        LARGEST_CODE_MM,
    )
    if room < least:
        raise ValueError(
            f"The code of {label.tag} needs {least:.1f} mm to be read by a telephone, and a label "
            f"of {sheet.width_mm:g} × {sheet.height_mm:g} mm leaves it {room:.1f} mm: choose a "
            "larger label."
        )
    return room * mm


def lines_of(label: Label) -> list[tuple[str, str]]:
    """What stands beside the code under the tag, the weightiest first: its name and its words."""
    said = [
        ("member", label.member),
        ("size", label.size),
        ("wood", label.wood),
        ("rings", label.rings),
        ("vessel", label.vessel),
    ]
    return [(name, printable(words)) for name, words in said if words]


def _text(canvas: Canvas, label: Label, left: float, wide: float, tall: float) -> None:
    room = tall - 2 * TEXT_EDGE_MM * mm
    tag_size = min(TAG_LARGEST, room * 0.3)
    tag, tag_size = fitted(printable(label.tag), BOLD, wide, tag_size, TAG_SMALLEST)
    under = room - tag_size * LEADING
    rows = rows_of(label, wide, under)
    size = _common_size(rows, wide, under)
    used = tag_size * LEADING + len(rows) * size * LEADING
    at = tall - (tall - used) / 2 - tag_size * 0.95
    canvas.setFont(BOLD, tag_size)
    canvas.drawString(left, at, tag)
    at -= tag_size * (LEADING - 0.95)
    for name, words in rows:
        at -= size * 0.95
        _line(canvas, label, name, words, left, at, wide, size)
        at -= size * (LEADING - 0.95)


def rows_of(label: Label, wide: float, tall: float) -> list[tuple[str, str]]:
    """As many lines as there is room for; one that is too long goes on in a second row while
    there is room for that too."""
    most = max(int(tall // (SMALLEST * LEADING)), 0)
    spare = max(int(tall // (WELL_READ * LEADING)) - len(lines_of(label)), 0)
    rows: list[tuple[str, str]] = []
    for name, words in lines_of(label):
        room = wide - _mark_room(label, name)
        first, rest = parted(words, _face(name), room, WELL_READ)
        if rest and spare and stringWidth(words, _face(name), SMALL) > room:
            rows += [(name, first), (f"{name}, on", rest)]
            spare -= 1
        else:
            rows.append((name, words))
    return rows[:most]


def parted(words: str, face: str, wide: float, size: float) -> tuple[str, str]:
    """The words up to the last comma that fits, or else the last blank, and the rest; all of
    them where they fit."""
    if stringWidth(words, face, size) <= wide:
        return words, ""
    for stop in (", ", " "):
        at = len(words)
        while (at := words.rfind(stop, 0, at)) > 0:
            first = words[:at] + stop.rstrip()
            if stringWidth(first, face, size) <= wide:
                return first, words[at + len(stop) :]
    return words, ""


def _common_size(rows: list[tuple[str, str]], wide: float, under: float) -> float:
    """One size for all rows, as large as the longest allows, but no smaller than is well read:
    a longer one is then set smaller by itself."""
    if not rows:
        return 0.0
    most = min(LARGEST, under / (len(rows) * LEADING))
    fits = [wide / max(stringWidth(words, _face(name), 1.0), 1e-6) for name, words in rows]
    return min(most, max(min(fits), WELL_READ))


def _face(name: str) -> str:
    return BOLD if name.startswith("member") else REGULAR


def _mark_room(label: Label, name: str) -> float:
    """How much of its row the ring mark takes at the size that is well read."""
    return WELL_READ * 2.4 if name == "rings" and label.ring_mark else 0.0


def _line(canvas, label: Label, name: str, words: str, left, at, wide, size: float) -> None:
    if name == "rings" and label.ring_mark:
        mark = size if label.ring_mark == "log" else min(size * 2.0, wide / 3)
        draw_ring_mark(canvas, label.ring_mark, left, at - size * 0.15, mark, size)
        left, wide = left + mark + size * 0.4, wide - mark - size * 0.4
    said, smaller = fitted(words, _face(name), wide, size, SMALLEST)
    canvas.setFont(_face(name), smaller)
    canvas.drawString(left, at, said)


def fitted(
    words: str, face: str, wide: float, largest: float, smallest: float
) -> tuple[str, float]:
    """The words at the largest size at which they take no more than `wide`; cut short with …
    where they do not fit at the smallest."""
    smallest = min(smallest, largest)
    whole = stringWidth(words, face, 1.0)
    if whole * smallest <= wide:
        return words, min(largest, wide / whole) if whole else largest
    while words and stringWidth(words + MORE, face, smallest) > wide:
        words = words[:-1]
    return words.rstrip() + MORE, smallest
