from django.db import models
from django.db.models import Q


class PaperKind(models.TextChoices):
    FELLING = "felling", "felling note or licence"
    INVOICE = "invoice", "invoice or delivery note"
    ORIGIN = "origin", "certificate of the wood it grew in"
    PERMIT = "permit", "permit for a protected species"
    PHOTOGRAPH = "photograph", "photograph"
    OTHER = "other", "other paper"


class LogPaper(models.Model):
    """A paper that goes with a log, as a file kept as it was sent in; `sha256` is of its bytes."""

    log = models.ForeignKey("timber_stock.Log", models.PROTECT, related_name="papers")
    kind = models.CharField("what it is", max_length=12, choices=PaperKind)
    title = models.CharField("called", max_length=120)
    dated_on = models.DateField("dated", null=True, blank=True)
    file = models.FileField(upload_to="log_papers/")
    content_type = models.CharField(max_length=40)
    size_bytes = models.PositiveIntegerField()
    sha256 = models.CharField(max_length=64)
    kept_on = models.DateField("kept on")
    kept_by = models.CharField("kept by", max_length=150)

    class Meta:
        ordering = ["dated_on", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["log", "sha256"],
                name="log_paper_once",
                violation_error_message="This very file is with the log already.",
            ),
            models.CheckConstraint(
                condition=Q(size_bytes__gt=0),
                name="log_paper_not_empty",
                violation_error_message="The file is empty.",
            ),
        ]

    def __str__(self):
        return self.title

    def is_picture(self):
        return self.content_type.startswith("image/")
