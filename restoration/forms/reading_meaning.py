"""What must be known beside a reading before it means anything; asked, and not kept."""

from django import forms

from restoration.calc import bolt_loss, section_loss
from restoration.models.finding import ReadingKind
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import PlainForm

NOT_KNOWN = ("", "not known")


def metal_choices() -> list:
    metals = bolt_loss.fastening_metals().values()
    return [NOT_KNOWN, *((metal.code, metal.name) for metal in metals)]


def thread_choices() -> list:
    return [("", "none, or wasted too"), *((name, name) for name in bolt_loss.standard_threads())]


class ReadingMeaningForm(PlainForm):
    face = forms.ChoiceField(
        label="Probed or drilled from the face",
        choices=[(face, face) for face in section_loss.FACES],
    )
    soft_from_mm = LengthField(
        label="Drilled: soft wood begins at",
        required=False,
        help_text="It ends at the depth read. Left empty, all is soft from the face to there.",
    )
    soft_width_mm = LengthField(
        label="How wide the soft wood is",
        required=False,
        help_text="Your estimate, about the middle of the face. Left empty, it is soft right "
        "across.",
    )
    bolt_mm = LengthField(label="Diameter of the bolt when new", required=False)
    metal = forms.ChoiceField(label="Metal of the bolt", choices=metal_choices, required=False)
    thread = forms.ChoiceField(
        label="Thread that is still whole", choices=thread_choices, required=False
    )
    temperature_c = forms.FloatField(label="Temperature of the wood, °C", required=False)
    treated = forms.BooleanField(label="Treated with a water-borne preservative", required=False)
    sound_ph = forms.FloatField(
        label="pH of sound wood 150 mm away", min_value=0, max_value=14, required=False
    )

    ASKED_FOR = {
        ReadingKind.PROBE: ["face", "soft_from_mm", "soft_width_mm"],
        ReadingKind.BOLT: ["bolt_mm", "metal", "thread"],
        ReadingKind.MOISTURE: ["temperature_c", "treated"],
        ReadingKind.PH: ["sound_ph"],
    }

    def __init__(self, *args, kinds: set[str], **options):
        """Asks only what the kinds of reading there are leave open."""
        super().__init__(*args, **options)
        asked = [name for kind, names in self.ASKED_FOR.items() if kind in kinds for name in names]
        self.fields = {name: self.fields[name] for name in self.fields if name in asked}
