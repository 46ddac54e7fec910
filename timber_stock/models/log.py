import math

from django.core.exceptions import ValidationError
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Coalesce, Greatest, Least, Lower
from django.urls import reverse

from timber_stock.sawing import log_volume
from timber_stock.web.typed import AsTyped

from .tags import check_tag, tag_or_wood

FIRST_ACROSS = "from 9 to 3 o'clock as one faces the butt; under bark"
SECOND_ACROSS = "from 12 to 6 o'clock as one faces the butt; under bark. Empty: the end is round."


class Measured(models.TextChoices):
    """How the tape was laid. The diameters kept are always those under the bark."""

    UNDER = "under", "under the bark"
    OVER = "over", "over the bark"


def _other(end: str) -> Coalesce:
    return Coalesce(f"{end}_diameter_2_mm", f"{end}_diameter_mm")


def _wider(end: str) -> Greatest:
    return Greatest(f"{end}_diameter_mm", _other(end))


def _thinner(end: str) -> Least:
    return Least(f"{end}_diameter_mm", _other(end))


class LogQuerySet(models.QuerySet):
    def for_list(self):
        return self.select_related("species", "supplier")

    def not_sawn_up(self):
        return self.filter(is_sawn_up=False)

    def matching(self, text):
        return self.filter(tag_or_wood(text))


