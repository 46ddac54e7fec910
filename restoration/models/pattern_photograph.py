from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.urls import reverse
from django.utils import timezone

from restoration.calc.rectify import Mark
from restoration.calc.rectify_settled import MOST_ABOVE_MM, Settled, settle


class PatternPhotograph(models.Model):
    """A photograph of a pattern on a board, with the marks that undo its slant.

    `marks` are rows of x and y in pixels and x and y in mm (see `calc.rectify`), and `as_entered`
    how they were typed. `drawing` is the trace as far as it has come: the tables of the form.
    """

    member = models.ForeignKey(
        "restoration.Member", models.PROTECT, related_name="pattern_photographs"
    )
    image = models.FileField(upload_to="pattern_photographs/")
    thumbnail = models.FileField(upload_to="pattern_thumbnails/")
    width_px = models.PositiveIntegerField()
    height_px = models.PositiveIntegerField()
    sha256 = models.CharField(max_length=64)
    taken_at = models.DateTimeField(null=True, blank=True)
    kept_at = models.DateTimeField(default=timezone.now, editable=False)
    kept_by = models.ForeignKey("restoration.User", models.PROTECT, related_name="+")
    above_mm = models.FloatField(
        "pattern lies above the marks",
        default=0.0,
        validators=[MinValueValidator(0), MaxValueValidator(MOST_ABOVE_MM)],
    )
    marks = models.JSONField(default=list, blank=True, editable=False)
    as_entered = models.JSONField(default=dict, blank=True, editable=False)
    drawing = models.JSONField(default=dict, blank=True, editable=False)

    class Meta:
        ordering = ["-kept_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["member", "sha256"],
                name="pattern_photograph_once",
                violation_error_message="This photograph is with the member already.",
            ),
            models.CheckConstraint(
                condition=Q(above_mm__gte=0),
                name="pattern_photograph_above_marks",
                violation_error_message="A pattern lies on its marks or above them.",
            ),
        ]

    def __str__(self):
        return f"Photograph of a pattern for {self.member}"

    def get_absolute_url(self):
        return reverse("restoration:pattern_photograph", args=[self.pk])

    def as_marks(self) -> list[Mark]:
        return [Mark(*row) for row in self.marks]

    def settled(self) -> Settled | None:
        """Its board; None while it has no marks, or where those it has would no longer serve."""
        try:
            return settle(self.as_marks(), self.width_px, self.height_px, self.above_mm)
        except ValueError:
            return None
