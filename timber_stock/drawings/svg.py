"""The few lines that write SVG: every value escaped, every number short."""

from html import escape


def element(name: str, *inside: str, **attributes: object) -> str:
    """One element; `stroke_width=2` becomes `stroke-width="2"`, and `inside` is SVG already."""
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{_value(value)}"'
        for key, value in attributes.items()
        if value is not None
    )
    return f"<{name}{written}>{''.join(inside)}</{name}>" if inside else f"<{name}{written}/>"


def words(text: str) -> str:
    """What is to be read, made safe to stand inside an element."""
    return escape(text)


def label(text: str, x: float, y: float, **attributes: object) -> str:
    options = {"font_size": 12, "text_anchor": "middle", "fill": "currentColor", **attributes}
    return element("text", words(text), x=x, y=y, **options)


def drawing(width: float, height: float, title: str, *inside: str) -> str:
    """A whole picture that says in words what it shows, for whoever cannot see it."""
    return element(
        "svg",
        element("title", words(title)),
        *inside,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {width:g} {height:g}",
        role="img",
    )


def _value(value: object) -> str:
    return (
        f"{value:.2f}".rstrip("0").rstrip(".") if isinstance(value, float) else escape(f"{value}")
    )
