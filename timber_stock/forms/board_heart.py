from django.core.exceptions import ValidationError

from timber_stock.models import Board
from timber_stock.web.fields import PlaceField, format_for
from timber_stock.web.forms import TradeModelForm
from timber_stock.wood.rings import heart_clearance_mm
from timber_stock.wood.section_sheet import centred_mm

ALONG = "right of the middle of the width; to the left with a minus"
ACROSS = "up from the middle of the thickness; down with a minus"
WIDEST_MM = 4000.0
"""No heart lies farther from its own wood than the widest log is across."""


class HeartForm(TradeModelForm):
    """Where the heart lies, from the middle of the section, as one faces the butt."""

    butt_heart_across_mm = PlaceField(label="At the butt, right", required=False, help_text=ALONG)
    butt_heart_off_mm = PlaceField(label="At the butt, up", required=False, help_text=ACROSS)
    top_heart_across_mm = PlaceField(label="At the top, right", required=False, help_text=ALONG)
    top_heart_off_mm = PlaceField(label="At the top, up", required=False, help_text=ACROSS)

    class Meta:
        model = Board
        fields = [
            "butt_heart_across_mm", "butt_heart_off_mm", "top_heart_across_mm", "top_heart_off_mm",
        ]  # fmt: skip

    def __init__(self, *args, units="imperial", **options):
        super().__init__(*args, units=units, **options)
        self.units = units

    def clean(self):
        super().clean()
        for end in ("butt", "top"):
            place = tuple(
                self.cleaned_data.get(f"{end}_heart_{way}_mm") for way in ("across", "off")
            )
            if None not in place:
                self._require_in_log(end, place)
        return self.cleaned_data

    def _require_in_log(self, end: str, place: tuple[float, float]) -> None:
        """Section and heart lie in one log, so they are nearer each other than it is across."""
        board = self.instance
        away = heart_clearance_mm(centred_mm(board.width_mm, board.thickness_mm), place)
        across = max(board.log.across(end)) if board.log else WIDEST_MM
        if away >= across:
            log = f"log {board.log.tag}" if board.log else "any log"
            raise ValidationError(
                {
                    f"{end}_heart_off_mm": f"The heart at the {end} would lie "
                    f"{format_for(away, self.units)} from the board, outside {log}, which is "
                    f"{format_for(across, self.units)} across at most."
                }
            )

    def changed_fields(self):
        return {*self._meta.fields, "as_typed"}
