import math

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from restoration.calc import lines as calc
from restoration.calc.hull_particulars import Particulars, hull_kinds, lines_from
from restoration.calc.offset_table import OffsetRow, lines_from_offsets
from timber_stock.web.typed import AsTyped

MOST_STATIONS = 100


ASSUMED_WORDS = {
    "lwl": "waterline length",
    "freeboard bow": "freeboard at the bow",
    "freeboard least": "least freeboard",
    "freeboard stern": "freeboard at the stern",
    "overhang bow": "overhang at the bow",
}


def hull_choices() -> list[tuple[str, str]]:
    return list(hull_kinds().items())


class HullLines(AsTyped):
    """What the hull sheet of a vessel is drawn from, beyond her particulars.

    `moves` holds the control points the yard has moved, by curve and number of the point, each as
    (along the hull, height or half breadth). `offsets` holds rows of an offset table; where there
    are any, the sheet is drawn from them alone. All in mm.
    """

    vessel = models.OneToOneField(
        "restoration.Vessel", models.CASCADE, related_name="hull_lines", editable=False
    )
    hull = models.CharField("kind of hull", max_length=20, choices=hull_choices)
    freeboard_bow_mm = models.FloatField("freeboard at the bow", null=True, blank=True)
    freeboard_least_mm = models.FloatField("least freeboard", null=True, blank=True)
    freeboard_stern_mm = models.FloatField("freeboard at the stern", null=True, blank=True)
    overhang_bow_mm = models.FloatField("overhang at the bow", null=True, blank=True)
    station_spaces = models.PositiveSmallIntegerField(
        "spaces between stations",
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(MOST_STATIONS)],
    )
    station_spacing_mm = models.FloatField("or station spacing", null=True, blank=True)
    station_first_mm = models.FloatField("station 0 stands at", null=True, blank=True)
    moves = models.JSONField(default=dict, blank=True, editable=False)
    offsets = models.JSONField(default=list, blank=True, editable=False)

    class Meta:
        verbose_name_plural = "hull lines"
        constraints = [
            models.CheckConstraint(
                condition=(Q(freeboard_bow_mm=None) | Q(freeboard_bow_mm__gt=0))
                & (Q(freeboard_least_mm=None) | Q(freeboard_least_mm__gt=0))
                & (Q(freeboard_stern_mm=None) | Q(freeboard_stern_mm__gt=0))
                & (Q(overhang_bow_mm=None) | Q(overhang_bow_mm__gte=0)),
                name="hull_freeboards_real",
                violation_error_message="Freeboards must be more than nothing, an overhang "
                "nothing or more.",
            ),
            models.CheckConstraint(
                condition=(Q(station_spaces=None) | Q(station_spacing_mm=None))
                & (Q(station_spacing_mm=None) | Q(station_spacing_mm__gt=0)),
                name="hull_stations_one_way",
                violation_error_message="Give the number of spaces between stations or their "
                "spacing, more than nothing; not both.",
            ),
        ]

    def __str__(self):
        return f"Hull lines of {self.vessel}"

    def clean(self):
        try:
            lines = self.lines()
            self.stations(lines)
        except ValueError as error:
            raise ValidationError(str(error)) from error

    def lines(self) -> calc.Lines:
        """Her curves. Raises ValueError, with a sentence, where there are none that hold."""
        if self.offsets:
            return lines_from_offsets([OffsetRow(**row) for row in self.offsets])
        return calc.move_points(lines_from(self.particulars()), self._moves())

    def assumed(self, lines: calc.Lines) -> list[str]:
        """What the sheet takes for granted, by name: nobody has entered it."""
        kind = [] if self.pk else [f"kind of hull ({self.get_hull_display().lower()})"]
        given = self.station_spaces or self.station_spacing_mm
        named = [ASSUMED_WORDS.get(name, name) for name in lines.assumed]
        return [*kind, *named, *([] if given else ["spacing of the stations"])]

    def particulars(self) -> Particulars:
        if self.vessel.loa_mm is None:
            raise ValueError(f"{self.vessel} has no length overall yet: the sheet needs it.")
        return Particulars(
            hull=self.hull,
            loa_mm=self.vessel.loa_mm,
            lwl_mm=self.vessel.lwl_mm,
            beam_mm=self.vessel.beam_mm,
            draught_mm=self.vessel.draught_mm,
            freeboard_bow_mm=self.freeboard_bow_mm,
            freeboard_least_mm=self.freeboard_least_mm,
            freeboard_stern_mm=self.freeboard_stern_mm,
            overhang_bow_mm=self.overhang_bow_mm,
        )

    def stations(self, lines: calc.Lines, highest: float | None = None) -> calc.Stations:
        """Her stations as given; else evenly so many as reach `highest`, and never under ten."""
        first = self.station_first_mm or 0.0
        if self.station_spacing_mm is not None:
            spaced = calc.spaced_stations(self.station_spacing_mm, first)
            _refuse_too_many(lines.length_mm / spaced.spacing_mm)
            return spaced
        spaces = self.station_spaces or min(max(10, math.ceil(highest or 0)), MOST_STATIONS)
        return calc.spaced_stations(
            calc.even_stations(lines, spaces).spacing_mm, lines.sheer.start_mm + first
        )

    def _moves(self) -> dict[str, dict[int, tuple[float, float]]]:
        return {
            curve: {int(index): (to[0], to[1]) for index, to in points.items()}
            for curve, points in self.moves.items()
        }


def hull_lines_of(vessel) -> HullLines:
    """What the yard has entered; else a beginning, not stored, by how she is built."""
    try:
        return vessel.hull_lines
    except HullLines.DoesNotExist:
        usual = "open_boat" if vessel.construction == "lapstrake" else "long_keel"
        return HullLines(vessel=vessel, hull=usual)


def _refuse_too_many(spaces: float) -> None:
    if spaces > MOST_STATIONS:
        raise ValueError(
            f"That spacing makes {spaces:.0f} stations; at most {MOST_STATIONS} are drawn."
        )
