"""How days, lengths, money and lists are said on paper."""

from collections.abc import Sequence
from datetime import date
from decimal import Decimal

from timber_stock.measure import format_section
from timber_stock.web.days import day_said
from timber_stock.web.fields import format_for, size_for

NOT_STATED = "not stated"


def day(on: date | None, otherwise: str = NOT_STATED) -> str:
    return day_said(on) if on else otherwise


def days(first: date, last: date | None) -> str:
    return day(first) if last in (None, first) else f"{day(first)} to {day(last)}"


def length(mm: float | None, units: str, otherwise: str = NOT_STATED) -> str:
    """A size of timber, or a place along it."""
    return otherwise if mm is None else size_for(mm, units)


def exact(mm: float, units: str) -> str:
    """A depth or a diameter that was measured: to the tenth of a millimetre."""
    return format_for(mm, units)


def sizes(
    units: str, sided_mm: float | None, moulded_mm: float | None, length_mm: float | None
) -> list[str]:
    """The section as it is spoken of, 2 1/2 × 5 in, and the length: a line for each known."""
    lines = []
    if sided_mm is not None and moulded_mm is not None:
        system = "metric" if units == "metric" else "imperial"
        denominator = 32 if units == "imperial32" else 16
        lines.append(format_section(sided_mm, moulded_mm, units=system, denominator=denominator))
    elif sided_mm is not None or moulded_mm is not None:
        lines.append(" × ".join(length(mm, units, "–") for mm in (sided_mm, moulded_mm)))
    return lines if length_mm is None else [*lines, f"{length(length_mm, units)} long"]


def money(amount: Decimal, currency: str) -> str:
    return f"{amount:,.2f} {currency}"


def rough_money(amount: Decimal, currency: str) -> str:
    """Without cents where there are none: an end of a range that was rounded shows none."""
    if amount != amount.to_integral_value():
        return money(amount, currency)
    return f"{amount:,.0f} {currency}"


def number(value: float) -> str:
    return f"{value:g}"


def listed(names: Sequence[str], most: int = 40) -> str:
    """F1, F2 and F9; a long list is cut short and says so."""
    if len(names) > most:
        return f"{', '.join(names[:most])} and {len(names) - most} more"
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def count(number: int, one: str, many: str = "") -> str:
    return f"{number} {one if number == 1 else many or one + 's'}"


def sentence(text: str) -> str:
    """With a capital and a full stop, unless it has its own."""
    text = text.strip()
    stop = "" if text.endswith((".", "!", "?", "…")) else "."
    return text[:1].upper() + text[1:] + stop if text else ""


def shortened(text: str, most: int) -> str:
    """The text, or as many whole words of it as `most` letters hold and the sign for more."""
    return text if len(text) <= most else f"{text[:most].rsplit(' ', 1)[0]} …"
