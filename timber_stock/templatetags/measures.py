"""How numbers are shown, on every page. With `measure.py`, the only place that rounds."""

import math
import re
from typing import NamedTuple

from django import template

from timber_stock import measure
from timber_stock.sawing import log_volume
from timber_stock.web.fields import format_for, size_for
from timber_stock.wood import weights
from timber_stock.wood.temperature import format_temperature
from timber_stock.wood.yard_figures import STANDING_WORDS

register = template.Library()


@register.filter
def length(mm, units="imperial"):
    """`{{ board.length_mm|length:units }}`, a size of timber; a dash where there is none.

    It stands in for Django's own filter of this name, so of a list it still gives the count.
    """
    if hasattr(mm, "__len__"):
        return len(mm)
    return "–" if mm is None else size_for(mm, units or "imperial")


@register.filter
def exact(mm, units="imperial"):
    """What a tenth of a millimetre matters to: holes, bolts, kerfs, settings of the saw."""
    return "–" if mm is None else format_for(mm, units or "imperial")


@register.filter
def lengths_in(sentence, units="imperial"):
    """A sentence of a pure module, with its millimetres and metres in the reader's own units."""
    return re.sub(
        r"(?<![\w.,])(\d+(?:\.\d+)?) (mm|m)\b",
        lambda found: exact(float(found[1]) * (1000 if found[2] == "m" else 1), units),
        sentence,
    )


@register.filter
def section(thing, units="imperial"):
    """Sided by moulded by length, or thickness by width by length, of whatever has them."""
    names = (
        ("thickness_mm", "width_mm")
        if hasattr(thing, "thickness_mm")
        else ("sided_mm", "moulded_mm")
    )
    sizes = [getattr(thing, name, None) for name in (*names, "length_mm")]
    return " × ".join(length(size, units) for size in sizes)


@register.filter
def cubic(mm3):
    return "–" if mm3 is None else f"{measure.cubic_metres(mm3):.3f} m³"


@register.filter
def board_feet(mm3):
    return "–" if mm3 is None else f"{measure.board_feet(mm3):.1f} bd ft"


class Scaled(NamedTuple):
    """A log's volume by a named rule; without a `text` the rule gives none, and says why."""

    rule: str
    text: str
    source: str
    why_not: str = ""
    amount: float | None = None  # in the rule's own unit, unrounded

    def __str__(self):
        return self.text or self.why_not


@register.filter
def volume_by(log, rule_name):
    """`{{ log|volume_by:yard.log_rule }}`, with `.rule` and `.source` to print beside it.

    A true volume takes an oval end by its area; a board foot rule by the mean of two diameters.
    """
    rule = log_volume.RULES.get(rule_name)
    label, source = (rule.label, rule.source) if rule else (rule_name, "")
    try:
        amount = log_volume.volume_by_rule(
            rule_name,
            top_diameter_mm=_one_diameter(log, "top", rule),
            butt_diameter_mm=_one_diameter(log, "butt", rule),
            middle_diameter_mm=log.middle_diameter_mm,
            length_mm=log.length_mm,
        )
    except ValueError as error:
        return Scaled(label, "", source, str(error))
    return Scaled(label, _in_its_unit(amount, rule.unit), source, amount=amount)


def _one_diameter(log, end, rule):
    by_area = rule is None or rule.unit == "mm3"
    return log.round_as(end) if by_area else sum(log.across(end)) / 2


def _in_its_unit(amount, unit):
    if unit == "mm3":
        return cubic(amount)
    return f"{log_volume.tabled(amount):.0f} {unit}"


@register.filter
def clock(hours):
    return "–" if hours is None else measure.format_clock(hours)


@register.filter
def station(value):
    return "–" if value is None else f"{value:g}"


@register.filter
def parts_in_words(parts):
    """Parts of a length, [[0.2, 0.8]], as percents of it; all of it as such."""
    if parts == [[0, 1]]:
        return "all of its length"
    return ", ".join(f"{100 * first:g} to {100 * last:g} %" for first, last in parts)


@register.filter
def money(amount, currency=""):
    return "–" if amount is None else f"{amount:,.2f} {currency}".strip()


@register.filter
def rough_money(amount, currency=""):
    """Without cents where there are none: an end of a range that was rounded shows none."""
    if amount is None or amount != amount.to_integral_value():
        return money(amount, currency)
    return f"{amount:,.0f} {currency}".strip()


@register.filter
def more_or_less(amount):
    """A difference of money with its sign, a true minus where it is less."""
    return "–" if amount is None else f"{amount:+,.2f}".replace("-", "−")


@register.filter
def percent(number):
    return "–" if number is None else f"{number:.1f} %".replace("-", "−")


@register.filter
def movement(mm, units="imperial"):
    """A change of size: the nearest 1/32 of an inch with its millimetres, less in those alone."""
    if mm is None:
        return "–"
    plain = fine(mm)
    if units == "metric":
        return plain
    if plain == "0 mm":
        return "0 in"
    if abs(mm) < measure.mm_from_inches(1 / 32) - measure.ON_THE_MARK_MM:
        return plain
    return f"{measure.format_length(mm, 'imperial', 32)} ({plain})"


