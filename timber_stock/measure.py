"""Lengths, volumes, angles and clock positions, read and written the trade's way.

Inside the program every length is in millimetres; this module is the only place that knows
inches, and the only one that rounds for showing. The inch is 25.4 mm exactly (the
international inch of 1959); the board foot is a piece 1 in x 12 in x 1 ft.
"""

import math
import re
import unicodedata

MM_PER_INCH = 25.4
INCHES_PER_FOOT = 12
MM3_PER_BOARD_FOOT = 144 * MM_PER_INCH**3
LONGEST_MM = 100_000.0
FINEST_DENOMINATOR = 64
ON_THE_MARK_MM = 0.02  # a value this close to a mark on the rule is taken to be that mark
FEET_FROM_INCHES = 24
METRES_FROM_MM = 10_000.0
WHOLE_FROM_MM = 20.0
MARKS_FROM_MM = 2 * MM_PER_INCH
AS_TYPED_MM = 0.0005  # no hundredth of a millimetre is so near a 32nd or 64th without being it

ACCEPTED_FORMS = (
    'inches as 4 1/2, 4.5" or 7/8; feet and inches as 1\' 3 1/8" or 6 ft; '
    "feet-inches-eighths as 1-3-1; or metric as 114 mm, 11.4 cm, 0.114 m"
)

_MM_PER_UNIT = {"mm": 1.0, "cm": 10.0, "m": 1000.0}
_SAME_MARK = str.maketrans("′’‘ʹ´`″”“ʺ⁄∕−–—‑", "''''''\"\"\"\"//----")
_QUANTITY = r"(?:(?:\d+[ -]+)?\d+ ?/ ?\d+|\d+\.?\d*|\.\d+)"
_METRIC = re.compile(rf"({_QUANTITY}) ?(mm|cm|m)\.?", re.ASCII)
_IMPERIAL = re.compile(
    rf"(?:(?P<feet>{_QUANTITY}) ?(?:'|ft\.?|feet|foot))?"
    rf"(?: ?-? ?(?P<inches>{_QUANTITY}) ?(?P<mark>\"|in\.?|ins\.?|inch|inches)?)?",
    re.ASCII,
)
_BUILDERS = re.compile(r"(\d+)-(\d+)-(\d+)(\+?)", re.ASCII)
_MAYBE_THOUSANDS = re.compile(r"(?<![\d.,])[1-9]\d{0,2},\d{3}(?![\d,])(?! ?m(?!m))", re.ASCII)
_CLOCK = re.compile(r"(\d{1,2})(?::([0-5]\d))?(?: ?o'? ?clock)?", re.ASCII)


def mm_from_inches(inches: float) -> float:
    """Millimetres in so many inches."""
    return _finite(inches) * MM_PER_INCH


def inches_from_mm(mm: float) -> float:
    """Inches in so many millimetres."""
    return _finite(mm) / MM_PER_INCH


def parse_length_mm(text: str, default_unit: str = "in") -> float:
    """Read a length as a shipwright writes it; return millimetres.

    Understands ``4 1/2``, ``4.5"``, ``4½ in``, ``7/8``, ``1' 3 1/8"``, ``6 ft``, ``114 mm``,
    ``11.4 cm``, ``0.114 m``, a comma for the decimal point, and the builder's
    feet-inches-eighths ``1-3-1``, where ``1-3-1+`` is a sixteenth more. A bare number is in
    `default_unit`, ``in`` or ``mm``.

    Raises ValueError, with a sentence to show, for anything else, for a negative length, a
    fraction over nothing, a length over 100 m, and a comma that may mean thousands.
    """
    if default_unit not in ("in", "mm"):
        raise ValueError("A bare number is read in in or mm; no other unit can be the default.")
    plain = _plain(text)
    if plain.startswith("-"):
        raise ValueError(f"“{text}” is negative; a length is nought or more.")
    if _MAYBE_THOUSANDS.search(plain):
        raise ValueError(
            f"“{text}” can be read two ways: write the number without a comma for thousands, "
            "or with a point for decimals."
        )
    mm = _read_mm(plain.replace(",", "."), default_unit, text)
    if mm > LONGEST_MM:
        raise ValueError(f"“{text}” is over 100 m, longer than any timber; check the unit.")
    return mm


def _plain(text: str) -> str:
    """One spelling for primes, dashes, fraction signs and blanks, in small letters."""
    spread = "".join(
        " " + unicodedata.normalize("NFKC", sign)
        if unicodedata.decomposition(sign).startswith("<fraction>")
        else sign
        for sign in text
    )
    return " ".join(spread.translate(_SAME_MARK).replace("''", '"').lower().split())


