"""The drawing of a pattern as the pages show it."""

from django.utils.safestring import mark_safe

from restoration.calc import pattern as calc
from restoration.drawings.pattern.sheets import Named, small_drawing
from restoration.drawings.pattern.svg import svg
from restoration.models import Member, Pattern
from timber_stock.web.fields import format_for


def named(name: str, member: Member, units: str) -> Named:
    return Named(name, f"{member.vessel.code}-{member.mark}", lambda mm: format_for(mm, units))


def drawn(shape: calc.Pattern, name: str, member: Member, units: str) -> str:
    return mark_safe(svg(small_drawing(shape, named(name, member, units))))


def drawn_pattern(pattern: Pattern, units: str) -> str:
    return drawn(pattern.shape(), pattern.name, pattern.member, units)
