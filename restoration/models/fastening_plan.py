from functools import cached_property

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import Q
from django.urls import reverse

from restoration.calc.bolt_loss import FasteningMetal, fastening_metals, standard_threads
from restoration.calc.fastening_face import SIDES, Face, Hole
from restoration.calc.fastening_moisture import STATES
from restoration.calc.fastening_size import FasteningSize
from restoration.models.member import FasteningKind, Member
from restoration.models.replacement import places_in_boat
from timber_stock.measure import MM_PER_INCH
from timber_stock.web.typed import AsTyped

CLEARANCE_MM = MM_PER_INCH / 16
"""The most a bolt's hole is over its size (NDS, as summarised): what a washer has to bridge."""
SCARF_USES = ("keel", "hog", "plank", "plank under load", "spar", "plywood", "hardwood", "fir")


def metal_choices() -> list[tuple[str, str]]:
    return [(code, metal.name) for code, metal in fastening_metals().items()]


def thread_choices() -> list[tuple[str, str]]:
    return [(name, name) for name in standard_threads()]


class FasteningPlanQuerySet(models.QuerySet):
    def whole(self):
        """With all that a page about it asks for, in a number of queries that stays the same."""
        return self.select_related(
            "joint__one__vessel", "joint__one__wood", "joint__other__vessel",
            "joint__other__wood", "head_wood", "point_wood",
        ).prefetch_related(
            "joint__fastenings", "fastenings__holes", "fastenings__replaces",
        )  # fmt: skip


class FasteningPlan(AsTyped):
    """The new fastenings of a joint laid out on the face its two timbers share.

    x runs along the face from its start, y across it from its left edge, as seen from the side of
    the heads. Angles are from the length of the face, counter-clockwise as it is drawn.
    """

    joint = models.ForeignKey(
        "restoration.Joint", models.CASCADE, related_name="fastening_plans", editable=False
    )
    name = models.CharField("what is laid out", max_length=80)
    head_in_other = models.BooleanField(default=False, editable=False)
    length_mm = models.FloatField("length of the face")
    width_mm = models.FloatField("width of the face")
    head_thickness_mm = models.FloatField("thickness on the side of the heads")
    point_thickness_mm = models.FloatField("thickness behind it")
    head_wood = models.ForeignKey(
        "timber_stock.Species", models.PROTECT, null=True, blank=True, related_name="+"
    )
    point_wood = models.ForeignKey(
        "timber_stock.Species", models.PROTECT, null=True, blank=True, related_name="+"
    )
    head_grain_deg = models.FloatField("its grain", default=0)
    point_grain_deg = models.FloatField("its grain", default=0)
    head_runs_on = models.JSONField("runs on past", default=list, blank=True)
    point_runs_on = models.JSONField("runs on past", default=list, blank=True)
    load_deg = models.FloatField("direction of the load", default=0)
    planes = models.PositiveSmallIntegerField(
        "sheared in", choices=[(1, "one plane"), (2, "two planes")], default=1
    )
    moisture = models.CharField("the wood is", max_length=10, choices=STATES, default="wet")
    end_grain = models.BooleanField("the points are in end grain", default=False)
    place_in_boat = models.CharField(
        "place in the boat", max_length=20, choices=places_in_boat, blank=True
    )
    scarf_of = models.CharField(
        "a scarf of", max_length=20, choices=[(use, use) for use in SCARF_USES], blank=True
    )
    scarf_depth_mm = models.FloatField("depth of the timber scarfed", null=True, blank=True)
    note = models.TextField(blank=True)

    objects = FasteningPlanQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(
                    length_mm__gt=0, width_mm__gt=0, head_thickness_mm__gt=0,
                    point_thickness_mm__gt=0,
                )
                & (Q(scarf_depth_mm=None) | Q(scarf_depth_mm__gt=0)),
                name="fastening_plan_sizes_real",
                violation_error_message="The sizes of the face and timbers are more than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(planes__in=[1, 2]),
                name="fastening_plan_one_plane_or_two",
                violation_error_message="A fastening is sheared in one plane or in two.",
            ),
            models.CheckConstraint(
                condition=Q(moisture__in=list(STATES)),
                name="fastening_plan_moisture_known",
                violation_error_message="Say whether the wood is dry, wet or drying.",
            ),
        ]  # fmt: skip

    def __str__(self):
        return f"{self.joint}, {self.name}"

    def get_absolute_url(self):
        return reverse("restoration:fastening_plan", args=[self.pk])

    def clean(self):
        if self.length_mm and self.width_mm:
            try:
                self.face()
            except ValueError as error:
                raise ValidationError(str(error)) from error
        for runs_on in (self.head_runs_on, self.point_runs_on):
            if not isinstance(runs_on, list) or not set(runs_on) <= set(SIDES):
                raise ValidationError("Choose among the four sides of the face.")

    def face(self) -> Face:
        return Face(self.length_mm, self.width_mm)

    def head(self) -> Member:
        """The member the heads are in."""
        return self.joint.other if self.head_in_other else self.joint.one

    def point(self) -> Member:
        """The member behind it: the points or nuts are in it or on its far side."""
        return self.joint.one if self.head_in_other else self.joint.other

    @cached_property
    def numbered(self) -> list[tuple["PlannedHole", Hole]]:
        """Every hole with its number on the drawing: along the face, then across it."""
        found = [
            (hole, fastening)
            for fastening in self.fastenings.all()
            for hole in fastening.holes.all()
        ]
        found.sort(key=lambda each: (each[0].x_mm, each[0].y_mm, each[0].pk or 0))
        return [
            (hole, self.as_hole(fastening, hole.x_mm, hole.y_mm, number))
            for number, (hole, fastening) in enumerate(found, 1)
        ]

    def holes(self) -> list[Hole]:
        return [hole for _, hole in self.numbered]

    def as_hole(self, fastening, x_mm: float, y_mm: float, number: int = 0) -> Hole:
        thinner = min(self.head_thickness_mm, self.point_thickness_mm)
        return Hole(number, x_mm, y_mm, fastening.kind, fastening.diameter_mm, thinner)


