"""Rounded inwards: of what is free or left, no more is ever shown than there is."""

import math

from django import template

from timber_stock.templatetags.measures import mark_mm
from timber_stock.web.fields import format_for

register = template.Library()
# A value so small a part of a mark beyond it is that mark.
HAIR = 1e-3


@register.filter
def at_most(mm, units="imperial"):
    """What is free or left: back to the last mark of a rule, never on to the next."""
    mark = mark_mm(units, 1.0)
    return "–" if mm is None else format_for(math.floor(mm / mark + HAIR) * mark, units)


@register.filter
def free_run(stretch, units="imperial"):
    """From where to where along a board: `from_mm` on to a mark of a rule, `to_mm` back to one."""
    mark = mark_mm(units, 1.0)
    start = format_for(math.ceil(stretch.from_mm / mark - HAIR) * mark, units)
    return f"{start} to {at_most(stretch.to_mm, units)}"
