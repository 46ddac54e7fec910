"""A figure is never broken over a line."""

import re

# Between a number and its fraction, a number and its unit, feet and inches.
_INSIDE_A_FIGURE = re.compile(
    r"(?<=\d) (?=\d+/\d|(?:mm|cm|m|m³|in|ft|bd ft|%|kg|kN|lb)(?![\w²]))|(?<=\d ft) (?=\d)"
)


def unbroken(text: str) -> str:
    """The text with spaces in its figures that no line breaks at: ``4 1/2 in`` stays whole."""
    return _INSIDE_A_FIGURE.sub("\N{NO-BREAK SPACE}", text)
