"""How the classes of the screen's drawings look on paper: what the style sheet says of them."""

from collections.abc import Mapping
from xml.etree import ElementTree

INK, SOFT, ACCENT = "#1b242c", "#4a555f", "#93391a"

THREAD: Mapping[str, Mapping[str, str]] = {
    "line": {"fill": "none", "stroke": SOFT, "stroke-width": "1.5"},
    "node": {"stroke": INK, "stroke-width": "1.25", "fill": "#fffefb"},
    "log": {"fill": "#e4ebe1"},
    "more": {"stroke-dasharray": "5 4"},
    "asked": {"stroke": ACCENT, "stroke-width": "4"},
    "name": {"fill": INK, "font-size": "15", "font-weight": "700"},
    "fact": {"fill": INK, "font-size": "12.5"},
    "word": {"fill": ACCENT, "font-size": "12.5", "font-weight": "700"},
}

LOOKS: Mapping[str, Mapping[str, Mapping[str, str]]] = {"thread": THREAD}


def with_looks(svg: str, named: str) -> str:
    """The drawing with the look of each class written out, as the style sheet would give it."""
    if not named:
        return svg
    looks, root = LOOKS[named], ElementTree.fromstring(svg)
    for element in root.iter():
        for each in element.get("class", "").split():
            for name, value in looks.get(each, {}).items():
                element.set(name, value)
    return ElementTree.tostring(root, encoding="unicode")
