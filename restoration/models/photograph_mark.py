from django.core.exceptions import ValidationError
from django.db import models
from django.utils import timezone

from restoration.calc import picture_marks


class MarkKind(models.TextChoices):
    ARROW = "arrow", "arrow"
    RING = "ring", "ring"
    NOTE = "note", "note"
    SCALE = "scale", "scale bar"


class PhotographMark(models.Model):
    """Something pointed out on a photograph, kept beside it: the picture itself stays as taken."""

    photograph = models.ForeignKey("restoration.Photograph", models.CASCADE, related_name="marks")
    kind = models.CharField(max_length=10, choices=MarkKind)
    points = models.JSONField()  # fractions of the picture, see `picture_marks`
    text = models.CharField(max_length=200, blank=True)
    made_by = models.ForeignKey("restoration.User", models.PROTECT, related_name="+")
    made_at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return f"{self.get_kind_display()} {self.text}".strip()

    def clean(self):
        try:
            self.as_mark()
        except (ValueError, TypeError) as error:
            raise ValidationError(str(error)) from error

    def as_mark(self) -> picture_marks.PictureMark:
        return picture_marks.picture_mark(self.kind, self.points, self.text)
