from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_POST

from timber_stock.actions import delete_climate, keep_climate
from timber_stock.drawings.climate_plot import climate_plot_svg
from timber_stock.forms.climate import ClimateForm, ServiceForm
from timber_stock.models import Climate, OwnServiceMoisture, service_moistures
from timber_stock.web.pages import signed_by
from timber_stock.wood.durability import decay_risk
from timber_stock.wood.moisture import (
    WET_CAUTION,
    equilibrium_cautions,
    equilibrium_moisture_percent,
    equilibrium_moisture_percent_f,
    outdoor_years,
)
from timber_stock.wood.service import PLACES
from timber_stock.wood.temperature import fahrenheit_from_celsius


def climates(request):
    """One place and its year at a time, the stock's own unless another is asked for."""
    places = list(Climate.objects.with_months())
    asked = request.GET.get("place", "")
    shown = next((c for c in places if str(c.pk) == asked), places[0] if places else None)
    context = {
        "places": places,
        "shown": shown,
        "service": _service_rows(),
        "wet_caution": WET_CAUTION,
        "outdoor_years": outdoor_years(),
        **(_year(shown) if shown else {}),
    }
    return render(request, "timber_stock/climates.html", context)


def climate_new(request):
    climate = Climate(is_default=not Climate.objects.exists())
    return _keep(request, ClimateForm(request.POST or None, instance=climate), "A climate")


def climate_edit(request, pk):
    climate = get_object_or_404(Climate.objects.with_months(), pk=pk)
    return _keep(request, ClimateForm(request.POST or None, instance=climate), climate.place)


def climate_delete(request, pk):
    climate = get_object_or_404(Climate, pk=pk)
    others, refused = Climate.objects.exclude(pk=pk), []
    if request.method == "POST":
        try:
            delete_climate(climate=climate)
        except ValidationError as error:
            refused = error.messages
        else:
            messages.success(request, f"The climate of {climate.place} is left out.")
            return redirect("timber_stock:climates")
    context = {"climate": climate, "others": others, "refused": refused}
    status = 422 if refused else 200
    return render(request, "timber_stock/climate_delete.html", context, status=status)


def service_set(request, place):
    assumed = _place(place)
    kept = OwnServiceMoisture.objects.filter(place=place).first()
    start = {
        f"{name}_percent": f"{getattr(assumed, f'{name}_percent'):g}"
        for name in ("expected", "least", "greatest")
    }
    form = ServiceForm(
        request.POST or None,
        instance=kept or OwnServiceMoisture(place=place),
        initial=None if kept else start,
    )
    if request.method == "POST" and form.is_valid():
        form.instance.entered_by = signed_by(request)
        form.instance.entered_on = timezone.localdate()
        form.save()
        messages.success(request, f"The yard's own moisture counts now: {assumed.place}.")
        return redirect("timber_stock:climates")
    context = {"form": form, "assumed": assumed, "key": place, "kept": kept}
    status = 422 if form.is_bound else 200
    return render(request, "timber_stock/service_form.html", context, status=status)


@require_POST
def service_clear(request, place):
    assumed = _place(place)
    if OwnServiceMoisture.objects.filter(place=place).delete()[0]:
        messages.success(request, f"The assumed moisture counts again: {assumed.place}.")
    return redirect("timber_stock:climates")


def _place(key):
    if key not in PLACES:
        raise Http404
    return PLACES[key]


def _service_rows() -> list[dict]:
    return [
        {
            "key": key,
            "moisture": said,
            "assumed": PLACES[key],
            "is_own": said != PLACES[key],
            "decay": decay_risk(said.expected_percent),
        }
        for key, said in service_moistures().items()
    ]


def _year(climate: Climate) -> dict:
    months = list(climate.months.all())
    year = climate.year()
    rows = [
        {
            "month": month,
            "celsius_form": equilibrium_moisture_percent(
                month.temperature_c, month.humidity_percent
            ),
            "fahrenheit_form": equilibrium_moisture_percent_f(
                fahrenheit_from_celsius(month.temperature_c), month.humidity_percent
            ),
        }
        for month in months
    ]
    said = {
        caution
        for month in months
        for caution in equilibrium_cautions(month.temperature_c, month.humidity_percent)
    }
    return {"year": year, "months": rows, "plot": climate_plot_svg(year), "weak": sorted(said)}


def _keep(request, form, title):
    if request.method == "POST" and form.is_valid():
        try:
            climate = keep_climate(
                climate=form.save(commit=False),
                months=form.typed_months(),
                lies_here=form.cleaned_data["lies_here"],
            )
        except ValidationError as error:
            form.add_error(None, list(error.messages))
        else:
            messages.success(request, f"The climate of {climate.place} is kept.")
            return redirect(f"{reverse('timber_stock:climates')}?place={climate.pk}")
    context = {"form": form, "title": title}
    status = 422 if form.is_bound else 200
    return render(request, "timber_stock/climate_form.html", context, status=status)