class PlannedFastening(AsTyped):
    """New fastenings of one kind, metal and size in a layout, with the old ones they replace."""

    plan = models.ForeignKey(
        FasteningPlan, models.CASCADE, related_name="fastenings", editable=False
    )
    kind = models.CharField(max_length=10, choices=FasteningKind)
    metal = models.CharField(max_length=40, choices=metal_choices)
    diameter_mm = models.FloatField("diameter")
    length_mm = models.FloatField("length")
    thread = models.CharField(max_length=12, choices=thread_choices, blank=True)
    washer_mm = models.FloatField("washer or rove, across", null=True, blank=True)
    washer_thick_mm = models.FloatField("washer, thick", null=True, blank=True)
    replaces = models.ForeignKey(
        "restoration.Fastening", models.SET_NULL, null=True, blank=True, related_name="+"
    )
    old_least_mm = models.FloatField("least diameter left of the old one", null=True, blank=True)
    note = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(diameter_mm__gt=0, length_mm__gt=0)
                & (Q(washer_mm=None) | Q(washer_mm__gt=0))
                & (Q(washer_thick_mm=None) | Q(washer_thick_mm__gt=0))
                & (Q(old_least_mm=None) | Q(old_least_mm__gte=0)),
                name="planned_fastening_sizes_real",
                violation_error_message="A fastening's sizes must be more than nothing.",
            )
        ]

    def __str__(self):
        return f"{self.get_kind_display()}, {self.get_metal_display()}"

    def clean(self):
        if self.replaces_id and self.replaces.joint_id != self.plan.joint_id:
            raise ValidationError({"replaces": "That fastening is not in this joint."})
        if self.washer_mm and self.diameter_mm and self.washer_mm <= self.diameter_mm:
            raise ValidationError(
                {"washer_mm": "A washer is wider than the fastening that goes through it."}
            )
        self._check_old()
        if self.metal in fastening_metals() and self.diameter_mm and self.length_mm:
            try:
                self.size()
            except ValueError as error:
                raise ValidationError(str(error)) from error

    def _check_old(self):
        if self.old_least_mm is None:
            return
        old = self.replaces.diameter_mm if self.replaces_id else None
        if old is None:
            raise ValidationError(
                {"old_least_mm": "Say which old fastening, with its diameter, this is left of."}
            )
        if self.old_least_mm > old:
            raise ValidationError(
                {"old_least_mm": "It cannot have wasted to more than it was: check which is which."}
            )

    def known_metal(self) -> FasteningMetal:
        return fastening_metals()[self.metal]

    def beyond(self) -> str:
        return self.known_metal().beyond(self.diameter_mm)

    def size(self) -> FasteningSize:
        metal = self.known_metal()
        return FasteningSize(
            kind=self.kind,
            diameter_mm=self.diameter_mm,
            length_mm=self.length_mm,
            tensile_mpa=metal.tensile_mpa,
            yield_mpa=metal.yield_mpa,
            thread_area_mm2=standard_threads().get(self.thread),
            washer_mm=self.washer_mm,
            hole_mm=self.diameter_mm + CLEARANCE_MM if self.kind == "bolt" else None,
        )


class PlannedHole(AsTyped):
    """One hole of a planned fastening, by its place on the face."""

    fastening = models.ForeignKey(
        PlannedFastening, models.CASCADE, related_name="holes", editable=False
    )
    x_mm = models.FloatField("along the face")
    y_mm = models.FloatField("across the face")

    class Meta:
        ordering = ["x_mm", "y_mm", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(x_mm__gte=0, y_mm__gte=0),
                name="planned_hole_on_the_face",
                violation_error_message="A hole lies on the face, not before it.",
            )
        ]

    def __str__(self):
        return f"{self.x_mm:g}, {self.y_mm:g}"
