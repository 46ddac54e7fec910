from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Case, Exists, F, OuterRef, Q, Subquery, Sum, Value, When
from django.urls import reverse
from django.utils import timezone

from restoration.calc.sawn_green import Wanted, accepted_directions, usual_face
from restoration.calc.timber_found import ROUNDING_MM, is_enough
from restoration.models.allotment import Allotment
from restoration.models.retighten import RetightenTask
from restoration.models.walking import walking_order
from restoration.models.work import Work, WorkStep
from timber_stock.web.typed import AsTyped
from timber_stock.wood.service import PLACES


def places_in_boat() -> list[tuple[str, str]]:
    return [(key, at.place) for key, at in PLACES.items()]


class RingsWanted(models.TextChoices):
    ANY = "any", "any"
    QUARTER = "quarter", "quarter-sawn"
    RIFT = "rift", "rift"
    FLAT = "flat", "flat-sawn"


class Face(models.TextChoices):
    NONE = "", "no matter which"
    SIDED = "sided", "on the sided face"
    MOULDED = "moulded", "on the moulded face"


class Seasoning(models.TextChoices):
    GREEN = "green", "green"
    SEASONED = "seasoned", "seasoned"


class Stage(models.TextChoices):
    """How far a replacement has come; with several lengths, as far as the last of them."""

    NEEDS_TIMBER = "timber", "needs timber"
    PART = "part", "part of its timber found"
    FOUND = "found", "timber found"
    CUT = "cut", "cut"
    FITTED = "fitted", "fitted"
    WITHDRAWN = "withdrawn", "withdrawn"


LACKING = (Stage.NEEDS_TIMBER, Stage.PART)  # those that timber is looked for


class ReplacementSpecQuerySet(models.QuerySet):
    def open(self):
        return self.filter(withdrawn_on=None)

    def with_stage(self):
        """`stage`, one of `Stage`, by the allotments that stand.

        Once every length of it is fitted, the yard has shown that they were enough.
        """
        standing = Allotment.objects.standing().filter(spec=OuterRef("pk"))
        unfitted = Exists(standing.filter(fitted_on=None))
        enough = F("length_mm") - ROUNDING_MM
        specs = self.annotate(found_mm=Subquery(standing.length_in_all()))
        return specs.annotate(
            stage=Case(
                When(withdrawn_on__isnull=False, then=Value(Stage.WITHDRAWN)),
                When(~Exists(standing), then=Value(Stage.NEEDS_TIMBER)),
                When(unfitted & Q(found_mm__lt=enough), then=Value(Stage.PART)),
                When(Exists(standing.filter(cut_on=None)), then=Value(Stage.FOUND)),
                When(unfitted, then=Value(Stage.CUT)),
                default=Value(Stage.FITTED),
                output_field=models.CharField(),
            )
        )

    def awaiting_timber(self):
        return self.with_stage().filter(stage=Stage.NEEDS_TIMBER)

    def lacking_timber(self):
        """Those that have none of their timber, or part of it."""
        return self.with_stage().filter(stage__in=LACKING)

    def _finished(self):
        fastened = WorkStep.objects.done().filter(spec=OuterRef("pk"), stage=Work.FASTENED)
        nuts = RetightenTask.objects.open().filter(allotment__spec=OuterRef("pk"))
        return Exists(fastened) & ~Exists(nuts)

    def on_the_way(self):
        """Those with something still to be done: not fastened, or with nuts to see to."""
        return self.open().filter(~self._finished())

    def finished(self):
        """Fastened, and no visit to its nuts still to make."""
        return self.open().filter(self._finished())

    def fastened_last_first(self):
        fastened = WorkStep.objects.done().filter(spec=OuterRef("pk"), stage=Work.FASTENED)
        on = Subquery(fastened.values("on")[:1])
        return self.annotate(fastened_on=on).order_by("-fastened_on", "-pk")

    def with_hours(self):
        """`hours_worked`, all hours recorded for each; None where none are."""
        worked = WorkStep.objects.standing().filter(spec=OuterRef("pk"))
        total = worked.order_by().values("spec").annotate(total=Sum("hours")).values("total")
        return self.annotate(hours_worked=Subquery(total))

    def for_list(self):
        return self.select_related("wood", "finding__member__vessel", "finding__survey")

    def along_the_hull(self):
        """Vessel by vessel, in the order in which one walks each hull."""
        member = "finding__member__"
        return self.order_by(f"{member}vessel__name", *walking_order(member), "pk")


