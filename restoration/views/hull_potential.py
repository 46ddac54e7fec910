"""A potential read on a hull, beside the metals that meet in one of her members."""

from restoration.calc import protection
from restoration.forms.hull_potential import PotentialForm

IN_BAND = {
    "": "",
    "inside": "It lies inside the band you gave.",
    "above": "It lies above the band you gave: less negative.",
    "below": "It lies below the band you gave: more negative.",
}


def potential_read(asked, shown: dict) -> dict:
    """For the template: the form, and what is said of the reading once there is one.

    shown: what `metals_of` gives; where no two metals meet there is nothing to hold it against.
    """
    if "series" not in shown:
        return {}
    series = shown["series"]
    named = [(metal.code, metal.name) for metal, _ in shown["held"]]
    form = PotentialForm(asked if "reading_v" in asked else None, metals=named)
    context = {
        "potential_form": form,
        "potential_caution": protection.CAUTION,
        "zinc_cell_doubt": protection.ZINC_CELL_DOUBT,
    }
    if form.is_bound and form.is_valid():
        said = form.cleaned_data
        read = protection.judge_reading(said["reading_of"], said["reading_v"], series, form.band())
        context |= {"potential": read, "potential_band": IN_BAND[read.typed_band]}
    return context
