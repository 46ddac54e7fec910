from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect, render

from timber_stock.actions.log_sheet import keep_photograph, remove_photograph, set_heart
from timber_stock.forms.log_photograph import (
    TAP_WORDS,
    HeartForm,
    PhotographForm,
    TapsForm,
    kept_taps,
    proposed_heart,
)
from timber_stock.models import Log, LogPhotograph
from timber_stock.web.kept_pictures import picture_file
from timber_stock.web.pages import own_units, signed_by


def log_photograph_new(request, log_id):
    log = get_object_or_404(Log, pk=log_id)
    asked = request.GET.get("end")
    form = PhotographForm(
        request.POST or None, request.FILES or None, initial={"end": asked or "butt"}
    )
    if request.method == "POST" and form.is_valid():
        said = form.cleaned_data
        try:
            kept = keep_photograph(
                log=log, end=said["end"], picture=said["photograph"], by=signed_by(request)
            )
        except ValidationError as error:
            form.add_error(None, list(error.messages))
        else:
            return _after(kept)
    status = 422 if request.method == "POST" else 200
    context = {"form": form, "log": log}
    return render(request, "timber_stock/log_photograph_new.html", context, status=status)


def _after(photograph):
    if photograph.end == "other":
        return redirect("timber_stock:log_sheet", photograph.log_id)
    return redirect("timber_stock:log_photograph", photograph.pk)


def log_photograph(request, pk):
    """The picture to tap, and what the taps propose: a person confirms it or types it over."""
    photograph = get_object_or_404(LogPhotograph.objects.select_related("log__species"), pk=pk)
    units, does = own_units(request), request.POST.get("do")
    taps = TapsForm(request.POST if does == "taps" else None, photograph=photograph, units=units)
    if does == "taps" and taps.is_valid():
        photograph.save(update_fields=["heart_x", "heart_y", "bark_taps"])
        return redirect("timber_stock:log_photograph", pk)
    heart = HeartForm(
        request.POST if does == "heart" else None, units=units, initial=_first(photograph)
    )
    if does == "heart" and heart.is_valid() and _heart_kept(photograph, heart):
        messages.success(request, f"The heart at the {photograph.end} is kept.")
        return redirect("timber_stock:log_sheet", photograph.log_id)
    context = {
        "photograph": photograph, "log": photograph.log, "taps": taps, "heart": heart,
        "tap_words": TAP_WORDS, "tapped": photograph.heart_x is not None,
    }  # fmt: skip
    return render(request, "timber_stock/log_photograph.html", context, status=422 if does else 200)


def _first(photograph) -> dict:
    """What the taps propose, else what the log says already."""
    places = kept_taps(photograph)
    if None not in places and photograph.end != "other":
        offset, clock = proposed_heart(photograph, places)
    else:
        offset = getattr(photograph.log, f"{photograph.end}_heart_offset_mm", None)
        clock = getattr(photograph.log, f"{photograph.end}_heart_clock", None)
    return {"offset_mm": offset, "clock": clock}


def _heart_kept(photograph, form) -> bool:
    try:
        set_heart(log=photograph.log, end=photograph.end, **form.cleaned_data)
    except ValidationError as error:
        form.add_error(None, list(error.messages))
        return False
    return True


def log_photograph_delete(request, pk):
    photograph = get_object_or_404(LogPhotograph.objects.select_related("log"), pk=pk)
    if request.method == "POST":
        remove_photograph(photograph=photograph)
        messages.success(request, "The photograph is taken off the sheet.")
        return redirect("timber_stock:log_sheet", photograph.log_id)
    return render(request, "timber_stock/log_photograph_delete.html", {"photograph": photograph})


def log_photograph_file(request, pk, size):
    """The picture itself, to those whom the access table lets in; nothing else serves it."""
    return picture_file(get_object_or_404(LogPhotograph, pk=pk), size)
