"""What a pattern's drawing is made of, in mm of paper from its top left corner; how each looks."""

from dataclasses import dataclass

from restoration.drawings.hull.paper import Area, Line, Words

INK, SOFT, ACCENT, PALE, WOOD = "#1b242c", "#4a555f", "#93391a", "#b9bdb8", "#fffdf6"


@dataclass(frozen=True)
class Circle:
    x: float
    y: float
    radius: float
    tone: str = "hole"


Shape = Area | Line | Words | Circle


@dataclass(frozen=True)
class Look:
    """Width of line and dashes in mm of paper."""

    stroke: str
    width: float
    dash: str = ""
    fill: str = "none"


LOOKS = {
    "outline": Look(INK, 0.45, fill=WOOD),
    "cut": Look(INK, 0.35),
    "rabbet": Look(INK, 0.35),
    "inner_rabbet": Look(INK, 0.3, "4 1.5"),
    "bearding": Look(INK, 0.3, "9 2"),
    "centre": Look(INK, 0.22, "10 2 1.5 2"),
    "waterline": Look(INK, 0.3, "0.8 1.6"),
    "scarf": Look(INK, 0.35, "6 1.5 1.5 1.5 1.5 1.5"),
    "other": Look(SOFT, 0.25, "2 2"),
    "hole": Look(INK, 0.3, fill="#ffffff"),
    "cross": Look(INK, 0.15),
    "station": Look(ACCENT, 0.2, "3 1.5"),
    "grain": Look(SOFT, 0.25),
    "dimension": Look(SOFT, 0.18),
    "sheet": Look(ACCENT, 0.2),
    "loop": Look(ACCENT, 0.6),
    "faint": Look(PALE, 0.3),
}
WORD_TONES = {"plain": INK, "soft": SOFT, "bevel": ACCENT, "bold": INK, "sheet": ACCENT}


@dataclass(frozen=True)
class Drawing:
    """From the back to the front; `says` is what it is, in words; `scale` what 1 mm stands for."""

    width: float
    height: float
    scale: float
    says: str
    shapes: tuple[Shape, ...]
