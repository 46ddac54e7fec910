from django.core.validators import RegexValidator
from django.db import models
from django.db.models import Exists, F, OuterRef, Q, Subquery
from django.db.models.functions import Upper
from django.urls import reverse

from restoration.calc import grading, vocabulary
from restoration.models.allotment import Allotment
from restoration.models.finding import Finding
from restoration.models.replacement import ReplacementSpec, Stage
from restoration.models.walking import walking_order
from timber_stock.web.typed import AsTyped


def kind_choices() -> list[tuple[str, str]]:
    return [(code, kind.term) for code, kind in vocabulary.member_kinds().items()]


class Side(models.TextChoices):
    CENTRE = "C", "centreline"
    PORT = "P", "port"
    STARBOARD = "S", "starboard"
    BOTH = "B", "both sides"


class MemberQuerySet(models.QuerySet):
    def along_the_hull(self):
        """The order in which one walks the hull: backbone to deck, forward to aft, port first."""
        return self.order_by(*walking_order())

    def marked_or_of_kind(self, text):
        """Those whose mark, or the trade's word for what they are, holds the text."""
        kinds = [code for code, term in kind_choices() if text.lower() in term.lower()]
        return self.filter(Q(mark__icontains=text) | Q(kind__in=kinds))

    def with_condition(self):
        """What the newest finding says of each: `latest_finding_id`, `_condition`, `_measure`."""
        newest = Finding.objects.filter(member=OuterRef("pk")).newest_first()
        return self.annotate(
            latest_finding_id=Subquery(newest.values("pk")[:1]),
            latest_condition=Subquery(newest.values("condition")[:1]),
            latest_measure=Subquery(newest.values("measure")[:1]),
        )

    def with_replacement(self):
        """How far the replacement of each has come: `is_specified`, `has_timber`, `is_fitted`.

        A member met by several lengths is fitted when every one of them is. It has no timber
        while only part of it is found.
        """
        specs = ReplacementSpec.objects.open().filter(finding__member=OuterRef("pk"))
        promised = Allotment.objects.standing().filter(
            spec__finding__member=OuterRef("pk"), spec__withdrawn_on=None
        )
        in_part = specs.with_stage().filter(stage=Stage.PART)
        return self.annotate(
            is_specified=Exists(specs),
            has_timber=Exists(promised) & ~Exists(in_part),
            is_fitted=Exists(promised) & ~Exists(promised.filter(fitted_on=None)),
        )


class Member(AsTyped):
    """One structural piece of a vessel, with a mark of its own."""

    vessel = models.ForeignKey("restoration.Vessel", models.PROTECT, related_name="members")
    kind = models.CharField(max_length=40, choices=kind_choices)
    mark = models.CharField(
        max_length=20,
        validators=[
            RegexValidator(
                r"^[0-9A-Za-z][0-9A-Za-z.]*\Z",
                "A mark is letters and figures without spaces, such as F12 or FR7P.",
            )
        ],
    )
    number = models.PositiveSmallIntegerField(null=True, blank=True)
    side = models.CharField(max_length=1, choices=Side, default=Side.CENTRE)
    station_from = models.FloatField("station from", null=True, blank=True)
    station_to = models.FloatField("station to", null=True, blank=True)
    sided_mm = models.FloatField("sided", null=True, blank=True)
    moulded_mm = models.FloatField("moulded", null=True, blank=True)
    length_mm = models.FloatField("length", null=True, blank=True)
    wood = models.ForeignKey(
        "timber_stock.Species", models.PROTECT, null=True, blank=True, related_name="+"
    )
    material = models.CharField(
        "material, if not wood", max_length=60, blank=True, help_text="e.g. cast lead"
    )
    note = models.TextField(blank=True)

    objects = MemberQuerySet.as_manager()

    class Meta:
        ordering = ["vessel", "kind", "station_from", "number", "mark"]
        constraints = [
            models.UniqueConstraint(
                F("vessel"),
                Upper("mark"),
                name="member_mark_once_a_vessel",
                violation_error_message="Another member of this vessel has this mark.",
            ),
            models.CheckConstraint(
                condition=Q(station_from=None)
                | Q(station_to=None)
                | Q(station_to__gte=F("station_from")),
                name="member_stations_in_order",
                violation_error_message="A member runs from the lower station to the higher one.",
            ),
            models.CheckConstraint(
                condition=(Q(sided_mm=None) | Q(sided_mm__gt=0))
                & (Q(moulded_mm=None) | Q(moulded_mm__gt=0))
                & (Q(length_mm=None) | Q(length_mm__gt=0)),
                name="member_sizes_real",
                violation_error_message="Sided, moulded and length must be more than nothing.",
            ),
        ]

    def __str__(self):
        return self.mark

    def get_absolute_url(self):
        return reverse("restoration:member", args=[self.pk])

    def term(self) -> str:
        return vocabulary.member_kind(self.kind).one

    def group(self) -> str:
        return vocabulary.member_kind(self.kind).group

    def definition(self) -> str:
        return vocabulary.member_kind(self.kind).definition

    def one(self) -> str:
        """What a single one is called: floor timber, plank."""
        return vocabulary.member_kind(self.kind).one

    def condition_word(self) -> str:
        """The word for `latest_condition` (see `with_condition`)."""
        return grading.condition(self.latest_condition).label

    def joints(self):
        joints = Joint.objects.filter(Q(one=self) | Q(other=self))
        return joints.select_related("one", "other").prefetch_related("fastenings")


class Joint(models.Model):
    """Two members that meet. Kept once a pair: the one with the lower id first."""

    one = models.ForeignKey(Member, models.CASCADE, related_name="joints_as_one")
    other = models.ForeignKey(Member, models.CASCADE, related_name="joints_as_other")
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["one", "other"],
                name="joint_once",
                violation_error_message="These two members are joined already.",
            ),
            models.CheckConstraint(
                condition=Q(one__lt=F("other")),
                name="joint_of_two_members",
                violation_error_message="A member cannot be joined to itself.",
            ),
        ]

    def __str__(self):
        return f"{self.one} to {self.other}"

    def partner_of(self, member) -> Member:
        return self.other if self.one_id == member.pk else self.one


class FasteningKind(models.TextChoices):
    BOLT = "bolt", "through bolt"
    DRIFT = "drift", "drift bolt"
    SCREW = "screw", "screw"
    LAG = "lag", "lag screw"
    RIVET = "rivet", "rivet and rove"
    NAIL = "nail", "nail"
    ANNULAR = "annular", "annular nail"
    SPIKE = "spike", "spike"
    TREENAIL = "treenail", "treenail"
    OTHER = "other", "other"


class Fastening(models.Model):
    joint = models.ForeignKey(Joint, models.CASCADE, related_name="fastenings")
    kind = models.CharField(max_length=10, choices=FasteningKind)
    metal = models.CharField(max_length=60)
    diameter_mm = models.FloatField("diameter", null=True, blank=True)
    length_mm = models.FloatField("length", null=True, blank=True)
    count = models.PositiveSmallIntegerField("number", default=1)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=(Q(diameter_mm=None) | Q(diameter_mm__gt=0))
                & (Q(length_mm=None) | Q(length_mm__gt=0))
                & Q(count__gte=1),
                name="fastening_sizes_real",
                violation_error_message="A fastening's sizes and number must be more than nothing.",
            )
        ]

    def __str__(self):
        return f"{self.count} × {self.get_kind_display()}, {self.metal}"
