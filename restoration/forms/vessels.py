from django import forms
from django.core.exceptions import ValidationError

from restoration import timber
from restoration.models import Client, Vessel
from timber_stock.web import pictures
from timber_stock.web.fields import LengthField
from timber_stock.web.forms import TradeModelForm
from timber_stock.web.kept_pictures import PhotographField

GROUPS = {
    "Who she is": ["name", "code", "vessel_type", "rig", "official_number", "sail_number"],
    "Whose she is": ["client", "new_client"],
    "Her building": ["designer", "builder", "built_year", "built_place"],
    "Her size": ["loa_mm", "lwl_mm", "beam_mm", "draught_mm"],
    "How she is put together": ["construction", "planking_wood", "fastening_metal", "note"],
    "Her picture": ["picture", "picture_caption", "without_picture"],
}
NOT_HER_OWN = {"new_client", "picture", "picture_caption", "without_picture"}


class VesselForm(TradeModelForm):
    new_client = forms.CharField(label="Or a new client: name", max_length=120, required=False)
    picture = PhotographField(
        label="Picture",
        required=False,
        widget=forms.FileInput(attrs={"accept": "image/*"}),
        help_text="A general view of her: it stands on her page and on the cover of her reports. "
        f"{pictures.ACCEPTED}, up to {pictures.LARGEST_FILE_MB} MB.",
    )
    picture_caption = forms.CharField(
        label="What it shows", required=False, max_length=200, help_text="Who took it, and when."
    )
    without_picture = forms.BooleanField(label="Take the picture off", required=False)
    loa_mm = LengthField(label="Length overall (LOA)", required=False)
    lwl_mm = LengthField(label="Waterline length (LWL)", required=False)
    beam_mm = LengthField(label="Beam", required=False)
    draught_mm = LengthField(label="Draught", required=False)

    class Meta:
        model = Vessel
        fields = [n for names in GROUPS.values() for n in names if n not in NOT_HER_OWN]

    def __init__(self, *args, **options):
        super().__init__(*args, **options)
        self.fields["client"].required = False
        self.fields["client"].help_text = "Choose one here, or name a new one beside it."
        self.fields["client"].empty_label = "choose a client"
        self.fields["planking_wood"].queryset = timber.woods()
        self.fields["planking_wood"].empty_label = "not known"
        self.fields["note"].widget.attrs["rows"] = 3
        self.fields["code"].widget.attrs["autocapitalize"] = "characters"
        has_picture = hasattr(self.instance, "picture") if self.instance.pk else False
        if has_picture:
            self.fields["picture"].label = "Another picture"
            self.fields["picture_caption"].initial = self.instance.picture.caption
        else:
            del self.fields["without_picture"]

    def groups(self) -> list:
        return [
            (title, [self[name] for name in names if name in self.fields])
            for title, names in GROUPS.items()
        ]

    def picture_said(self) -> dict:
        """What becomes of her picture."""
        return {
            "picture": self.cleaned_data["picture"],
            "caption": self.cleaned_data["picture_caption"],
            "without_picture": self.cleaned_data.get("without_picture", False),
        }

    def clean_code(self):
        return self.cleaned_data["code"].upper()

    def clean_new_client(self):
        name = self.cleaned_data["new_client"]
        if name and Client.objects.filter(name__iexact=name).exists():
            raise ValidationError(f"There is a client {name} already: choose them from the list.")
        return name

    def clean(self):
        cleaned = super().clean()
        if "new_client" in self.errors:
            return cleaned
        client, new = cleaned.get("client"), cleaned.get("new_client")
        if client and new:
            self.add_error("new_client", "Choose a client or name a new one, not both.")
        if not client and not new and "client" not in self.errors:
            self.add_error("client", "Choose her client, or name a new one.")
        return cleaned
