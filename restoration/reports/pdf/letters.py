"""Which letters our fonts can print, and what is done with the others: said, never boxed."""

import unicodedata
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from xml.sax.saxutils import escape

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from timber_stock.web.unbroken import unbroken

FONTS = Path(__file__).resolve().parents[3] / "static" / "fonts"
FACES = ("NotoSans-Regular", "NotoSans-Bold", "NotoSans-Italic")
STAND_IN = "\N{REPLACEMENT CHARACTER}"
# Signs the fonts lack that have a plain way of being said.
SAID = str.maketrans(
    {"−": "–", "≤": "at most ", "≥": "at least ", "→": " to ", "✓": "yes", "●": "•"}
)


@cache
def register_fonts() -> None:
    """The three faces, under one family name so that bold and italic are found in a paragraph."""
    for face in FACES:
        # `shapable`: an accent without a composed letter is then set over its letter by the
        # font's own marks, not beside it.
        pdfmetrics.registerFont(TTFont(face, FONTS / f"{face}.ttf", shapable=True))
    regular, bold, italic = FACES
    pdfmetrics.registerFontFamily(
        regular, normal=regular, bold=bold, italic=italic, boldItalic=bold
    )


@cache
def covered() -> frozenset[int]:
    """The code points that every face has."""
    register_fonts()
    faces = (pdfmetrics.getFont(face).face.charToGlyph for face in FACES)
    return frozenset.intersection(*(frozenset(face) for face in faces))


def printable(text: str) -> str:
    """The text composed (NFC), its uncovered letters replaced visibly, its controls dropped."""
    composed = unicodedata.normalize("NFC", text).translate(SAID)
    return "".join(_letter(sign) for sign in composed)


def _letter(sign: str) -> str:
    if sign == "\n" or ord(sign) in covered():
        return sign
    kind = unicodedata.category(sign)
    if kind in ("Cc", "Zs", "Zl", "Zp"):
        return " "
    # Joiners, variation selectors and the like have no shape of their own.
    if kind == "Cf" or "VARIATION SELECTOR" in unicodedata.name(sign, ""):
        return ""
    return STAND_IN


def not_printable(texts: Iterable[str]) -> list[str]:
    """The letters that these texts hold and that come out as the stand-in, each named once."""
    lost = {
        sign
        for text in texts
        for sign in unicodedata.normalize("NFC", text).translate(SAID)
        if sign != STAND_IN and _letter(sign) == STAND_IN
    }
    return [f"U+{ord(sign):04X} {unicodedata.name(sign, 'unnamed')}" for sign in sorted(lost)]


def markup(text: str) -> str:
    """Plain text as paragraph markup: nothing that was typed is taken for markup, and no figure
    breaks over a line. (ReportLab writes a no-break space as a plain one: text stays searchable.)
    """
    return escape(unbroken(printable(text))).replace("\n", "<br/>")


def has_loose_accents(text: str) -> bool:
    """Whether an accent is left that has no composed letter and must be set by the font."""
    return any(unicodedata.combining(sign) for sign in unicodedata.normalize("NFC", text))