@register.filter
def fine(mm):
    """What is too small for the marks of a rule: in millimetres, for everybody."""
    return "–" if mm is None else measure.format_length(mm, "metric")


@register.filter
def weight(kg, units="imperial"):
    if kg is None:
        return "–"
    digits = 0 if kg >= 20 else 1
    said = f"{kg:,.{digits}f} kg"
    return said if units == "metric" else f"{said} ({kg / weights.KG_PER_POUND:,.{digits}f} lb)"


@register.filter
def heavy(kg_m3, units="imperial"):
    """Weight of a cubic metre, and of a cubic foot for whoever thinks in feet."""
    if kg_m3 is None:
        return "–"
    said = f"{kg_m3:.0f} kg/m³"
    feet = kg_m3 / weights.KG_PER_POUND * measure.mm_from_inches(12) ** 3 / 1e9
    return said if units == "metric" else f"{said} ({feet:.1f} lb/ft³)"


# A computed figure is shown no finer than such figures are printed.
DIGITS = {"%": 1, "kg/m³": 0, "per % MC": 5, "": 3}


@register.filter
def figure_value(figure):
    """A figure of a wood in its unit; the standing and the source stand beside it."""
    if figure is None:
        return "–"
    value = figure.value
    if figure.name == "durability_class":
        return f"class {value}"
    if not isinstance(value, str):
        value = f"{value:.{DIGITS[figure.unit]}f}" if figure.standing == "C" else f"{value:g}"
    return f"{value} {figure.unit}".strip()


@register.filter
def standing(known):
    """How well something is known, in a word or two: a figure, or its code alone."""
    return STANDING_WORDS[getattr(known, "standing", known)]


@register.filter
def degrees(celsius, unit="C"):
    return "–" if celsius is None else format_temperature(celsius, unit or "C")


@register.filter
def hours(number):
    """A Decimal as it would be said: 11.5, 2.25, 46."""
    if number is None:
        return "–"
    return f"{number:f}".rstrip("0").rstrip(".") if number % 1 else f"{number:.0f}"


@register.filter
def angle(degrees):
    return "–" if degrees is None else measure.format_angle(degrees)


@register.filter
def about(mm, units="imperial"):
    """A computed size, to the marks a rule has: which side of nought stands in the words beside."""
    if mm is None:
        return "–"
    mark = mark_mm(units, 0.5)
    return format_for(round(abs(mm) / mark) * mark, units)


@register.filter
def at_least(mm, units="imperial"):
    """A size that something must have: on to the next mark of a rule, never down to the last."""
    return _up_to(mm, mark_mm(units, 0.5), units)


def mark_mm(units, metric_mm):
    """From one mark of the reader's rule to the next; a metric rule is read to `metric_mm`."""
    marks = {"metric": metric_mm, "imperial32": measure.mm_from_inches(1 / 32)}
    return marks.get(units, measure.mm_from_inches(1 / 16))


@register.filter
def log_to_ask(mm, units="imperial"):
    """A log's diameter as a mill is asked for it: up to 10 mm or half an inch, common practice."""
    return _up_to(mm, 10.0 if units == "metric" else measure.mm_from_inches(1 / 2), units)


@register.filter
def side_to_ask(mm, units="imperial"):
    """A sawn side as a mill is asked for it: up to a millimetre or 1/8 inch, common practice."""
    return _up_to(mm, 1.0 if units == "metric" else measure.mm_from_inches(1 / 8), units)


def _up_to(mm, mark, units):
    """On to the next mark, never down; a value a hair above a mark is that mark."""
    return "–" if mm is None else format_for(math.ceil(mm / mark - 1e-3) * mark, units)


RING_WORDS = {"quarter": "quarter-sawn", "rift": "rift", "flat": "flat-sawn"}


@register.filter
def ring_word(direction):
    """quarter as quarter-sawn; rift and boxed heart are said as they are."""
    return RING_WORDS.get(direction, direction)


@register.filter
def cup(mm, units="imperial"):
    """The hollow of a face, or how far it stands proud."""
    if mm is None:
        return "–"
    if abs(mm) < LEAST_CUP_MM:
        return "flat"
    return f"{movement(abs(mm), units)} {'hollow' if mm > 0 else 'proud'}"


# A tenth of a millimetre is the finest that is shown.
LEAST_CUP_MM = 0.05


@register.filter
def force(newtons, units="imperial"):
    """A load in kN, and in pounds for whoever thinks in them: no finer than such sums are."""
    if newtons is None:
        return "–"
    said = f"{newtons / 1000:.2f} kN" if newtons < 10_000 else f"{newtons / 1000:.1f} kN"
    if units == "metric":
        return said
    pounds = newtons / weights.NEWTONS_PER_POUND
    return f"{said} ({round(pounds, -1 if pounds < 10_000 else -2):,.0f} lb)"
