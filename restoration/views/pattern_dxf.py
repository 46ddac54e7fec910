"""A pattern from a DXF drawing. The file waits between what is asked about it."""

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.safestring import mark_safe

from restoration.actions import waiting_files
from restoration.actions.patterns import keep_pattern
from restoration.calc.pattern_dxf.reading import read_drawing
from restoration.drawings.pattern.svg import svg
from restoration.drawings.pattern.unsorted import unsorted_drawing
from restoration.forms.pattern_dxf import DxfFileForm, DxfForm
from restoration.models import Member
from restoration.models.pattern import Taken
from restoration.views.attempts import attempt
from restoration.views.pattern_drawing import drawn
from timber_stock.web.pages import own_units

GONE = "The drawing is no longer waiting here (it waits for two days): send it again."


def pattern_dxf(request, member_id):
    member = get_object_or_404(Member.objects.select_related("vessel"), pk=member_id)
    token = request.POST.get("waiting") or request.GET.get("waiting")
    if not token:
        return _file_asked(request, member)
    try:
        waiting = waiting_files.find(token=token, by=request.user)
        drawing = read_drawing(waiting.read())
    except waiting_files.NoLongerWaiting:
        messages.error(request, GONE)
        return redirect("restoration:pattern_dxf", member.pk)
    return _drawing_asked(request, member, waiting, drawing)


def _file_asked(request, member):
    form = DxfFileForm(request.POST or None, request.FILES or None)
    if request.method == "POST" and form.is_valid():
        name = form.cleaned_data["drawing"].name
        waiting = waiting_files.put_by(data=form.data_read, name=name, by=request.user)
        page = reverse("restoration:pattern_dxf", args=[member.pk])
        return redirect(f"{page}?{urlencode({'waiting': waiting.token})}")
    context = {"member": member, "vessel": member.vessel, "form": form}
    status = 422 if form.errors or request.method == "POST" else 200
    return render(request, "restoration/pattern_dxf_file.html", context, status=status)


def _drawing_asked(request, member, waiting, drawing):
    units = own_units(request)
    form = DxfForm(request.POST or None, drawing=drawing, member=member, units=units)
    if request.method == "POST" and form.is_valid() and "look" not in request.POST:
        kept = attempt(
            form,
            keep_pattern,
            member=member,
            pattern=form.pattern,
            taken=Taken.DXF,
            by=request.user,
            as_entered=form.as_entered(waiting.name),
            **form.facts(),
        )
        if kept:
            waiting_files.let_go(waiting)
            messages.success(request, f"{kept.name} is kept.")
            return redirect(kept)
    context = {
        "member": member,
        "vessel": member.vessel,
        "form": form,
        "waiting": waiting,
        "left_out": drawing.left_out,
        "picture": _picture(form, member, units),
        "unit_missing": not form["unit"].value(),
    }
    status = 422 if form.errors else 200
    return render(request, "restoration/pattern_dxf.html", context, status=status)


def _picture(form, member, units) -> str:
    """The pattern as it would be kept; else the drawing as it came."""
    if form.pattern:
        # Not out of cleaned_data: a name that is taken is no longer in it.
        return drawn(form.pattern, form["name"].value(), member, units)
    if form.flat:
        return mark_safe(svg(unsorted_drawing(form.flat, form.loops)))
    return ""
