"""A photograph of a log's end: sent, tapped, and what the taps propose confirmed."""

import math

from django import forms

from timber_stock.models import LogEndShown, LogPhotograph
from timber_stock.sawing.heart_from_taps import heart_from_taps
from timber_stock.web import pictures
from timber_stock.web.fields import ClockField, LengthField
from timber_stock.web.forms import PlainForm
from timber_stock.web.kept_pictures import PhotographField

# A name of figures alone would be taken by a script for the number of a field.
TAPS = ("heart", "at_12", "at_3", "at_6", "at_9")
TAP_WORDS = {
    "heart": "the heart",
    "at_12": "the edge at 12 o'clock",
    "at_3": "the edge at 3 o'clock",
    "at_6": "the edge at 6 o'clock",
    "at_9": "the edge at 9 o'clock",
}


class PhotographForm(PlainForm):
    end = forms.ChoiceField(label="It shows", choices=LogEndShown, widget=forms.RadioSelect)
    photograph = PhotographField(
        label="Photograph",
        widget=forms.FileInput(attrs={"accept": "image/*", "capture": "environment"}),
        help_text=f"{pictures.ACCEPTED}, up to {pictures.LARGEST_FILE_MB} MB. Stand square to the "
        "end, with the side that is up at the top of the picture.",
    )


class TapsForm(PlainForm):
    """Five places on the picture, each "x,y" as shares of it."""

    def __init__(self, *args, photograph: LogPhotograph, **options):
        super().__init__(*args, **options)
        self.photograph = photograph
        for name, place in zip(TAPS, kept_taps(photograph), strict=True):
            self.fields[name] = forms.CharField(
                label=TAP_WORDS[name].capitalize(),
                max_length=40,
                widget=forms.HiddenInput,
                required=False,
                initial=f"{place[0]:.4f},{place[1]:.4f}" if place else "",
            )

    def clean(self):
        cleaned = super().clean()
        places = [_place(cleaned.get(name) or "") for name in TAPS]
        if None in places:
            missing = TAP_WORDS[TAPS[places.index(None)]]
            raise forms.ValidationError(f"Tap {missing} on the picture.")
        proposed_heart(self.photograph, places)  # refused here if they tell nothing
        self.photograph.heart_x, self.photograph.heart_y = places[0]
        self.photograph.bark_taps = [list(place) for place in places[1:]]
        return cleaned


def kept_taps(photograph: LogPhotograph) -> list[tuple[float, float] | None]:
    heart = None
    if photograph.heart_x is not None:
        heart = (photograph.heart_x, photograph.heart_y)
    bark = [tuple(place) for place in photograph.bark_taps] or [None] * 4
    return [heart, *bark]


def proposed_heart(photograph: LogPhotograph, places) -> tuple[float, float]:
    """Offset in mm and clock in hours, by the taps and the log's diameters at that end."""
    if photograph.end not in ("butt", "top"):
        raise forms.ValidationError("Only a picture of the butt or the top shows the heart.")
    size = photograph.width_px, photograph.height_px
    heart, *bark = [_in_pixels(place, size) for place in places]
    try:
        return heart_from_taps(heart, bark, photograph.log.across(photograph.end))
    except ValueError as error:
        raise forms.ValidationError(str(error)) from error


class HeartForm(PlainForm):
    offset_mm = LengthField(label="Heart off the middle", required=False)
    clock = ClockField(label="Towards, o'clock", required=False)

    def clean_offset_mm(self):
        return self.cleaned_data["offset_mm"] or 0.0


def _place(text: str) -> tuple[float, float] | None:
    try:
        x, y = (float(part) for part in text.split(","))
    except ValueError:
        return None
    inside = math.isfinite(x + y) and 0 <= x <= 1 and 0 <= y <= 1
    return (x, y) if inside else None


def _in_pixels(place: tuple[float, float], size: tuple[int, int]) -> tuple[float, float]:
    return place[0] * size[0], place[1] * size[1]
