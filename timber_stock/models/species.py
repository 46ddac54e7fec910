from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower
from django.urls import reverse


class SpeciesQuerySet(models.QuerySet):
    def by_common_name(self):
        return self.order_by(Lower("common_name"))

    def matching(self, text):
        return self.filter(Q(botanical_name__icontains=text) | Q(common_name__icontains=text))

    def with_own_figures(self):
        """Read with them once, so that a list needs no query a row."""
        return self.prefetch_related("own_figures")


class Species(models.Model):
    """A wood by its botanical name. The figures that go with it are in `timber_stock.wood`."""

    code = models.SlugField(max_length=60, unique=True)
    botanical_name = models.CharField(max_length=120)
    common_name = models.CharField(max_length=120)
    group = models.CharField(
        max_length=10, choices={"hardwood": "hardwood", "softwood": "softwood"}
    )
    is_ours = models.BooleanField("added by the yard", default=True)
    source = models.TextField(blank=True)

    objects = SpeciesQuerySet.as_manager()

    class Meta:
        ordering = ["common_name"]
        verbose_name = "wood"
        verbose_name_plural = "woods"

    def __str__(self):
        return f"{self.common_name} ({self.botanical_name})"

    def get_absolute_url(self):
        return reverse("timber_stock:wood", args=[self.pk])
