"""What each layer of a drawing is for: read off its name, or left for a person to say."""

from dataclasses import dataclass

from restoration.calc.pattern import LINE_KINDS
from restoration.calc.pattern_dxf.chains import Loop
from restoration.calc.pattern_dxf.flat import Run

OUTLINE, HOLES, GRAIN, BEVELS, LEAVE = "outline", "holes", "grain", "bevels", "leave"
USES = {
    OUTLINE: "outline",
    **LINE_KINDS,
    HOLES: "bolt holes",
    GRAIN: "direction of the grain",
    BEVELS: "bevels (texts)",
    LEAVE: "leave out",
}
NAMES = {
    "outline": "OUTLINE",
    "rabbet": "RABBET",
    "inner_rabbet": "INNER_RABBET",
    "bearding": "BEARDING",
    "centre": "CENTRELINE",
    "waterline": "WATERLINE",
    "scarf": "SCARF",
    "other": "OTHER_LINE",
    "holes": "BOLT_HOLES",
    "grain": "GRAIN",
    "bevels": "BEVELS",
}
"""How our own drawings name their layers."""
_TELLING = (
    ("defpoints", LEAVE), ("dimension", LEAVE), ("dim", LEAVE), ("text", LEAVE), ("title", LEAVE),
    ("border", LEAVE), ("inner", "inner_rabbet"), ("rabbet", "rabbet"), ("rebate", "rabbet"),
    ("beard", "bearding"), ("centre", "centre"), ("center", "centre"), ("waterline", "waterline"),
    ("scarf", "scarf"), ("hole", HOLES), ("bolt", HOLES), ("drill", HOLES), ("grain", GRAIN),
    ("bevel", BEVELS), ("outline", OUTLINE), ("profile", OUTLINE), ("edge", OUTLINE),
    ("pattern", OUTLINE), ("contour", OUTLINE), ("other_line", "other"),
)  # fmt: skip
_WHOLE_NAMES = {"cl": "centre", "wl": "waterline", "lwl": "waterline", "cut": OUTLINE}


@dataclass(frozen=True)
class Layer:
    """`use` is a key of USES; `is_clear` where its own name says so."""

    name: str
    use: str
    is_clear: bool
    holds: str


def use_by_name(name: str) -> str | None:
    """The use that a layer's name tells, or None."""
    plain = name.lower().replace(" ", "_").replace("-", "_")
    if plain in _WHOLE_NAMES:
        return _WHOLE_NAMES[plain]
    return next((use for word, use in _TELLING if word in plain), None)


def layers_of(
    runs: list[Run], loops: list[Loop], texts: dict[str, int], hidden: frozenset[str]
) -> list[Layer]:
    """Every layer that holds something, with the use it most likely has.

    Where no name tells the outline, it is looked for on the layer of the largest loop; a layer of
    circles alone holds bolt holes; what else has no telling name holds other lines.
    """
    names = list(dict.fromkeys([run.layer for run in runs] + list(texts)))
    told = {name: LEAVE if name in hidden else use_by_name(name) for name in names}
    outline_told = any(use == OUTLINE for use in told.values())
    largest = "" if outline_told or not loops else _first_free(loops, told)
    return [
        Layer(
            name,
            told[name] or (OUTLINE if name == largest else _by_content(name, runs)),
            told[name] is not None,
            _holds(name, runs, texts),
        )
        for name in names
    ]


def _first_free(loops: list[Loop], told: dict[str, str | None]) -> str:
    return next((loop.layer for loop in loops if told.get(loop.layer) is None), "")


def _by_content(name: str, runs: list[Run]) -> str:
    own = [run for run in runs if run.layer == name]
    if not own:
        return LEAVE
    return HOLES if all(run.centre_mm for run in own) else "other"


def _holds(name: str, runs: list[Run], texts: dict[str, int]) -> str:
    own = [run for run in runs if run.layer == name]
    circles = sum(1 for run in own if run.centre_mm)
    counts = [(len(own) - circles, "line"), (circles, "circle"), (texts.get(name, 0), "text")]
    return ", ".join(f"{n} {what}{'s' if n > 1 else ''}" for n, what in counts if n)
