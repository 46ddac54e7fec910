from django.db import models


class WantedTimber(models.Model):
    """A line of a cutting list that was drawn from a replacement: the thread before any log."""

    spec = models.ForeignKey(
        "restoration.ReplacementSpec", models.PROTECT, related_name="wanted_timbers"
    )
    item = models.OneToOneField("timber_stock.CuttingItem", models.PROTECT, related_name="+")
    drawn_on = models.DateField("drawn on", auto_now_add=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return f"{self.item} for {self.spec}"
