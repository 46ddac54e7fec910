"""The type scale and colours of every paper: ink on white, thin rules, one strong accent."""

from functools import cache

from reportlab.lib.colors import HexColor
from reportlab.lib.enums import TA_RIGHT
from reportlab.lib.styles import ParagraphStyle

from restoration.reports.pdf.letters import register_fonts

INK = HexColor("#1b242c")
SOFT = HexColor("#4a555f")
LINE = HexColor("#b9bdb8")
ACCENT = HexColor("#93391a")
DRAFT_WASH = HexColor("#f5ebe6")
REGULAR, BOLD = "NotoSans-Regular", "NotoSans-Bold"
HAIR, THIN, STRONG = 0.4, 0.7, 1.4

# name: (face, size, leading, space before, space after)
_SCALE = {
    "body": (REGULAR, 9.5, 13.5, 0, 5),
    "entry": (REGULAR, 9.5, 12.5, 0, 0),
    "large": (REGULAR, 10.5, 13.5, 0, 0),
    "small": (REGULAR, 8, 11, 0, 3),
    "label": (REGULAR, 7, 9, 0, 0),
    "cell": (REGULAR, 8, 10.6, 0, 0),
    "head_cell": (BOLD, 7.5, 9.5, 0, 0),
    "caption": (REGULAR, 8, 10.6, 2, 0),
    "title": (BOLD, 15, 19, 0, 2),
    "name": (BOLD, 27, 32, 0, 4),
    "long_name": (BOLD, 19, 23, 0, 4),
    "state": (BOLD, 11, 15, 0, 8),
    "heading_1": (BOLD, 16, 20, 20, 9),
    "heading_2": (BOLD, 11.5, 15, 12, 5),
    "heading_3": (BOLD, 10, 13, 10, 3),
}


@cache
def style(name: str, *, shaped: bool = False, right: bool = False) -> ParagraphStyle:
    """A style of the scale. `shaped` has the font set loose accents, which takes longer."""
    register_fonts()
    face, size, leading, before, after = _SCALE[name]
    soft = name in ("label", "caption")
    return ParagraphStyle(
        name,
        fontName=face,
        fontSize=size,
        leading=leading,
        spaceBefore=before,
        spaceAfter=after,
        textColor=SOFT if soft else ACCENT if name == "state" else INK,
        allowWidows=0,
        allowOrphans=0,
        shaping=int(shaped),
        alignment=TA_RIGHT if right else 0,
    )
