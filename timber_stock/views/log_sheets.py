"""The log sheet: measuring a log, its defects, and all it holds and weighs by every rule."""

from dataclasses import dataclass

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect, render

from timber_stock.actions import keep_log
from timber_stock.forms.log_sheet import LogDefectForm, LogSheetForm
from timber_stock.models import Defect, Log, LogDefect, figures_of
from timber_stock.models.weights import balance_of_log_mm, weights_of_log
from timber_stock.sawing.log_volume import RULES
from timber_stock.templatetags.measures import Scaled, volume_by
from timber_stock.views.log_ends import drawn_ends
from timber_stock.web.pages import own_units
from timber_stock.wood import slings
from timber_stock.wood.weights import GREEN_ALLOWANCE_PERCENT, LIFTING_CAUTION


@dataclass(frozen=True)
class Lift:
    """The green weight with the allowance, and what each of two legs carries as they lean."""

    kg: float
    moisture: str
    with_allowance_kg: float
    legs: list[tuple[float, float]]


def log_sheet(request, pk):
    log = get_object_or_404(Log.objects.for_list(), pk=pk)
    wood = figures_of(log.species)
    states = weights_of_log(log, wood)
    context = {
        "log": log,
        "ends": drawn_ends(log, own_units(request)),
        "volumes": _volumes(log),
        "green": states[0] if states else None,
        "lift": _lift(states),
        "balance": balance_of_log_mm(log),
        "allowance": GREEN_ALLOWANCE_PERCENT,
        "caution": LIFTING_CAUTION,
        "slings": slings,
        "defects": log.defects.all(),
        "photographs": log.photographs.all(),
    }
    return render(request, "timber_stock/log_sheet.html", context)


def log_measure(request, pk):
    log = get_object_or_404(Log, pk=pk)
    form = LogSheetForm(request.POST or None, instance=log, units=own_units(request))
    if request.method == "POST" and form.is_valid():
        try:
            log = keep_log(log=form.save(commit=False))
        except ValidationError as error:
            form.add_error(None, list(error.messages))
        else:
            messages.success(request, f"Log {log.tag} is measured.")
            return redirect("timber_stock:log_sheet", pk)
    context = {"form": form, "log_id": pk, "tag": Log.objects.get(pk=pk).tag}
    status = 422 if form.is_bound else 200
    return render(request, "timber_stock/log_measure.html", context, status=status)


def log_defect_new(request, log_id):
    log = get_object_or_404(Log, pk=log_id)
    form = LogDefectForm(
        request.POST or None,
        instance=LogDefect(log=log, kind=Defect.KNOT),
        units=own_units(request),
    )
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, f"The {form.instance.get_kind_display()} is on the sheet.")
        return redirect("timber_stock:log_sheet", log_id)
    context = {"form": form, "log": log}
    status = 422 if form.is_bound else 200
    return render(request, "timber_stock/log_defect_form.html", context, status=status)


def log_defect_delete(request, pk):
    defect = get_object_or_404(LogDefect.objects.select_related("log"), pk=pk)
    if request.method == "POST":
        defect.delete()
        messages.success(request, f"The {defect.get_kind_display()} is off the sheet.")
        return redirect("timber_stock:log_sheet", defect.log_id)
    return render(request, "timber_stock/log_defect_delete.html", {"defect": defect})


def _volumes(log: Log) -> list[tuple[Scaled, float | None]]:
    """By every rule, and how far a true volume lies from the even taper, in percent."""
    true = log.true_solid_mm3()
    rows = []
    for name, rule in RULES.items():
        scaled = volume_by(log, name)
        off = None
        if scaled.text and rule.unit == "mm3":
            off = 100 * (scaled.amount / true - 1)
        rows.append((scaled, off))
    return rows


def _lift(states) -> Lift | None:
    if not states or states[0].kg is None:
        return None
    green = states[0]
    heavy = green.kg * (1 + GREEN_ALLOWANCE_PERCENT / 100)
    legs = [(angle, slings.leg_tension_kg(heavy, angle)) for angle in slings.ANGLES_DEG]
    return Lift(green.kg, green.moisture, heavy, legs)