class ReplacementSpec(AsTyped):
    """What must replace a member, decided from a finding."""

    finding = models.ForeignKey("restoration.Finding", models.PROTECT, related_name="specs")
    wood = models.ForeignKey("timber_stock.Species", models.PROTECT, related_name="+")
    other_woods = models.ManyToManyField(
        "timber_stock.Species", blank=True, related_name="+", verbose_name="also acceptable"
    )
    sided_mm = models.FloatField("finished sided")
    moulded_mm = models.FloatField("finished moulded")
    length_mm = models.FloatField("finished length")
    rings = models.CharField(
        "ring direction", max_length=10, choices=RingsWanted, default=RingsWanted.ANY
    )
    rings_face = models.CharField(
        "rings judged", max_length=10, choices=Face, default=Face.NONE, blank=True
    )
    clear_of_heart = models.BooleanField("clear of heart", default=True)
    sapwood_allowed = models.BooleanField("sapwood allowed", default=False)
    seasoning = models.CharField(
        "green or seasoned", max_length=10, choices=Seasoning, default=Seasoning.GREEN
    )
    place_in_boat = models.CharField(
        "place in the boat", max_length=20, choices=places_in_boat, blank=True,
        help_text="How wet it will be kept: from this its movement is reckoned.",
    )  # fmt: skip
    moisture_percent = models.FloatField(
        "to what moisture, percent", null=True, blank=True, help_text="for seasoned wood"
    )
    fastenings = models.TextField("fastenings", blank=True)
    note = models.TextField("notes", blank=True)
    hours_estimate = models.DecimalField(
        "hours, estimate",
        max_digits=7,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(0)],
    )
    cost_estimate = models.DecimalField(
        "cost, estimate",
        max_digits=10,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(0)],
    )
    specified_at = models.DateTimeField(default=timezone.now, editable=False)
    specified_by = models.ForeignKey(
        "restoration.User", models.PROTECT, related_name="+", editable=False
    )
    withdrawn_on = models.DateField(null=True, blank=True, editable=False)
    withdrawn_reason = models.CharField(max_length=200, blank=True, editable=False)

    objects = ReplacementSpecQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(sided_mm__gt=0, moulded_mm__gt=0, length_mm__gt=0),
                name="spec_has_size",
                violation_error_message="Sided, moulded and length must be more than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(seasoning="green", moisture_percent=None)
                # Said in full: to a database, "unknown is above 0" is no refusal.
                | Q(
                    seasoning="seasoned",
                    moisture_percent__isnull=False,
                    moisture_percent__gt=0,
                    moisture_percent__lte=30,
                ),
                name="spec_moisture_when_seasoned",
                violation_error_message="Seasoned wood needs a moisture to season to, above 0 and "
                "up to 30 percent; green wood has none.",
            ),
        ]

    def __str__(self):
        return f"Replacement of {self.finding.member}"

    def get_absolute_url(self):
        return reverse("restoration:spec", args=[self.pk])

    def wanted(self) -> Wanted:
        """Its finished section and the ring directions it takes, as the sums want them."""
        return Wanted(
            self.sided_mm,
            self.moulded_mm,
            accepted_directions(self.rings, not self.clear_of_heart),
            self.rings_face or usual_face(self.sided_mm, self.moulded_mm),
        )

    def is_found_in(self, lengths) -> bool:
        """Whether these allotments are all of its timber; fitted ones have shown that they are."""
        if not lengths:
            return False
        return all(length.fitted_on for length in lengths) or is_enough(
            [length.length_mm() for length in lengths], self.length_mm
        )

    def still_wanted_mm(self) -> float:
        """How long a piece would be that completes it, without a scarf; of rows `with_stage()`."""
        return self.length_mm - (self.found_mm if self.stage == Stage.PART else 0.0)

    def stage_word(self) -> str:
        """Only of rows read `with_stage()`."""
        return Stage(self.stage).label
