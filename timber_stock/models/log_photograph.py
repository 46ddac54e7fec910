from django.db import models
from django.db.models import Q


class LogEndShown(models.TextChoices):
    BUTT = "butt", "butt"
    TOP = "top", "top"
    OTHER = "other", "something else"


class LogPhotograph(models.Model):
    """A picture of a log, mostly of one end, with what a person has tapped on it.

    Places are fractions of the picture from its upper left corner. `bark_taps` are the bark at 12,
    3, 6 and 9 o'clock in this order, as one stands facing the end.
    """

    log = models.ForeignKey("timber_stock.Log", models.PROTECT, related_name="photographs")
    end = models.CharField("which end", max_length=5, choices=LogEndShown)
    image = models.FileField(upload_to="log_photographs/")
    thumbnail = models.FileField(upload_to="log_thumbnails/")
    width_px = models.PositiveIntegerField()
    height_px = models.PositiveIntegerField()
    sha256 = models.CharField(max_length=64)
    taken_at = models.DateTimeField(null=True, blank=True)
    kept_by = models.CharField("kept by", max_length=150, blank=True)
    heart_x = models.FloatField(null=True, blank=True)
    heart_y = models.FloatField(null=True, blank=True)
    bark_taps = models.JSONField(default=list, blank=True)

    class Meta:
        ordering = ["end", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(heart_x=None, heart_y=None)
                | Q(
                    heart_x__isnull=False,
                    heart_y__isnull=False,
                    heart_x__gte=0,
                    heart_x__lte=1,
                    heart_y__gte=0,
                    heart_y__lte=1,
                ),
                name="log_photograph_heart_on_it",
                violation_error_message="The heart is tapped on the picture itself.",
            ),
            models.UniqueConstraint(
                fields=["log", "sha256"],
                name="log_photograph_once",
                violation_error_message="This photograph is with the log already.",
            ),
        ]

    def __str__(self):
        return f"{self.log}: {self.get_end_display()}"
