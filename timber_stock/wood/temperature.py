"""Temperatures as they are typed: 18, 18 C, 64 F."""

from __future__ import annotations

import math
import re

from timber_stock.wood.checked import finite

_TYPED = re.compile(r"([-+]?\d{1,4}(?:[.,]\d{1,4})?) ?(?:°|deg(?:rees?)?)? ?([cf]?)", re.ASCII)
COLDEST_C = -273.15


def celsius_from_fahrenheit(temperature_f: float) -> float:
    """(F - 32) 5/9, by definition."""
    return (finite(temperature_f, "The temperature") - 32.0) * 5.0 / 9.0


def fahrenheit_from_celsius(temperature_c: float) -> float:
    """C 9/5 + 32, by definition."""
    return finite(temperature_c, "The temperature") * 9.0 / 5.0 + 32.0


def parse_temperature_c(text: str, default_unit: str = "C") -> float:
    """Read a temperature and return degrees Celsius; a bare number is in `default_unit`, C or F.

    ValueError, with a sentence to show, for anything else and for less than absolute zero.
    """
    plain = " ".join(text.replace("−", "-").replace("–", "-").lower().split())
    found = _TYPED.fullmatch(plain)
    if found is None:
        shown = text if len(text) <= 30 else f"{text[:30]}…"
        raise ValueError(f"“{shown}” is not a temperature. Write 18, 18 C or 64 F.")
    degrees = float(found[1].replace(",", "."))
    in_fahrenheit = (found[2] or default_unit.lower()) == "f"
    celsius = celsius_from_fahrenheit(degrees) if in_fahrenheit else degrees
    if celsius < COLDEST_C:
        raise ValueError(f"“{text}” is colder than anything can be; check the unit.")
    return celsius


def format_temperature(temperature_c: float, unit: str = "C") -> str:
    """Write a temperature to a tenth of a degree: `18.5 °C`, `64 °F`."""
    in_fahrenheit = unit.upper() == "F"
    degrees = fahrenheit_from_celsius(temperature_c) if in_fahrenheit else temperature_c
    tenths = math.floor(finite(degrees, "The temperature") * 10.0 + 0.5) / 10.0
    return f"{tenths:g} °{unit.upper()}"
