from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower

from restoration.calc import label_sheet as calc
from timber_stock.web.typed import AsTyped


def _count(name: str) -> models.PositiveSmallIntegerField:
    most = calc.MOST_A_SIDE
    return models.PositiveSmallIntegerField(
        name, default=1, validators=[MinValueValidator(1), MaxValueValidator(most)]
    )


class LabelSheet(AsTyped):
    """Labels the yard buys, by their dimensions. A roll is a sheet of one label."""

    name = models.CharField(max_length=80)
    page_width_mm = models.FloatField("sheet or roll, width")
    page_height_mm = models.FloatField("sheet, height (of a roll: one label)")
    columns = _count("labels across")
    rows = _count("labels down")
    width_mm = models.FloatField("label, width")
    height_mm = models.FloatField("label, height")
    left_mm = models.FloatField("left margin", default=0)
    top_mm = models.FloatField("top margin", default=0)
    across_mm = models.FloatField("pitch across", default=0)
    down_mm = models.FloatField("pitch down", default=0)

    class Meta:
        ordering = [Lower("name")]
        constraints = [
            models.UniqueConstraint(
                Lower("name"),
                name="label_sheet_named_once",
                violation_error_message="Another label sheet has this name.",
            ),
            models.CheckConstraint(
                condition=Q(page_width_mm__gt=0, page_height_mm__gt=0)
                & Q(width_mm__gt=0, height_mm__gt=0)
                & Q(columns__gte=1, rows__gte=1),
                name="label_sheet_has_size",
                violation_error_message="A sheet and its labels must be more than nothing.",
            ),
        ]

    def __str__(self):
        return self.name

    def clean(self):
        names = ("page_width_mm", "page_height_mm", "width_mm", "height_mm", "columns", "rows")
        if any(getattr(self, name) is None for name in names):
            return  # said by the fields themselves
        try:
            self.laid_out()
        except ValueError as error:
            raise ValidationError(str(error)) from error

    def laid_out(self) -> calc.LabelSheet:
        """ValueError, in a sentence, where the labels do not fit the sheet."""
        names = [field.name for field in self._meta.fields if field.name.endswith("_mm")]
        return calc.LabelSheet(
            name=self.name,
            columns=self.columns,
            rows=self.rows,
            **{name: float(getattr(self, name) or 0) for name in names},
        )
