"""Small helps for the saw sheet: looking a thing up by its name, and a size without its sign."""

from django import template

register = template.Library()


@register.filter
def at(mapping, name):
    return mapping.get(name)


@register.filter
def abs_mm(mm):
    return abs(mm)
