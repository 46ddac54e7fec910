import math

from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Lower
from django.urls import reverse
from django.utils import timezone

from timber_stock.web.typed import AsTyped

MOST_PIECES = 5000


class CuttingListQuerySet(models.QuerySet):
    def open(self):
        return self.filter(is_open=True)

    def counted(self):
        """Adds `lines` and `pieces`, so that a list needs no query a row."""
        counted = self.annotate(lines=models.Count("items"), pieces=models.Sum("items__quantity"))
        # Grouped rows lose the model's own order, and pages of them need one.
        return counted.order_by("-is_open", "-made_on", "name")


class CuttingList(models.Model):
    """Timbers wanted green from the saw, for whomever, to be had from one log or several."""

    name = models.CharField(max_length=120, unique=True)
    note = models.TextField(blank=True)
    made_on = models.DateField("made on", default=timezone.localdate)
    is_open = models.BooleanField("still wanted", default=True)

    objects = CuttingListQuerySet.as_manager()

    class Meta:
        ordering = ["-is_open", "-made_on", "name"]

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("timber_stock:cutting_list", args=[self.pk])


def _degrees(words: str) -> models.FloatField:
    return models.FloatField(
        words,
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(90)],
    )


class CuttingItem(AsTyped):
    """One line of a cutting list: so many timbers of one green size, and what they must be.

    Ring limits are of the angle between the rings and the wide face: 90 quarter-sawn, 0 flat.
    """

    cutting_list = models.ForeignKey(CuttingList, models.CASCADE, related_name="items")
    label = models.CharField("mark", max_length=40)
    for_whom = models.CharField("for", max_length=200, blank=True)
    thickness_mm = models.FloatField("green thickness")
    width_mm = models.FloatField("green width")
    length_mm = models.FloatField("length to saw")
    quantity = models.PositiveIntegerField(
        "how many", default=1, validators=[MinValueValidator(1), MaxValueValidator(MOST_PIECES)]
    )
    worth = models.FloatField(
        "worth",
        default=1,
        help_text="beside the same volume of the others: 3 is worth three times as much as 1",
    )
    heart_clearance_mm = models.FloatField(
        "clear of the heart by", null=True, blank=True, help_text="empty: the heart may be in it"
    )
    mean_min_deg = _degrees("rings, mean at least")
    worst_min_deg = _degrees("rings, nowhere less than")
    mean_max_deg = _degrees("rings, mean at most")
    worst_max_deg = _degrees("rings, nowhere more than")
    sapwood_allowed = models.BooleanField("sapwood allowed", default=False)
    knot_free = models.JSONField(
        "free of knots",
        default=list,
        blank=True,
        help_text="parts of its length, each [from, to] from 0 at one end to 1 at the other",
    )

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                "cutting_list",
                Lower("label"),
                name="cutting_item_mark_once",
                violation_error_message="Another timber of this list has this mark.",
            ),
            models.CheckConstraint(
                condition=Q(thickness_mm__gte=1, length_mm__gte=1)
                & Q(width_mm__gte=F("thickness_mm")),
                name="cutting_item_has_size",
                violation_error_message="A timber has a thickness and a length, and its width is "
                "the greater side: give the lesser as the thickness.",
            ),
            models.CheckConstraint(
                condition=Q(thickness_mm__lte=1e5, width_mm__lte=1e5, length_mm__lte=1e5),
                name="cutting_item_possible",
                violation_error_message="No timber is longer or wider than 100 m.",
            ),
            models.CheckConstraint(
                condition=Q(quantity__gte=1, quantity__lte=MOST_PIECES),
                name="cutting_item_quantity",
                violation_error_message=f"A line asks for 1 to {MOST_PIECES} timbers.",
            ),
            models.CheckConstraint(
                condition=Q(worth__gte=0, worth__lte=1e6),
                name="cutting_item_worth",
                violation_error_message="Worth is between nothing and a million.",
            ),
            models.CheckConstraint(
                condition=Q(heart_clearance_mm=None) | Q(heart_clearance_mm__gte=0),
                name="cutting_item_heart_clearance",
                violation_error_message="The clearance from the heart is nothing or more.",
            ),
            models.CheckConstraint(
                condition=(
                    Q(mean_min_deg=None)
                    | Q(mean_max_deg=None)
                    | Q(mean_max_deg__gte=F("mean_min_deg"))
                )
                & (
                    Q(worst_min_deg=None)
                    | Q(worst_max_deg=None)
                    | Q(worst_max_deg__gte=F("worst_min_deg"))
                ),
                name="cutting_item_rings_in_order",
                violation_error_message="The least ring angle must not be more than the greatest.",
            ),
        ]

    def __str__(self):
        return self.label

    def clean(self):
        for part in self.knot_free if isinstance(self.knot_free, list) else [None]:
            if not _is_part(part):
                raise ValidationError(
                    {"knot_free": "Each part free of knots runs from a fraction of the length to a "
                    "greater one, between 0 and 1."}
                )  # fmt: skip

    def volume_mm3(self) -> float:
        """Of one piece."""
        return self.thickness_mm * self.width_mm * self.length_mm

    def volume_all_mm3(self) -> float:
        return self.volume_mm3() * self.quantity

    def rings(self) -> dict[str, float]:
        """The ring limits that are set, by their names in a sawing request."""
        names = ("mean_min_deg", "worst_min_deg", "mean_max_deg", "worst_max_deg")
        limits = {name: getattr(self, name) for name in names}
        return {name: limit for name, limit in limits.items() if limit is not None}


def _is_part(part: object) -> bool:
    if not isinstance(part, list) or len(part) != 2:
        return False
    if not all(isinstance(end, int | float) and math.isfinite(end) for end in part):
        return False
    return 0 <= part[0] < part[1] <= 1
