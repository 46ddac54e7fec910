from collections.abc import Collection

from django import forms

from restoration.calc import vocabulary
from timber_stock.web.days import day_said

CLASSES = {
    "": "all classes",
    "1+": "class 1 and worse",
    "2+": "class 2 and worse",
    "3": "class 3",
    "2": "class 2",
    "1": "class 1",
    "0": "class 0",
    "NE": "not examined",
    "none": "no finding yet",
}
WORSE = {"1+": ("1", "2", "3"), "2+": ("2", "3"), "none": ("",)}
REPLACEMENTS = {
    "": "any state",
    "to_replace": "to replace, not yet specified",
    "specified": "specified, no timber yet",
    "timber": "timber found",
    "fitted": "fitted",
    "none": "no replacement",
}
SIDES = {"P": "port in profile, starboard in plan", "S": "starboard in profile, port in plan"}
PARTS = {
    "": "all members",
    "backbone": "backbone",
    "transverse": "framing",
    "longitudinal": "longitudinals",
    "shell": "planking and ceiling",
    "deck": "deck",
}


class HullSheetForm(forms.Form):
    """What of the hull is shown, by what, and how close: all in the address of the page."""

    survey = forms.ModelChoiceField(queryset=None, required=False, empty_label="newest findings")
    condition = forms.ChoiceField(label="Class", choices=CLASSES, required=False)
    cause = forms.ChoiceField(required=False)
    replacement = forms.ChoiceField(choices=REPLACEMENTS, required=False)
    part = forms.ChoiceField(label="Part of the hull", choices=PARTS, required=False)
    side = forms.ChoiceField(label="Which side where", choices=SIDES, required=False)
    zoom = forms.CharField(required=False, max_length=1, widget=forms.HiddenInput)

    def __init__(self, *args, surveys, **options):
        super().__init__(*args, **options)
        self.fields["survey"].queryset = surveys
        self.fields["survey"].label_from_instance = lambda survey: (
            f"{day_said(survey.surveyed_on)}, {survey.place}"
        )
        named = [(code, cause.name) for code, cause in vocabulary.causes().items()]
        self.fields["cause"].choices = [("", "any cause"), *named]

    def said(self, name: str):
        """What was chosen; nothing where the address says something that is no choice."""
        self.is_valid()
        return self.cleaned_data.get(name) or None

    def wanted_classes(self) -> Collection[str] | None:
        chosen = self.said("condition")
        return WORSE.get(chosen, (chosen,)) if chosen else None

    def keeps(self, known) -> bool:
        """Whether a member, with what is known of it, is among those asked for."""
        classes, cause = self.wanted_classes(), self.said("cause")
        replacement, part = self.said("replacement"), self.said("part")
        return (
            (classes is None or known.condition in classes)
            and (cause is None or cause in known.causes)
            and (replacement is None or known.replacement == replacement)
            and (part is None or known.member.group() == part)
        )

    def is_filtered(self) -> bool:
        return any(self.said(name) for name in ("condition", "cause", "replacement", "part"))

    def in_words(self) -> str:
        """The filters as a line for the title block."""
        names = ("condition", "cause", "replacement", "part")
        chosen = [dict(self.fields[name].choices)[self.said(name)] for name in names
                  if self.said(name)]  # fmt: skip
        return "; ".join(chosen)
