from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils import timezone
from django.utils.functional import cached_property

from restoration.calc import pattern as calc
from restoration.models.member import Side
from restoration.models.walking import walking_order


class Taken(models.TextChoices):
    OFFSETS = "offsets", "table of offsets"
    DXF = "dxf", "DXF drawing"
    PHOTOGRAPH = "photograph", "photograph"


def one_side() -> list[tuple[str, str]]:
    """A pattern lies one way up: it is of one side, or of a member on the centreline."""
    return [(side.value, side.label) for side in Side if side is not Side.BOTH]


class PatternQuerySet(models.QuerySet):
    def standing(self):
        """Those that nothing has replaced: of each pattern its newest version."""
        return self.filter(replaced_by=None)

    def of_vessel(self, vessel):
        """By member in the order in which one walks the hull."""
        return (
            self.filter(member__vessel=vessel)
            .select_related("member")
            .order_by(*walking_order("member__"), "name", "-version")
        )


class Pattern(models.Model):
    """The true shape of one member. Never changed: a correction is the next version.

    `data` is what `restoration.calc.pattern` keeps: outline, lines, holes and bevels in mm.
    `as_entered` is how it came in, so that it can be taken up again: the tables as they were
    typed, or the drawing's name, unit and layers, or the marks on a photograph. `drawing` is the
    DXF file it was taken from; those of before files were kept have only its name.
    """

    member = models.ForeignKey("restoration.Member", models.PROTECT, related_name="patterns")
    name = models.CharField(max_length=80)
    side = models.CharField("taken of the side", max_length=1, choices=one_side, default="C")
    turns_over = models.BooleanField("serves the other side turned over", default=False)
    sided_mm = models.FloatField("sided")
    data = models.JSONField(editable=False)
    taken = models.CharField("taken from", max_length=12, choices=Taken)
    taken_on = models.DateField("taken on", default=timezone.localdate)
    by = models.ForeignKey("restoration.User", models.PROTECT, related_name="+")
    kept_at = models.DateTimeField(default=timezone.now, editable=False)
    note = models.TextField(blank=True)
    as_entered = models.JSONField(default=dict, blank=True, editable=False)
    drawing = models.ForeignKey(
        "restoration.PatternDrawing",
        models.PROTECT,
        null=True,
        blank=True,
        editable=False,
        related_name="patterns",
    )
    version = models.PositiveSmallIntegerField(default=1, editable=False)
    replaces = models.OneToOneField(
        "self",
        models.PROTECT,
        null=True,
        blank=True,
        editable=False,
        related_name="replaced_by",
        error_messages={
            "unique": "Someone has changed this pattern meanwhile: begin from the newest version."
        },
    )

    objects = PatternQuerySet.as_manager()

    class Meta:
        ordering = ["member", "name", "-version"]
        constraints = [
            models.CheckConstraint(
                condition=Q(sided_mm__gt=0),
                name="pattern_sided_real",
                violation_error_message="The siding must be more than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(version=1, replaces=None) | Q(version__gt=1, replaces__isnull=False),
                name="pattern_version_follows_another",
                violation_error_message="Only the first version of a pattern replaces no other.",
            ),
        ]

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("restoration:pattern", args=[self.pk])

    def clean(self):
        try:
            calc.checked(calc.from_data(self.data))
        except ValueError as error:
            raise ValidationError(str(error)) from error
        if self.member_id is None:
            return
        if self.replaces and self.replaces.member_id != self.member_id:
            raise ValidationError("A version of a pattern is of the same member.")
        same = Pattern.objects.standing().filter(member=self.member, name__iexact=self.name)
        if same.exclude(pk=self.pk).exclude(pk=self.replaces_id).exists():
            raise ValidationError(
                {"name": "This member has a pattern of this name: change that, or name this one."}
            )

    def shape(self) -> calc.Pattern:
        return self._shape

    @cached_property
    def _shape(self) -> calc.Pattern:
        """Read once: a pattern never changes, and one of thousands of corners takes its time."""
        return calc.from_data(self.data)

    def stands(self) -> bool:
        return not hasattr(self, "replaced_by")

    def versions(self) -> list["Pattern"]:
        """This one and all that went before it, newest first."""
        found, before = [self], self.replaces
        while before is not None:
            found.append(before)
            before = before.replaces
        return found
