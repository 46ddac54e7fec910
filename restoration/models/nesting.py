from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.urls import reverse
from django.utils import timezone

from restoration.calc.nesting_data import sheet_from_data
from restoration.calc.nesting_pieces import HANDS, STEEPEST_GRAIN_DEG, WIDEST_GAP_MM, Piece
from restoration.calc.nesting_places import Place
from restoration.calc.nesting_search import Request
from restoration.calc.nesting_sheet import Sheet


class LayoutQuerySet(models.QuerySet):
    def for_list(self):
        counted = self.select_related("board__species", "by").annotate(
            wanted=models.Count("pieces"),
            laid=models.Count("pieces", filter=Q(pieces__x_mm__isnull=False)),
        )
        return counted.order_by("-laid_out_at", "-pk")  # counting loses the usual order

    def kept(self):
        return self.filter(kept_on__isnull=False)


class Layout(models.Model):
    """Pieces laid out on the face of one flitch or board.

    `sheet` is what `restoration.calc.nesting_data` keeps: the face as it was measured on the day,
    for a board's record holds no edges and no defects. A kept layout is moved no more.
    """

    board = models.ForeignKey("timber_stock.Board", models.PROTECT, related_name="+")
    sheet = models.JSONField(editable=False)
    gap_mm = models.FloatField(
        "gap between pieces", validators=[MinValueValidator(0), MaxValueValidator(WIDEST_GAP_MM)]
    )
    grain_deg = models.FloatField(
        "off the grain at most, degrees",
        validators=[MinValueValidator(0), MaxValueValidator(STEEPEST_GRAIN_DEG)],
    )
    steps = models.PositiveIntegerField(default=0, editable=False)
    note = models.CharField(max_length=200, blank=True)
    laid_out_at = models.DateTimeField(default=timezone.now, editable=False)
    by = models.ForeignKey("restoration.User", models.PROTECT, related_name="+", editable=False)
    kept_on = models.DateField(null=True, blank=True, editable=False)
    kept_by = models.ForeignKey(
        "restoration.User", models.PROTECT, null=True, blank=True, related_name="+", editable=False
    )

    objects = LayoutQuerySet.as_manager()

    class Meta:
        ordering = ["-laid_out_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(kept_on=None, kept_by=None)
                | Q(kept_on__isnull=False, kept_by__isnull=False),
                name="layout_kept_by_someone",
                violation_error_message="Say both when a layout was kept and by whom.",
            ),
            models.CheckConstraint(
                condition=Q(gap_mm__gte=0, gap_mm__lte=WIDEST_GAP_MM),
                name="layout_gap_within_reason",
                violation_error_message=f"The gap between pieces is nothing to "
                f"{WIDEST_GAP_MM:g} mm.",
            ),
            models.CheckConstraint(
                condition=Q(grain_deg__gte=0, grain_deg__lte=STEEPEST_GRAIN_DEG),
                name="layout_grain_0_to_45",
                violation_error_message="The grain may lie from 0 to 45 degrees off a piece.",
            ),
        ]

    def __str__(self):
        return f"Layout {self.pk} of {self.board}"

    def get_absolute_url(self):
        return reverse("restoration:layout", args=[self.pk])

    def clean(self):
        try:
            sheet_from_data(self.sheet)
        except ValueError as error:
            raise ValidationError(str(error)) from error

    def face(self) -> Sheet:
        return sheet_from_data(self.sheet)

    def request(self) -> Request:
        """What is laid out on what, as the search and the judge want it."""
        pieces = tuple(piece.as_piece(self.grain_deg) for piece in self.pieces.all())
        return Request(self.face(), pieces, self.gap_mm)

    def places(self) -> tuple[Place, ...]:
        found = (piece.place() for piece in self.pieces.all())
        return tuple(place for place in found if place is not None)


def hands() -> list[tuple[str, str]]:
    return list(HANDS.items())


class LaidPiece(models.Model):
    """One piece of a layout, and where it lies; one that was left out lies nowhere.

    The outline is kept as it was when it was laid out: a pattern's next version changes no layout.
    """

    layout = models.ForeignKey(Layout, models.CASCADE, related_name="pieces")
    key = models.CharField(max_length=40)
    label = models.CharField(max_length=120)
    spec = models.ForeignKey(
        "restoration.ReplacementSpec", models.PROTECT, null=True, blank=True,
        related_name="laid_pieces",
    )  # fmt: skip
    pattern = models.ForeignKey(
        "restoration.Pattern", models.PROTECT, null=True, blank=True, related_name="laid_pieces"
    )
    outline = models.JSONField(editable=False)
    sided_mm = models.FloatField("sided")
    hand = models.CharField(max_length=10, choices=hands, default="either")
    sapwood_allowed = models.BooleanField(default=False)
    x_mm = models.FloatField("middle from the butt", null=True, blank=True)
    y_mm = models.FloatField("middle from the chalk line", null=True, blank=True)
    angle_deg = models.FloatField("turned, degrees", null=True, blank=True)
    mirrored = models.BooleanField("turned over", default=False)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                F("layout"), F("key"), name="laid_piece_key_once",
                violation_error_message="Two pieces of one layout have the same key.",
            ),
            models.CheckConstraint(
                condition=Q(x_mm=None, y_mm=None, angle_deg=None)
                | Q(x_mm__isnull=False, y_mm__isnull=False, angle_deg__isnull=False),
                name="laid_piece_lies_somewhere_or_nowhere",
                violation_error_message="Where a piece lies is told along, across and by its turn.",
            ),
            models.CheckConstraint(
                condition=Q(sided_mm__gt=0),
                name="laid_piece_sided_real",
                violation_error_message="The siding must be more than nothing.",
            ),
        ]  # fmt: skip

    def __str__(self):
        return self.label

    def as_piece(self, grain_deg: float) -> Piece:
        return Piece(
            self.key,
            self.label,
            tuple((float(x), float(y)) for x, y in self.outline),
            self.sided_mm,
            turn_deg=grain_deg,
            hand=self.hand,
            sapwood_allowed=self.sapwood_allowed,
        )

    def place(self) -> Place | None:
        if self.x_mm is None:
            return None
        return Place(self.key, self.x_mm, self.y_mm, self.angle_deg, self.mirrored)
