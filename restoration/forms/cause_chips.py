"""Causes to tap: each becomes a cause suspected, unless a row of the form says more of it."""

import re
from dataclasses import dataclass

from django import forms

from restoration.calc import vocabulary
from restoration.models import FindingCause
from restoration.models.finding import Certainty

AT_ONCE = 8


@dataclass(frozen=True)
class Chip:
    code: str
    name: str
    chosen: bool


class SuspectedField(forms.MultipleChoiceField):
    widget = forms.CheckboxSelectMultiple

    def __init__(self):
        named = [(code, cause.name) for code, cause in vocabulary.causes().items()]
        super().__init__(label="Causes suspected", choices=named, required=False)


def chips(form: forms.Form, codes) -> tuple[list[Chip], list[Chip]]:
    """Those shown at once, and the others; in the order of the codes, chosen ones in view."""
    chosen = set(form["suspected"].value() or ())
    made = [Chip(code, short_name(code), code in chosen) for code in codes]
    at_once = [chip for n, chip in enumerate(made) if n < AT_ONCE or chip.chosen]
    return at_once, [chip for chip in made if chip not in at_once]


def short_name(code: str) -> str:
    """The name without what is explained in brackets or after a dash."""
    return re.sub(r" \([^)]*\)", "", vocabulary.cause(code).name.partition(" - ")[0])


def suspected(codes, rows: list[FindingCause]) -> list[FindingCause]:
    said = {row.cause for row in rows}
    return [
        FindingCause(cause=code, certainty=Certainty.SUSPECTED)
        for code in codes
        if code not in said
    ]
