from django.db import models
from django.db.models import F, OuterRef, Q, Subquery
from django.db.models.functions import Lower
from django.urls import reverse

from timber_stock.web.typed import AsTyped

from .tags import check_tag, tag_or_wood


class Heart(models.TextChoices):
    CLEAR = "clear", "clear of heart"
    IN = "in", "heart in (boxed)"
    UNKNOWN = "unknown", "not known"


class Rings(models.TextChoices):
    QUARTER = "quarter", "quarter-sawn"
    RIFT = "rift", "rift"
    FLAT = "flat", "flat-sawn"
    MIXED = "mixed", "mixed"
    UNKNOWN = "unknown", "not known"


class State(models.TextChoices):
    GREEN = "green", "green"
    IN_STICK = "in_stick", "in stick"
    READY = "ready", "ready to use"
    RESAWN = "resawn", "resawn"
    USED = "used", "used up"
    GONE = "gone", "sold or scrapped"


class BoardQuerySet(models.QuerySet):
    def for_list(self):
        return self.select_related("species", "log", "supplier")

    def in_stock(self):
        return self.exclude(state__in=[State.RESAWN, State.USED, State.GONE])

    def in_stick(self):
        return self.filter(state=State.IN_STICK)

    def clear_of_heart(self):
        return self.filter(heart=Heart.CLEAR)

    def held(self):
        return self.exclude(held_for="")

    def free(self):
        return self.filter(held_for="")

    def matching(self, text):
        return self.filter(tag_or_wood(text))

    def with_last_reading(self):
        """Adds `last_percent` and `last_read_on`, so that a list needs no query a row."""
        last = MoistureReading.objects.filter(board=OuterRef("pk")).order_by("-read_on", "-pk")
        return self.annotate(
            last_percent=Subquery(last.values("percent")[:1]),
            last_read_on=Subquery(last.values("read_on")[:1]),
        )


def word_for(*, out_of_the_log: bool, resawn: bool) -> str:
    """A flitch is a piece sawn from the log to be sawn again (the trade's word, from memory)."""
    return "flitch" if out_of_the_log and resawn else "board"