def _read_mm(plain: str, default_unit: str, text: str) -> float:
    # No sensible length needs more signs, and a longer row of digits only overflows.
    if not plain or len(plain) > 40:
        raise _not_a_length(text)
    if builders := _BUILDERS.fullmatch(plain):
        return _builders_mm(*builders.groups())
    if metric := _METRIC.fullmatch(plain):
        return _quantity(metric[1]) * _MM_PER_UNIT[metric[2]]
    imperial = _IMPERIAL.fullmatch(plain)
    if imperial is None:
        raise _not_a_length(text)
    feet, inches, mark = imperial["feet"], imperial["inches"], imperial["mark"]
    if feet is None and mark is None and default_unit == "mm":
        return _quantity(inches)
    return _feet_and_inches_mm(feet, inches)


def _not_a_length(text: str) -> ValueError:
    shown = text if len(text) <= 40 else text[:40] + "…"
    return ValueError(f"“{shown}” is not a length that can be read. Write {ACCEPTED_FORMS}.")


def _builders_mm(feet: str, inches: str, eighths: str, plus: str) -> float:
    if int(inches) >= INCHES_PER_FOOT or int(eighths) >= 8:
        raise ValueError(
            f"“{feet}-{inches}-{eighths}{plus}” is not feet-inches-eighths: "
            "inches run from 0 to 11 and eighths from 0 to 7."
        )
    sixteenths = 2 * int(eighths) + (1 if plus else 0)
    return (int(feet) * INCHES_PER_FOOT + int(inches) + sixteenths / 16) * MM_PER_INCH


def _feet_and_inches_mm(feet: str | None, inches: str | None) -> float:
    whole_feet = _quantity(feet) if feet else 0.0
    rest = _quantity(inches) if inches else 0.0
    if feet and inches and (rest >= INCHES_PER_FOOT or not whole_feet.is_integer()):
        raise ValueError(
            f"“{feet} ft {inches} in” mixes two ways of writing: beside whole feet, "
            "inches run from 0 to just under 12."
        )
    return (whole_feet * INCHES_PER_FOOT + rest) * MM_PER_INCH


def _quantity(text: str) -> float:
    if "/" not in text:
        return float(text)
    *whole, top = re.split("[ -]+", text.split("/")[0].strip())
    bottom = float(text.split("/")[1])
    if bottom == 0:
        raise ValueError(f"“{text}” is a fraction over nothing; write it as 1/2 or 3/16.")
    return (float(whole[0]) if whole else 0.0) + float(top) / bottom


def format_length(mm: float, units: str = "imperial", denominator: int = 16) -> str:
    """Write a length for reading: ``4 1/2 in``, ``7 ft 3 1/8 in``, ``114.3 mm``, ``12.500 m``.

    Imperial lengths are to 1/`denominator` inch (a power of two up to 64), in feet from 24 in
    up; one that sits within 0.02 mm of a finer mark, down to 1/64 in, shows that mark, so that
    what was typed comes out as it went in. Metric lengths are to 0.1 mm, in metres from 10 m
    up. A difference below nought carries a minus sign (which `parse_length_mm` refuses).
    Raises ValueError for a figure that is not finite or a system or denominator not named here.
    """
    sign = "−" if _finite(mm) < 0 else ""
    size = abs(mm)
    if _imperial(units):
        return _signed(sign, _feet_text(size, denominator))
    tenths = _half_up(size * 10)
    if tenths < METRES_FROM_MM * 10:
        return _signed(sign, f"{_decimal_text(size)} mm")
    return sign + (f"{tenths / 10_000:.4f} m" if tenths % 10 else f"{tenths // 10 / 1000:.3f} m")


def format_size(mm: float, units: str = "imperial", denominator: int = 16) -> str:
    """Write a size of timber, or a place along it: ``4 1/2 in``, ``462 mm``, ``10.439 m``.

    As `format_length`, but metric from 20 mm up is to the whole millimetre, and imperial from
    2 in up to 1/`denominator` inch: no timber is sawn, and none stays, finer (common practice).
    Thinner stuff keeps its tenth, its 32nd and 64th, and so does what is just such a part of an
    inch, for so it was typed. What is bored, turned or taken up is for `format_length`.
    """
    return format_length(_as_size(mm, units, denominator), units, denominator)


def format_section(
    sided_mm: float,
    moulded_mm: float,
    length_mm: float | None = None,
    units: str = "imperial",
    denominator: int = 16,
) -> str:
    """Write sided, moulded and perhaps length: ``2 1/2 × 5 in × 3 ft 4 in``, ``64 × 127 mm``.

    Sided and moulded are in inches or millimetres always; all three are as by `format_size`.
    """
    if any(_finite(size) < 0 for size in (sided_mm, moulded_mm, length_mm or 0.0)):
        raise ValueError("Sided, moulded and length are nought or more.")
    sizes = [_as_size(size, units, denominator) for size in (sided_mm, moulded_mm)]
    if _imperial(units):
        section = " × ".join(_inches_text(*_marks(size, denominator)) for size in sizes) + " in"
    else:
        section = " × ".join(_decimal_text(size) for size in sizes) + " mm"
    if length_mm is None:
        return section
    length = format_size(length_mm, units, denominator)
    return f"{section.removesuffix(' mm') if length.endswith(' mm') else section} × {length}"


