from django.contrib import messages
from django.core.exceptions import ValidationError
from django.db import transaction
from django.shortcuts import get_object_or_404, redirect, render

from restoration.actions.cutting import Drawing, draw_timbers, green_size, take_off
from restoration.forms.cutting import CuttingFromSpecsForm
from restoration.models import ReplacementSpec, WantedTimber, Yard
from restoration.timber import service_moistures
from timber_stock.web.pages import own_units

MOST = 300


def cutting_from_specs(request):
    waiting = _waiting()
    form = CuttingFromSpecsForm(
        request.POST or None,
        specs=waiting,
        units=own_units(request),
        initial={"cutting_list": request.GET.get("list"), "specs": request.GET.getlist("spec")},
    )
    if request.method == "POST" and form.is_valid():
        try:
            listed = _draw(form)
        except ValidationError as error:
            form.add_error(None, list(error.messages))
        else:
            messages.success(request, f"The timbers are on the list “{listed.name}”.")
            return redirect(listed)
    context = {
        "form": form,
        "sizes": _sizes(form, waiting[:MOST]),
        "drawn": _drawn(),
        "most": MOST,
        "yard_row": Yard.current(),
    }
    status = 422 if form.is_bound else 200
    return render(request, "restoration/cutting_from_specs.html", context, status=status)


def wanted_timber_delete(request, pk):
    wanted = get_object_or_404(
        WantedTimber.objects.select_related("item__cutting_list", "spec__finding__member"), pk=pk
    )
    if request.method == "POST":
        take_off(wanted=wanted)
        messages.success(request, f"{wanted.item.label} is off the list.")
        return redirect("restoration:cutting_from_specs")
    return render(request, "restoration/wanted_timber_delete.html", {"wanted": wanted})


def _waiting():
    """Replacements that wait for timber, or for the rest of it, and are on no list yet."""
    specs = ReplacementSpec.objects.lacking_timber().filter(wanted_timbers=None)
    return specs.for_list().prefetch_related("wood__own_figures").along_the_hull()


def _drawn():
    links = WantedTimber.objects.select_related(
        "item__cutting_list", "spec__finding__member__vessel"
    )
    return links.filter(item__cutting_list__is_open=True)[:MOST]


def _sizes(form, specs):
    """What each would be sawn to, by what stands in the form, or stood there at first."""
    if form.is_bound and form.is_valid():
        drawing = form.drawing()
    else:
        said = {name: field.initial for name, field in form.fields.items()}
        drawing = Drawing(
            said["heart_clearance_mm"],
            said["to_trim_mm"],
            said["usual_moisture_percent"],
            form.step_mm,
        )
    yard, places = Yard.current(), service_moistures()
    return [green_size(spec, yard, drawing, places) for spec in specs]


@transaction.atomic
def _draw(form):
    listed = form.list_to_use()
    if not listed.pk:
        listed.full_clean()
        listed.save()
    draw_timbers(cutting_list=listed, specs=form.cleaned_data["specs"], drawing=form.drawing())
    return listed
