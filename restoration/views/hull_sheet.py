from django.shortcuts import get_object_or_404, render

from restoration.forms.hull_sheet import CLASSES, HullSheetForm
from restoration.models import Vessel
from restoration.views.hull_drawing import Shown, draw
from restoration.views.hull_sizes import size_of, sizes
from restoration.views.hull_state import Known, in_words, known_of, piece_of
from timber_stock.web.days import day_said
from timber_stock.web.pages import own_units

STATES = ("", "0", "1", "2", "3", "NE")
STAND_OUT = ("3", "2", "1", "NE")


def hull_sheet(request, vessel_id):
    vessel = get_object_or_404(Vessel.objects.select_related("hull_lines"), pk=vessel_id)
    form = HullSheetForm(request.GET, surveys=vessel.surveys.newest_first())
    known = known_of(vessel, form.said("survey"))
    kept = [each for each in known if form.keeps(each)]
    context = {
        "vessel": vessel,
        "form": form,
        "count": len(known),
        "kept": kept,
        "filtered": form.is_filtered(),
        "sizes": sizes(request, kept[0].member.pk if kept and form.is_filtered() else None),
        **draw(vessel, _shown(request, form, known, kept), own_units(request)),
    }
    return render(request, "restoration/hull_sheet.html", context)


def _shown(request, form: HullSheetForm, known: list[Known], kept: list[Known]) -> Shown:
    keys = {each.member.pk for each in kept}
    survey, filters = form.said("survey"), form.in_words()
    day = f"survey of {day_said(survey.surveyed_on)}" if survey else "newest findings"
    return Shown(
        pieces=[_piece(each, faint=each.member.pk not in keys) for each in known],
        heading=f"Hull sheet: {day}" + (f"; {filters}" if filters else ""),
        legend=_legend(),
        listed=_listed(kept),
        near=form.said("side") or "P",
        size=size_of(request),
    )


def _legend() -> list[tuple[str, str, str]]:
    classes = [
        (state, state or "–", in_words(state).partition(", ")[2] or in_words(state))
        for state in STATES
    ]
    return [*classes, ("right", "new", "replaced since")]


def _piece(each: Known, faint: bool):
    """What was replaced since it was found bad is drawn as new; its finding stays to be read."""
    state, badge = ("right", "new") if each.fitted_on else (each.condition, each.condition)
    return piece_of(each.member, state=state, badge=badge, title=each.in_words(), faint=faint)


def _listed(kept: list[Known]) -> list[tuple[str, tuple[str, ...]]]:
    standing = [each for each in kept if not each.fitted_on]
    return [
        (CLASSES[state].upper(), tuple(e.member.mark for e in standing if e.condition == state))
        for state in STAND_OUT
    ]
