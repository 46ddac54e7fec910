"""The section bench: a log's end, a rectangle anywhere on it, and what is to become of it."""

import math
from dataclasses import dataclass
from functools import cached_property

from django import forms

from timber_stock.models import figures_of
from timber_stock.web.fields import ClockField, LengthField, PlaceField, format_for
from timber_stock.wood.logend import LogEnd
from timber_stock.wood.movement import movement
from timber_stock.wood.outline import Point
from timber_stock.wood.ring_limits import AUTHORITIES
from timber_stock.wood.section_sheet import (
    SectionSheet,
    centred_mm,
    rectangle_about_mm,
    section_sheet,
    seen_from_section_mm,
)

from .dried import DryingForm

FACING = "o'clock as one faces this end"


@dataclass(frozen=True)
class Ends:
    """Both ends of the log, seen from the butt; the top is the butt again when not given."""

    butt: LogEnd
    top: LogEnd


@dataclass(frozen=True)
class Laid:
    """Where the section lies in the log's end, in mm from its centre, seen from the butt."""

    middle_mm: Point
    width_mm: float
    thickness_mm: float
    turned_deg: float

    def outline_mm(self) -> tuple[Point, ...]:
        return rectangle_about_mm(self.middle_mm, self.width_mm, self.thickness_mm, self.turned_deg)


@dataclass(frozen=True)
class BenchAnswer:
    sheet: SectionSheet
    place: object
    has_sapwood: bool
    runs_out_at_top: bool


