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


@register.filter
def rolled(hours):
    """Which hour of the butt is up, as near as an eye stands a log, a quarter of an hour; beside
    it the angle to set out on the butt, as a quarter of an hour is 7.5°."""
    degrees = round(hours * 30) % 360
    by_eye = (round(hours * 4) / 4) % 12 or 12.0
    if degrees == 0:
        return measure.format_clock(12.0)
    near = "" if abs(degrees - by_eye * 30 % 360) <= 0.5 else "about "
    return f"{near}{measure.format_clock(by_eye)} ({degrees}° clockwise from 12)"
