from django.core.validators import MaxValueValidator, MinValueValidator, RegexValidator
from django.db import models
from django.db.models import Count, F, OuterRef, Q, Subquery
from django.db.models.functions import Coalesce, Upper
from django.urls import reverse

from restoration.models.finding import Condition, Grade
from restoration.models.member import Member
from timber_stock.web.typed import AsTyped


class Construction(models.TextChoices):
    CARVEL = "carvel", "carvel"
    LAPSTRAKE = "lapstrake", "lapstrake (clinker)"
    DIAGONAL = "diagonal", "double diagonal"
    STRIP = "strip", "strip planked"
    COMPOSITE = "composite", "composite (wood on iron frames)"
    OTHER = "other", "other"


class VesselQuerySet(models.QuerySet):
    def visible_to(self, user):
        """The one rule of who sees which boat: a client only their own."""
        if user.role == "client":
            return self.filter(client_id=user.client_id)
        return self

    def with_progress(self):
        """How far each vessel has come, in members, all in the one query.

        `member_count`; `examined` (the newest finding is a class, not NE); `to_replace` (the
        newest finding recommends measure 3, or a new piece is specified whatever it recommends);
        `specified`, `timber_found` and `fitted`, by the specifications that stand.
        """
        found = Member.objects.with_condition()
        replaced = Member.objects.with_replacement()
        return self.annotate(
            member_count=_count(Member.objects.all()),
            examined=_count(
                found.exclude(latest_condition=None).exclude(
                    latest_condition=Condition.NOT_EXAMINED
                )
            ),
            to_replace=_count(
                found.with_replacement().filter(
                    Q(latest_measure=Grade.THREE) | Q(is_specified=True)
                )
            ),
            specified=_count(replaced.filter(is_specified=True)),
            timber_found=_count(replaced.filter(has_timber=True)),
            fitted=_count(replaced.filter(is_fitted=True)),
        )


def _count(members):
    """So many of these members as are the vessel's own."""
    own = members.filter(vessel=OuterRef("pk")).order_by().values("vessel")
    return Coalesce(Subquery(own.annotate(n=Count("pk")).values("n")), 0)


class Vessel(AsTyped):
    code = models.CharField(
        max_length=8,
        help_text="Two to eight capitals or figures that go before her members' marks, "
        "such as KIT in KIT-F12.",
        validators=[RegexValidator(r"^[A-Z0-9]{2,8}\Z", "Two to eight capitals or figures.")],
    )
    name = models.CharField(max_length=120)
    client = models.ForeignKey("restoration.Client", models.PROTECT, related_name="vessels")
    vessel_type = models.CharField("type", max_length=80, blank=True)
    rig = models.CharField(max_length=60, blank=True)
    designer = models.CharField(max_length=120, blank=True)
    builder = models.CharField(max_length=120, blank=True)
    built_year = models.PositiveSmallIntegerField(
        "built in",
        null=True,
        blank=True,
        validators=[MinValueValidator(1500), MaxValueValidator(2100)],
    )
    built_place = models.CharField("built at", max_length=120, blank=True)
    official_number = models.CharField(max_length=40, blank=True)
    sail_number = models.CharField(max_length=40, blank=True)
    loa_mm = models.FloatField("length overall (LOA)", null=True, blank=True)
    lwl_mm = models.FloatField("waterline length (LWL)", null=True, blank=True)
    beam_mm = models.FloatField("beam", null=True, blank=True)
    draught_mm = models.FloatField("draught", null=True, blank=True)
    construction = models.CharField(
        max_length=12, choices=Construction, default=Construction.CARVEL
    )
    planking_wood = models.ForeignKey(
        "timber_stock.Species", models.PROTECT, null=True, blank=True, related_name="+"
    )
    fastening_metal = models.CharField(max_length=80, blank=True)
    note = models.TextField(blank=True)

    objects = VesselQuerySet.as_manager()

    class Meta:
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(
                Upper("code"),
                name="vessel_code_once",
                violation_error_message="Another vessel has this code.",
            ),
            models.CheckConstraint(
                condition=(Q(loa_mm=None) | Q(loa_mm__gt=0))
                & (Q(lwl_mm=None) | Q(lwl_mm__gt=0))
                & (Q(beam_mm=None) | Q(beam_mm__gt=0))
                & (Q(draught_mm=None) | Q(draught_mm__gt=0)),
                name="vessel_sizes_real",
                violation_error_message="LOA, LWL, beam and draught must be more than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(loa_mm=None) | Q(lwl_mm=None) | Q(lwl_mm__lte=F("loa_mm")),
                name="vessel_lwl_within_loa",
                violation_error_message="The waterline cannot be longer than the vessel.",
            ),
        ]

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("restoration:vessel", args=[self.pk])