def _as_size(mm: float, units: str, denominator: int) -> float:
    size = abs(_finite(mm))
    if not _imperial(units):
        return mm if size < WHOLE_FROM_MM else math.copysign(_half_up(size), mm)
    near_mm = ON_THE_MARK_MM if size < MARKS_FROM_MM else AS_TYPED_MM
    marks, used = _marks(size, denominator, near_mm)
    return math.copysign(marks * MM_PER_INCH / used, mm)


def _imperial(units: str) -> bool:
    if units not in ("imperial", "metric"):
        raise ValueError("Lengths are shown in imperial or metric units; no other is known.")
    return units == "imperial"


def _marks(mm: float, denominator: int, near_mm: float = ON_THE_MARK_MM) -> tuple[int, int]:
    """The length as so many marks of so many to the inch: (marks, denominator used)."""
    if denominator not in (1, 2, 4, 8, 16, 32, 64):
        raise ValueError("A rule is divided into 1, 2, 4, 8, 16, 32 or 64 parts to the inch.")
    inches = inches_from_mm(mm)
    finer = denominator
    while finer <= FINEST_DENOMINATOR:
        marks = _half_up(inches * finer)
        if abs(marks / finer - inches) * MM_PER_INCH <= near_mm:
            return marks, finer
        finer *= 2
    return _half_up(inches * denominator), denominator


def _feet_text(mm: float, denominator: int) -> str:
    marks, used = _marks(mm, denominator)
    if marks < FEET_FROM_INCHES * used:
        return f"{_inches_text(marks, used)} in"
    feet, rest = divmod(marks, INCHES_PER_FOOT * used)
    if not rest:
        return f"{feet} ft"
    # "2 ft 1/2 in" is misread as two and a half feet, so the nought inches are written.
    nought = "0 " if rest < used else ""
    return f"{feet} ft {nought}{_inches_text(rest, used)} in"


def _inches_text(marks: int, denominator: int) -> str:
    whole, top = divmod(marks, denominator)
    if not top:
        return str(whole)
    common = math.gcd(top, denominator)
    fraction = f"{top // common}/{denominator // common}"
    return f"{whole} {fraction}" if whole else fraction


def board_feet(mm3: float) -> float:
    """Board feet in a volume in cubic millimetres: 144 cubic inches each."""
    return _finite(mm3) / MM3_PER_BOARD_FOOT


def cubic_metres(mm3: float) -> float:
    """Cubic metres in a volume in cubic millimetres."""
    return _finite(mm3) / 1e9


def format_angle(degrees: float) -> str:
    """Write an angle in degrees to one decimal at most: ``12.5°``, ``45°``."""
    return _signed("−" if _finite(degrees) < 0 else "", f"{_decimal_text(abs(degrees))}°")


def parse_clock(text: str) -> float:
    """Read a clock position, ``4 o'clock``, ``4:30`` or ``4``; return hours, 0 < h <= 12.

    Half past twelve is half an hour past the top, 0.5.
    """
    clock = _CLOCK.fullmatch(_plain(text))
    if clock is None or not 1 <= int(clock[1]) <= 12:
        raise ValueError(f"“{text}” is not a clock position. Write 4 o'clock, 4:30 or 4.")
    hours = int(clock[1]) + int(clock[2] or 0) / 60
    return hours - 12 if hours > 12 else hours


def format_clock(hours: float) -> str:
    """Write a clock position to the minute: ``4 o'clock``, ``4:30``; 0 < hours <= 12."""
    if not 0 < _finite(hours) <= 12:
        raise ValueError("A clock position is over 0 and up to 12 hours.")
    hour, minute = divmod(_half_up(hours * 60), 60)
    return f"{hour or 12}:{minute:02d}" if minute else f"{hour or 12} o'clock"


def _decimal_text(number: float) -> str:
    whole, tenth = divmod(_half_up(number * 10), 10)
    return f"{whole}.{tenth}" if tenth else str(whole)


def _signed(sign: str, text: str) -> str:
    # What rounds to nought has no sign.
    return sign + text if any(digit in text for digit in "123456789") else text


def _half_up(number: float) -> int:
    return math.floor(number + 0.5)


def _finite(number: float) -> float:
    if not math.isfinite(number):
        raise ValueError("A measure must be a number, neither missing nor endless.")
    return number