class Log(AsTyped):
    """A log as it was bought: what it is, where it grew, how big it is and where its heart lies."""

    tag = models.CharField(max_length=40)
    species = models.ForeignKey("timber_stock.Species", models.PROTECT, verbose_name="wood")
    supplier = models.ForeignKey(
        "timber_stock.Supplier", models.PROTECT, null=True, blank=True, related_name="logs"
    )
    felled_place = models.CharField("where felled", max_length=200, blank=True)
    felled_on = models.DateField("when felled", null=True, blank=True)
    felled_note = models.CharField(
        "felling, if the day is not known", max_length=120, blank=True, help_text="e.g. winter 2025"
    )
    received_on = models.DateField("when received", null=True, blank=True)
    length_mm = models.FloatField("length")
    butt_diameter_mm = models.FloatField("butt diameter, under bark", help_text=FIRST_ACROSS)
    butt_diameter_2_mm = models.FloatField(
        "butt diameter the other way", null=True, blank=True, help_text=SECOND_ACROSS
    )
    top_diameter_mm = models.FloatField("top diameter, under bark", help_text=FIRST_ACROSS)
    top_diameter_2_mm = models.FloatField(
        "top diameter the other way", null=True, blank=True, help_text=SECOND_ACROSS
    )
    middle_diameter_mm = models.FloatField(
        "diameter half way along", null=True, blank=True, help_text="the mean of two; under bark"
    )
    measured = models.CharField(
        "diameters taken", max_length=5, choices=Measured, default=Measured.UNDER
    )
    bark_mm = models.FloatField("bark, how thick", null=True, blank=True)
    butt_heart_offset_mm = models.FloatField("heart off centre at the butt", default=0)
    butt_heart_clock = models.FloatField("towards, o'clock (butt)", null=True, blank=True)
    top_heart_offset_mm = models.FloatField("heart off centre at the top", default=0)
    top_heart_clock = models.FloatField("towards, o'clock (top)", null=True, blank=True)
    sapwood_mm = models.FloatField("sapwood", null=True, blank=True)
    sweep_mm = models.FloatField(
        "sweep", default=0, help_text="how far it bows off a string drawn from end to end"
    )
    sweep_clock = models.FloatField(
        "bows towards, o'clock",
        null=True,
        blank=True,
        help_text="as one faces the butt",
    )
    butt_trim_mm = models.FloatField("end checks to trim at the butt", default=0)
    top_trim_mm = models.FloatField("end checks to trim at the top", default=0)
    price = models.DecimalField(
        max_digits=10, decimal_places=2, null=True, blank=True, validators=[MinValueValidator(0)]
    )
    transport = models.DecimalField(
        "bringing it here", max_digits=10, decimal_places=2, null=True, blank=True
    )
    grew_country = models.CharField("country where it grew", max_length=80, blank=True)
    grew_latitude = models.FloatField(
        "latitude where it grew", null=True, blank=True, help_text="degrees; south with a minus"
    )
    grew_longitude = models.FloatField(
        "longitude where it grew", null=True, blank=True, help_text="degrees; west with a minus"
    )
    protection_note = models.TextField("protected species, permits", blank=True)
    protection_source = models.CharField("where that is written", max_length=200, blank=True)
    place = models.CharField("where it lies", max_length=120, blank=True)
    note = models.TextField(blank=True)
    solid_mm3 = models.FloatField("solid volume", editable=False)
    taken_mm3 = models.FloatField("sawn out of it", default=0, editable=False)
    is_sawn_up = models.BooleanField("sawn up", default=False, editable=False)

    objects = LogQuerySet.as_manager()

    class Meta:
        ordering = ["tag"]
        constraints = [
            models.UniqueConstraint(
                Lower("tag"),
                name="log_tag_once",
                violation_error_message="Another log has this tag.",
            ),
            models.CheckConstraint(
                condition=Q(length_mm__gt=0, butt_diameter_mm__gt=0, top_diameter_mm__gt=0)
                & (Q(butt_diameter_2_mm=None) | Q(butt_diameter_2_mm__gt=0))
                & (Q(top_diameter_2_mm=None) | Q(top_diameter_2_mm__gt=0))
                & (Q(middle_diameter_mm=None) | Q(middle_diameter_mm__gt=0)),
                name="log_has_size",
                violation_error_message="A log's length and its diameters must be more "
                "than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(measured="under") | Q(bark_mm__isnull=False),
                name="log_over_bark_says_how_thick",
                violation_error_message="Diameters taken over the bark need the bark's thickness.",
            ),
            models.CheckConstraint(
                condition=Q(bark_mm=None) | Q(bark_mm__gte=0, bark_mm__lte=300),
                name="log_bark_possible",
                violation_error_message="Bark is between nothing and 300 mm (1 ft) thick.",
            ),
            models.CheckConstraint(
                condition=Q(butt_heart_offset_mm__gte=0, top_heart_offset_mm__gte=0)
                & Q(butt_heart_offset_mm__lt=_wider("butt") / 2)
                & Q(top_heart_offset_mm__lt=_wider("top") / 2),
                name="log_heart_inside",
                violation_error_message="The heart must lie inside the log: an offset is less than "
                "half the diameter at that end.",
            ),
            models.CheckConstraint(
                condition=Q(sweep_mm__gte=0, sweep_mm__lt=F("length_mm") / 4)
                & (Q(sweep_clock=None) | Q(sweep_clock__gt=0, sweep_clock__lte=12)),
                name="log_sweep_possible",
                violation_error_message="The sweep is nothing or more, and less than a quarter of "
                "the length; its clock runs from just past 12 round to 12.",
            ),
            models.CheckConstraint(
                condition=Q(butt_trim_mm__gte=0, top_trim_mm__gte=0)
                & Q(length_mm__gt=F("butt_trim_mm") + F("top_trim_mm")),
                name="log_trim_leaves_a_log",
                violation_error_message="What is trimmed off both ends must leave some of the "
                "log's length.",
            ),
            models.CheckConstraint(
                condition=(
                    Q(butt_heart_clock=None) | Q(butt_heart_clock__gt=0, butt_heart_clock__lte=12)
                )
                & (Q(top_heart_clock=None) | Q(top_heart_clock__gt=0, top_heart_clock__lte=12)),
                name="log_heart_clock",
                violation_error_message="The clock runs from just past 12 round to 12.",
            ),
            models.CheckConstraint(
                condition=Q(sapwood_mm=None)
                | Q(sapwood_mm__gte=0, sapwood_mm__lt=_thinner("top") / 2),
                name="log_sapwood_thinner_than_log",
                violation_error_message="The sapwood must be thinner than half the top diameter.",
            ),
            models.CheckConstraint(
                condition=(Q(price=None) | Q(price__gte=0))
                & (Q(transport=None) | Q(transport__gte=0)),
                name="log_costs_not_negative",
                violation_error_message="A log's price, and what it took to bring it here, cannot "
                "be less than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(grew_latitude=None, grew_longitude=None)
                | Q(
                    grew_latitude__isnull=False,
                    grew_longitude__isnull=False,
                    grew_latitude__gte=-90,
                    grew_latitude__lte=90,
                    grew_longitude__gte=-180,
                    grew_longitude__lte=180,
                ),
                name="log_grew_somewhere_on_earth",
                violation_error_message="Where it grew is told by both: a latitude from -90 to 90 "
                "degrees and a longitude from -180 to 180.",
            ),
            models.CheckConstraint(
                condition=Q(protection_note="") | ~Q(protection_source=""),
                name="log_protection_names_its_source",
                violation_error_message="Say where it is written: the permit, the list with its "
                "date, or who said so.",
            ),
            models.CheckConstraint(
                condition=Q(taken_mm3__gte=0, taken_mm3__lte=F("solid_mm3") * 1.000001),
                name="log_gives_no_more_than_it_holds",
                violation_error_message="More would come out of the log than went in.",
            ),
        ]

    def __str__(self):
        return self.tag

    def get_absolute_url(self):
        return reverse("timber_stock:log", args=[self.pk])

    def clean(self):
        check_tag(self.tag, other="Board")
        for end in ("butt", "top"):
            self._check_heart(end)
        if self.sweep_mm and self.sweep_clock is None:
            raise ValidationError(
                {"sweep_clock": "Say towards which o'clock the log bows, as you face the butt."}
            )

    def _check_heart(self, end):
        offset = getattr(self, f"{end}_heart_offset_mm")
        if not offset:
            return
        clock = getattr(self, f"{end}_heart_clock")
        if clock is None:
            raise ValidationError(
                {f"{end}_heart_clock": f"Say towards which o'clock the heart is off at the {end}."}
            )
        (right, up), (across, other) = _off_centre(offset, clock), self.across(end)
        if across and other and math.hypot(2 * right / across, 2 * up / other) >= 1:
            raise ValidationError(
                {
                    f"{end}_heart_offset_mm": f"The heart must lie inside the log: "
                    f"an offset is less than half the diameter that way at the {end}."
                }
            )

    def save(self, *args, **kwargs):
        self.reckon_solid()
        super().save(*args, **kwargs)

    def across(self, end: str) -> tuple[float, float]:
        """Both diameters under bark at the "butt" or the "top": 9 to 3, then 12 to 6 o'clock."""
        first = getattr(self, f"{end}_diameter_mm")
        return first, getattr(self, f"{end}_diameter_2_mm") or first

    def round_as(self, end: str) -> float:
        """The diameter of a round end of the same area: what any rule for round logs takes."""
        first, second = self.across(end)
        return math.sqrt(first * second)

    def true_solid_mm3(self) -> float:
        """Under bark, as an even oval taper: exact, where Smalian's rule is the most it holds."""
        (a, b), (c, d) = self.across("butt"), self.across("top")
        return math.pi * self.length_mm * (2 * a * b + a * d + c * b + 2 * c * d) / 24

    def reckon_solid(self):
        # Smalian: the most a straight log of these ends can hold, so nothing true is refused.
        butt, top = (log_volume.ellipse_area_mm2(*self.across(end)) for end in ("butt", "top"))
        self.solid_mm3 = log_volume.smalian_mm3(top, butt, self.length_mm)

    def butt_heart_mm(self):
        """Where the heart is at the butt: right of the centre, and up from it, seen from the butt.

        A clock is read as one stands facing that end, with the same side of the log up at both.
        """
        return _off_centre(self.butt_heart_offset_mm, self.butt_heart_clock)

    def top_heart_mm(self):
        """Where the heart is at the top, also seen from the butt, looking through the log.

        Facing the top one reads it the other way about: 3 there is 9 seen from the butt.
        """
        right, up = _off_centre(self.top_heart_offset_mm, self.top_heart_clock)
        return -right, up

    def unsawn_mm3(self):
        return 0.0 if self.is_sawn_up else max(0.0, self.solid_mm3 - self.taken_mm3)


def _off_centre(offset_mm: float, clock: float | None) -> tuple[float, float]:
    angle = math.radians(30 * (clock or 12))
    return offset_mm * math.sin(angle), offset_mm * math.cos(angle)