class BenchForm(DryingForm):
    log = forms.IntegerField(required=False, widget=forms.HiddenInput)
    butt = LengthField(label="Butt diameter, under bark")
    butt_other = LengthField(
        label="Butt the other way", required=False, help_text="12 to 6 o'clock; empty if round"
    )
    top = LengthField(label="Top diameter", required=False, help_text="empty: as the butt")
    top_other = LengthField(label="Top the other way", required=False)
    sapwood = LengthField(label="Sapwood", required=False, help_text="its depth in from the bark")
    butt_heart = LengthField(label="Heart off centre at the butt", required=False)
    butt_clock = ClockField(label="Towards, at the butt", required=False, help_text=FACING)
    top_heart = LengthField(label="Heart off centre at the top", required=False)
    top_clock = ClockField(label="Towards, at the top", required=False, help_text=FACING)
    width = LengthField(label="Width")
    thickness = LengthField(label="Thickness")
    across = PlaceField(
        label="Middle, right of the log's centre", help_text="to the left with a minus"
    )
    up = PlaceField(label="Middle, up from the centre", help_text="down with a minus")
    turn = forms.FloatField(
        label="Turned, degrees", required=False, help_text="against the clock from level"
    )

    GROUPS = [
        ("The section", ["width", "thickness", "across", "up", "turn"]),
        ("What becomes of it", ["wood", "place", "moisture", "limits", "exaggeration"]),
        (
            "The log, seen from its butt",
            [
                "butt", "butt_other", "butt_heart", "butt_clock",
                "top", "top_other", "top_heart", "top_clock", "sapwood",
            ],
        ),
    ]  # fmt: skip

    def groups(self):
        return [(heading, [self[name] for name in names]) for heading, names in self.GROUPS]

    def clean_turn(self):
        return self.cleaned_data["turn"] or 0.0

    def clean(self):
        for end in ("butt", "top"):
            off, clock = (self.cleaned_data.get(f"{end}_{what}") for what in ("heart", "clock"))
            if off and clock is None and f"{end}_clock" not in self.errors:
                self.add_error(
                    f"{end}_clock", f"Say towards which o'clock the heart is off at the {end}."
                )
        return super().clean()

    @cached_property
    def ends(self) -> Ends | None:
        """The log, once all that is said of it can be; drawn even where the section is refused."""
        try:
            return self._ends(self.cleaned_data)
        except (ValueError, KeyError, TypeError):
            return None

    @cached_property
    def laid(self) -> Laid | None:
        asked = self.cleaned_data
        names = ("across", "up", "width", "thickness", "turn")
        if any(asked.get(name) is None for name in names):
            return None
        if min(asked["width"], asked["thickness"]) <= 0 or not math.isfinite(asked["turn"]):
            return None
        return Laid(
            (asked["across"], asked["up"]), asked["width"], asked["thickness"], asked["turn"]
        )

    def reckon(self, asked) -> BenchAnswer:
        ends, laid = self._ends(asked), self.laid
        if laid is None:
            raise ValueError("The width and thickness of the section must be more than nothing.")
        self._require_inside(ends.butt, laid)
        percent, place = self.settled(asked)
        piths = [
            seen_from_section_mm(end.pith_mm, laid.middle_mm, laid.turned_deg)
            for end in (ends.butt, ends.top)
        ]
        sheet = section_sheet(
            centred_mm(laid.width_mm, laid.thickness_mm),
            piths[0],
            piths[1],
            movement(figures_of(asked["wood"]), percent),
            AUTHORITIES[asked["limits"]],
        )
        outline = laid.outline_mm()
        return BenchAnswer(
            sheet=sheet,
            place=place,
            has_sapwood=not all(end.clear_of_sapwood(outline) for end in (ends.butt, ends.top)),
            runs_out_at_top=not ends.top.holds(outline),
        )

    def _ends(self, asked: dict) -> Ends:
        butt = self._end("butt", asked)
        told = ("top", "top_other", "top_heart", "top_clock")
        if all(asked[name] is None for name in told):
            return Ends(butt, butt)
        return Ends(butt, self._end("top", asked))

    def _end(self, name: str, asked: dict) -> LogEnd:
        across = self._across(name, asked)
        x, y = heart = _heart(name, asked)
        if math.hypot(2 * x / across[0], 2 * y / across[1]) >= 1:
            raise ValueError(
                f"The heart at the {name} is given {self._text(math.hypot(x, y))} from the centre, "
                f"outside an end {self._said(across)}: measure it from the centre."
            )
        sapwood = asked["sapwood"] or 0.0
        if sapwood >= min(across) / 2:
            raise ValueError(
                f"Sapwood {self._text(sapwood)} deep leaves no heartwood in a {name} end "
                f"{self._said(across)}."
            )
        return LogEnd(*across, heart, sapwood)

    def _across(self, name: str, asked: dict) -> tuple[float, float]:
        """Both diameters of an end; the top is as wide as the butt where it is not given."""
        first = asked[name] if asked[name] is not None else asked["butt"]
        other = asked[f"{name}_other"]
        if other is None:
            other = asked["butt_other"] if asked[name] is None else first
        across = (first, first if other is None else other)
        if min(across) <= 0:
            raise ValueError(f"The {name} diameter must be more than nothing.")
        return across

    def _require_inside(self, end: LogEnd, laid: Laid) -> None:
        half = end.diameter_x_mm / 2, end.diameter_y_mm / 2
        far, reach = max(
            (math.hypot(x / half[0], y / half[1]), math.hypot(x, y)) for x, y in laid.outline_mm()
        )
        if far > 1 + 1e-9:
            raise ValueError(
                f"The section does not fit the log: a corner of it lies "
                f"{self._text(reach * (1 - 1 / far))} outside a butt "
                f"{self._said((end.diameter_x_mm, end.diameter_y_mm))}. Move it towards the "
                "centre or make it smaller."
            )

    def _text(self, mm: float) -> str:
        return format_for(mm, self.units)

    def _said(self, across: tuple[float, float]) -> str:
        first, other = (self._text(mm) for mm in across)
        return f"{first} across" if first == other else f"{first} by {other} across"


def _heart(end: str, asked: dict) -> Point:
    """Right of the centre and up from it as seen from the butt: a top is faced the other way."""
    off_mm = asked[f"{end}_heart"] or 0.0
    angle = math.radians(30 * (asked[f"{end}_clock"] or 12))
    right = off_mm * math.sin(angle)
    return (right if end == "butt" else -right, off_mm * math.cos(angle))
