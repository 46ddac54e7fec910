"""The figures of a wood: the published ones with the yard's own laid over them."""

from collections.abc import Iterable
from types import MappingProxyType

from django.core.exceptions import ValidationError
from django.db import models
from django.utils import timezone

from timber_stock.wood import species as published
from timber_stock.wood.figures import KINDS
from timber_stock.wood.heaviness import held_moisture
from timber_stock.wood.species import Figure
from timber_stock.wood.yard_figures import OWN, laid_over, own_figure

from .species import Species


class WoodFigure(models.Model):
    """A figure of the yard's own for a wood. No update of the published ones touches it."""

    species = models.ForeignKey(Species, models.CASCADE, related_name="own_figures")
    kind = models.CharField("which figure", max_length=40)
    value = models.CharField(max_length=60)
    source = models.CharField("where it comes from", max_length=300)
    entered_by = models.CharField("entered by", max_length=150)
    entered_on = models.DateField("entered on", default=timezone.localdate)

    class Meta:
        ordering = ["kind"]
        constraints = [
            models.UniqueConstraint(
                "species",
                "kind",
                name="one_own_figure_of_a_kind",
                violation_error_message="The yard has a figure of this kind for this wood already.",
            ),
            models.CheckConstraint(
                condition=~models.Q(source="") & ~models.Q(value=""),
                name="own_figure_says_where_from",
                violation_error_message="A figure says where it comes from.",
            ),
        ]

    def __str__(self):
        return f"{self.species}: {self.kind} {self.value}"

    def clean(self):
        if len((self.source or "").split()) < 2:
            raise ValidationError(
                {"source": "Say in a sentence where it comes from: who found it, on what, and how."}
            )
        try:
            figure = own_figure(self.kind, self.value, self.source)
        except ValueError as error:
            raise ValidationError({"value": str(error)}) from error
        self.value = self.value.strip() if KINDS[self.kind].is_word else f"{figure.value:.10g}"
        self._check_water_fits(figure)

    def as_figure(self) -> Figure:
        """What was kept, as it was kept: an update may narrow what is believed, not what is."""
        kind = KINDS[self.kind]
        value = self.value if kind.is_word else float(self.value)
        source = self.source if self.source.endswith((".", "!", "?")) else f"{self.source}."
        return Figure(kind.name, kind.label, value, kind.unit, OWN, source)

    def _check_water_fits(self, figure: Figure):
        if figure.name not in ("green_heartwood_percent", "green_sapwood_percent"):
            return
        try:
            held_moisture(figures_of(self.species), float(figure.value), figure.label.capitalize())
        except ValueError as error:
            raise ValidationError({"value": str(error)}) from error


def published_wood(wood: Species) -> published.Species:
    """What is published of a wood; a wood of the yard's own has no figures but the yard's."""
    known = None if wood.is_ours else published.all_species().get(wood.code)
    if known:
        return known
    return published.Species(
        wood.code, wood.botanical_name, wood.common_name, wood.group, MappingProxyType({})
    )


def figures_of(wood: Species) -> published.Species:
    """A wood with every figure known of it, the yard's own before the published.

    Each figure has its value, unit, standing and source. Whoever shows many woods prefetches
    `own_figures` first.
    """
    return laid_over(published_wood(wood), _own(wood.own_figures.all()))


def _own(kept: Iterable[WoodFigure]) -> list[Figure]:
    return [figure.as_figure() for figure in kept if figure.kind in KINDS]
