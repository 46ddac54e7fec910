"""Sensible curves from a vessel's particulars, for a hull sheet before anyone has taken offsets.

Proportions (`fixtures/hull_kinds.csv`) and shapes (`fixtures/hull_shapes.csv`) are assumptions of
our own for the usual kinds of boat, taken from no vessel and no rule. What was assumed for want
of a figure is named in the result.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache
from types import MappingProxyType

from restoration.calc.checks import above_zero, not_below_zero
from restoration.calc.curves import Curve, Point
from restoration.calc.lines import Lines
from restoration.calc.tables import rows

LEAST_RAKE = 0.002
"""A plumb stem or stern is drawn with this share of the length as rake, so that each curve has
one height at each place."""


@dataclass(frozen=True)
class Particulars:
    """Sizes in mm; None where nobody knows. The stern overhang is what LOA leaves."""

    hull: str
    loa_mm: float
    lwl_mm: float | None = None
    beam_mm: float | None = None
    draught_mm: float | None = None
    freeboard_bow_mm: float | None = None
    freeboard_least_mm: float | None = None
    freeboard_stern_mm: float | None = None
    overhang_bow_mm: float | None = None


@cache
def hull_kinds() -> Mapping[str, str]:
    """The usual kinds of hull: code and name."""
    return MappingProxyType({row["code"]: row["name"] for row in rows("hull_kinds")})


def lines_from(particulars: Particulars) -> Lines:
    """The lines of a hull of these particulars.

    Raises ValueError for an unknown kind of hull, a size that is not above 0, a waterline longer
    than the hull, overhangs that do not fit, a beam or draught as great as the length, or a
    least freeboard above those of bow and stern.
    """
    known = _completed(particulars)
    _refuse_the_impossible(known)
    return Lines(
        sheer=Curve("sheer", _sheer(known)),
        profile=Curve("keel profile", _bottom(known, "profile")),
        rabbet=Curve("rabbet", _bottom(known, "rabbet")),
        deck=Curve("deck edge", _deck(known)),
        waterline=Curve("waterline", _waterline(known)),
        assumed=_assumed(particulars),
    )


@dataclass(frozen=True)
class _Known:
    hull: str
    loa: float
    lwl: float
    beam: float
    draught: float
    bow: float
    least: float
    stern: float
    overhang: float

    @property
    def stern_overhang(self) -> float:
        return self.loa - self.lwl - self.overhang

    @property
    def fore_end(self) -> float:
        """Fore end of the waterline along the hull, never right at the stem head."""
        return min(max(self.overhang, LEAST_RAKE * self.loa), (1 - 2 * LEAST_RAKE) * self.loa)

    @property
    def after_end(self) -> float:
        aft = self.overhang + self.lwl
        return max(min(aft, (1 - LEAST_RAKE) * self.loa), self.fore_end + LEAST_RAKE * self.loa)


def _assumed(given: Particulars) -> tuple[str, ...]:
    missing = [field.name for field in fields(given) if getattr(given, field.name) is None]
    return tuple(name.removesuffix("_mm").replace("_", " ") for name in missing)


def _kind(hull: str) -> dict[str, str]:
    for row in rows("hull_kinds"):
        if row["code"] == hull:
            return row
    raise ValueError(f"“{hull}” is no kind of hull here; they are {', '.join(hull_kinds())}.")


def _completed(given: Particulars) -> _Known:
    """Sizes given, and for those not given the usual proportion of the kind of hull."""
    share = {name: float(text) for name, text in list(_kind(given.hull).items())[2:]}
    loa = above_zero(given.loa_mm, "length overall")

    def size(value: float | None, name: str, assumed: float) -> float:
        return assumed if value is None else above_zero(value, name)

    lwl = size(given.lwl_mm, "waterline length", share["lwl_of_loa"] * loa)
    overhang = share["bow_share_of_overhang"] * (loa - lwl)
    if given.overhang_bow_mm is not None:
        overhang = not_below_zero(given.overhang_bow_mm, "bow overhang")
    bow, least, stern = (
        size(getattr(given, f"freeboard_{end}_mm"), name, share[f"freeboard_{end}_of_lwl"] * lwl)
        for end, name in _FREEBOARDS.items()
    )
    beam = size(given.beam_mm, "beam", share["beam_of_loa"] * loa)
    draught = size(given.draught_mm, "draught", share["draught_of_lwl"] * lwl)
    return _Known(given.hull, loa, lwl, beam, draught, bow, least, stern, overhang)


_FREEBOARDS = {"bow": "bow freeboard", "least": "least freeboard", "stern": "stern freeboard"}


def _refuse_the_impossible(known: _Known) -> None:
    if known.lwl > known.loa:
        raise ValueError("The waterline cannot be longer than the vessel.")
    if known.stern_overhang < -1e-6:
        raise ValueError(
            f"A bow overhang of {known.overhang:g} mm and a waterline of {known.lwl:g} mm are "
            f"longer together than the vessel, which is {known.loa:g} mm."
        )
    for size, name in ((known.beam, "beam"), (known.draught, "draught")):
        if size >= known.loa:
            raise ValueError(f"The {name} of {size:g} mm is as great as the length of the vessel.")
    if known.least > min(known.bow, known.stern):
        raise ValueError("The least freeboard is more than that of the bow or the stern.")


def _sheer(known: _Known) -> tuple[Point, ...]:
    """Two half parabolas that meet, level, at the lowest point of the sheer."""
    low = float(_kind(known.hull)["sheer_low_at"])

    def half(end: float, height: float) -> list[Point]:
        drop = height - known.least
        return [
            (end + (low - end) * part, known.least + drop * (1 - part) ** 2)
            for part in (0.25, 0.5, 0.75)
        ]

    between = [*half(0.0, known.bow), (low, known.least), *reversed(half(1.0, known.stern))]
    return (
        (0.0, known.bow),
        *((share * known.loa, height) for share, height in between),
        (known.loa, known.stern),
    )


def _shape(known: _Known, curve: str) -> list[Point]:
    return [
        (float(row["along"]), float(row["value"]))
        for row in rows("hull_shapes")
        if row["hull"] == known.hull and row["curve"] == curve
    ]


def _bottom(known: _Known, curve: str) -> tuple[Point, ...]:
    """From the stem head down to the waterline, along the bottom, and up to the stern's foot."""
    foot = float(_kind(known.hull)["stern_foot_of_freeboard"]) * known.stern
    length = known.after_end - known.fore_end
    under = [
        (known.fore_end + along * length, depth * known.draught)
        for along, depth in _shape(known, curve)
    ]
    head = 0.98 * known.bow
    return (
        (0.0, head),
        (known.fore_end / 2, 0.45 * head),
        (known.fore_end, 0.0),
        *under,
        (known.after_end, 0.0),
        (known.loa, foot),
    )


def _deck(known: _Known) -> tuple[Point, ...]:
    edge = [(along * known.loa, share * known.beam / 2) for along, share in _shape(known, "deck")]
    return ((0.0, 0.0), *edge)


def _waterline(known: _Known) -> tuple[Point, ...]:
    length = known.after_end - known.fore_end
    edge = [
        (known.fore_end + along * length, share * known.beam / 2)
        for along, share in _shape(known, "waterline")
    ]
    return ((known.fore_end, 0.0), *edge)
