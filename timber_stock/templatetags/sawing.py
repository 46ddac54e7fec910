"""Small helps for the saw sheet: looking a thing up by its name, and a size without its sign."""

from django import template

from timber_stock import measure

register = template.Library()


@register.filter
def at(mapping, name):
    return mapping.get(name)


@register.filter
def abs_mm(mm):
    return abs(mm)


@register.filter
def sawn(mm, units="imperial"):
    """What a saw is set to: no finer than a scale is read, a sixteenth (or as the person reads)
    and half a millimetre."""
    if units == "metric":
        return f"{round(2 * mm) / 2:g} mm"
    marks = 32 if units == "imperial32" else 16
    whole = round(measure.inches_from_mm(mm) * marks) / marks
    return measure.format_length(measure.mm_from_inches(max(whole, 0.0)), "imperial", marks)