class Board(AsTyped):
    """A piece of a log or of another board: flitch, cant, board or blank; or one bought sawn."""

    tag = models.CharField(max_length=40)
    species = models.ForeignKey("timber_stock.Species", models.PROTECT, verbose_name="wood")
    # The log at the very start of the chain; the step before this piece is `sawing`.
    log = models.ForeignKey(
        "timber_stock.Log", models.PROTECT, null=True, blank=True, related_name="boards"
    )
    sawing = models.ForeignKey(
        "timber_stock.Sawing", models.PROTECT, null=True, blank=True, related_name="pieces"
    )
    supplier = models.ForeignKey(
        "timber_stock.Supplier", models.PROTECT, null=True, blank=True, related_name="boards"
    )
    received_on = models.DateField("when received", null=True, blank=True)
    thickness_mm = models.FloatField("thickness")
    width_mm = models.FloatField("width")
    length_mm = models.FloatField("length")
    heart = models.CharField(max_length=10, choices=Heart, default=Heart.UNKNOWN)
    # From the middle of the section as one faces the butt with the width level: right, and up.
    butt_heart_across_mm = models.FloatField("heart along the width, butt", null=True, blank=True)
    butt_heart_off_mm = models.FloatField("heart across the thickness, butt", null=True, blank=True)
    top_heart_across_mm = models.FloatField("heart along the width, top", null=True, blank=True)
    top_heart_off_mm = models.FloatField("heart across the thickness, top", null=True, blank=True)
    rings = models.CharField("ring direction", max_length=10, choices=Rings, default=Rings.UNKNOWN)
    has_sapwood = models.BooleanField("has sapwood", default=False)
    state = models.CharField(max_length=10, choices=State, default=State.GREEN)
    place = models.CharField("where it lies", max_length=120, blank=True)
    price = models.DecimalField(max_digits=10, decimal_places=2, null=True, blank=True)
    worth = models.DecimalField(
        "worth of it",
        max_digits=10,
        decimal_places=2,
        null=True,
        blank=True,
        help_text="what it would fetch as it lies: measures its share of the log's cost where the "
        "yard spreads cost by worth",
    )
    note = models.TextField(blank=True)
    # What must come off each end before the wood is sound; empty where nobody has looked.
    butt_check_mm = models.FloatField("checked at the butt end, along", null=True, blank=True)
    top_check_mm = models.FloatField("checked at the top end, along", null=True, blank=True)
    held_for = models.CharField("held for", max_length=300, blank=True, editable=False)
    # How much of its length has been cut out of it already: what is left can still be resawn.
    cut_away_mm = models.FloatField("cut out of its length", default=0, editable=False)

    objects = BoardQuerySet.as_manager()

    class Meta:
        ordering = ["tag"]
        constraints = [
            models.UniqueConstraint(
                Lower("tag"),
                name="board_tag_once",
                violation_error_message="Another board has this tag.",
            ),
            models.CheckConstraint(
                condition=Q(thickness_mm__gt=0, width_mm__gt=0, length_mm__gt=0),
                name="board_has_size",
                violation_error_message="A board's thickness, width and length must be more than "
                "nothing.",
            ),
            models.CheckConstraint(
                condition=Q(sawing__isnull=False) | Q(supplier__isnull=False, log=None),
                name="board_comes_from_somewhere",
                violation_error_message="A board is sawn from a log or a board here, or was bought "
                "sawn: then name its supplier.",
            ),
            models.CheckConstraint(
                condition=Q(cut_away_mm__gte=0, cut_away_mm__lte=F("length_mm") + 0.5),
                name="board_gives_no_more_than_its_length",
                violation_error_message="More would be cut out of the board than its length.",
            ),
            *(
                models.CheckConstraint(
                    condition=Q(**{f"{end}_heart_across_mm": None, f"{end}_heart_off_mm": None})
                    | Q(
                        **{
                            f"{end}_heart_across_mm__isnull": False,
                            f"{end}_heart_off_mm__isnull": False,
                        }
                    ),
                    name=f"board_heart_at_{end}_told_both_ways",
                    violation_error_message="Say of the heart both how far along the width it lies "
                    f"and how far across the thickness, at the {end}.",
                )
                for end in ("butt", "top")
            ),
            models.CheckConstraint(
                condition=Q(butt_heart_off_mm__isnull=False) | Q(top_heart_off_mm=None),
                name="board_heart_at_top_with_butt",
                violation_error_message="Where the heart lies at the top is told beside where it "
                "lies at the butt.",
            ),
            models.CheckConstraint(
                condition=(Q(butt_check_mm=None) | Q(butt_check_mm__gte=0))
                & (Q(top_check_mm=None) | Q(top_check_mm__gte=0)),
                name="board_checks_not_negative",
                violation_error_message="The checks at an end run nothing or more along it.",
            ),
            models.CheckConstraint(
                condition=Q(price=None) | Q(price__gte=0),
                name="board_price_not_negative",
                violation_error_message="A price cannot be less than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(worth=None) | Q(worth__gt=0),
                name="board_worth_something",
                violation_error_message="A board's worth is more than nothing; leave it empty if "
                "nobody has set it.",
            ),
        ]

    def __str__(self):
        return self.tag

    def get_absolute_url(self):
        return reverse("timber_stock:board", args=[self.pk])

    def clean(self):
        check_tag(self.tag, other="Log")

    def volume_mm3(self):
        return self.thickness_mm * self.width_mm * self.length_mm

    def butt_heart_mm(self) -> tuple[float, float] | None:
        """From the middle of the section as one faces the butt: right, and up; None if not told."""
        if self.butt_heart_off_mm is None:
            return None
        return self.butt_heart_across_mm, self.butt_heart_off_mm

    def top_heart_mm(self) -> tuple[float, float] | None:
        """The same at the top, seen through the board from its butt."""
        if self.top_heart_off_mm is None:
            return None
        return self.top_heart_across_mm, self.top_heart_off_mm

    def left_mm(self):
        """The length that has not been cut out of it, in one piece or in several."""
        return max(0.0, self.length_mm - self.cut_away_mm)

    def left_mm3(self):
        return self.thickness_mm * self.width_mm * self.left_mm()

    def end_checks_mm(self) -> tuple[float, float]:
        """What comes off the butt and off the top; nothing where nobody has looked."""
        return self.butt_check_mm or 0.0, self.top_check_mm or 0.0

    def is_in_stock(self):
        return self.state not in (State.RESAWN, State.USED, State.GONE)

    def word(self):
        made_of_log = self.sawing_id is not None and self.sawing.source_log_id is not None
        return word_for(out_of_the_log=made_of_log, resawn=hasattr(self, "resawing"))

    def parent(self):
        """The log or board this piece was sawn from; None when it was bought sawn."""
        return self.sawing and (self.sawing.source_board or self.sawing.source_log)


class ReadingMethod(models.TextChoices):
    PIN_METER = "meter", "pin meter"
    OVENDRY = "oven", "sample weighed and dried"


class MoistureReading(models.Model):
    """One reading as it was taken; what a correction makes of it is never written over it."""

    board = models.ForeignKey(Board, models.CASCADE, related_name="moisture_readings")
    read_on = models.DateField("read on")
    percent = models.FloatField("moisture, percent")
    method = models.CharField(
        "how it was found",
        max_length=10,
        choices=ReadingMethod,
        default=ReadingMethod.PIN_METER,
    )
    temperature_c = models.FloatField("temperature of the wood", null=True, blank=True)
    depth_mm = models.FloatField("depth of the pins", null=True, blank=True)
    instrument = models.CharField(max_length=120, blank=True)
    read_by = models.CharField("read by", max_length=120, blank=True)

    class Meta:
        ordering = ["read_on", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(percent__gte=0, percent__lte=300),
                name="moisture_0_to_300",
                violation_error_message="Moisture is a percentage of the dry weight, between 0 and "
                "300.",
            ),
            models.CheckConstraint(
                condition=Q(temperature_c=None) | Q(temperature_c__gte=-60, temperature_c__lte=100),
                name="wood_temperature_possible",
                violation_error_message="The temperature of the wood lies between -60 and 100 °C.",
            ),
        ]

    def __str__(self):
        return f"{self.board} {self.percent:g} % on {self.read_on}"
