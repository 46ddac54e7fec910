"""The butts of one side held against the published rules: nothing kept, all in the address."""

from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, render

from restoration.calc import plank_rules, published_rules
from restoration.forms.plank_butts import ButtsForm
from restoration.models import Vessel
from timber_stock.web.pages import own_units

PAGE = "restoration/plank_butts.html"


def plank_butts(request, vessel_id):
    vessel = get_object_or_404(Vessel, pk=vessel_id)
    asked = request.GET if "butts" in request.GET else None
    form = ButtsForm(asked, units=own_units(request))
    context = {
        "vessel": vessel,
        "form": form,
        "conflicts": plank_rules.CONFLICTS,
        "rules_caution": published_rules.CAUTION,
    }
    if form.is_bound and form.is_valid():
        try:
            context |= _held(form, vessel)
        except ValueError as error:
            form.add_error(None, ValidationError(str(error)))
    return render(request, PAGE, context, status=422 if form.errors else 200)


def _held(form: ButtsForm, vessel: Vessel) -> dict:
    """The bulletin's rules, those broken first; and the other yardsticks by their names."""
    said, frames = form.cleaned_data, form.frames_mm()
    checks = plank_rules.check_butts(
        said["butts"], frames, said["sided_mm"], usual_spacing=not said["unusual"]
    )
    others = plank_rules.check_butts_old_yacht(said["butts"])
    if vessel.construction == "clinker":
        others += plank_rules.check_joints_clinker(said["butts"], frames)
    return {
        "held": True,
        "count": len(said["butts"]),
        "checks": sorted(checks, key=lambda check: check.kept is not False),
        "broken": sum(check.kept is False for check in checks),
        "others": [check for check in others if check.kept is False],
    }
