from django.db import models
from django.db.models import Q
from django.utils import timezone


class PatternDrawing(models.Model):
    """A DXF drawing from which patterns were taken, its file kept as it was sent.

    One drawing may hold the patterns of several members, and each version of a pattern whose
    figures are changed still comes from it: it stays as long as one of them does. `name` is what
    the file was called where it came from, `sha256` is of its bytes.
    """

    name = models.CharField("called", max_length=200)
    file = models.FileField(upload_to="pattern_drawings/")
    size_bytes = models.PositiveIntegerField()
    sha256 = models.CharField(max_length=64)
    kept_at = models.DateTimeField(default=timezone.now, editable=False)
    kept_by = models.ForeignKey("restoration.User", models.PROTECT, related_name="+")

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["sha256"],
                name="pattern_drawing_once",
                violation_error_message="This very drawing is kept already.",
            ),
            models.CheckConstraint(
                condition=Q(size_bytes__gt=0),
                name="pattern_drawing_not_empty",
                violation_error_message="The file is empty.",
            ),
        ]

    def __str__(self):
        return self.name
