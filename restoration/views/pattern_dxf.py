"""A pattern from a DXF drawing. The file waits between what is asked about it.

With `?replaces=` it becomes the next version of that pattern, from a new drawing or from the one
that was kept with it.
"""

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.safestring import mark_safe

from restoration.actions import waiting_files
from restoration.actions.pattern_drawings import keep_drawn_pattern, read_kept
from restoration.calc.pattern_dxf.reading import read_drawing
from restoration.drawings.pattern.svg import svg
from restoration.drawings.pattern.unsorted import unsorted_drawing
from restoration.forms.pattern_dxf import DxfFileForm, DxfForm
from restoration.models import Member, Pattern
from restoration.models.pattern import Taken
from restoration.views.attempts import attempt
from restoration.views.pattern_drawing import drawn
from timber_stock.web.pages import own_units

GONE = "The drawing is no longer waiting here (it waits for two days): send it again."
LOST = "The drawing that was kept with it is not to be found any more: send it anew."


def pattern_dxf(request, member_id):
    member = get_object_or_404(Member.objects.select_related("vessel"), pk=member_id)
    replaces = _replaced(request, member)
    if replaces and not replaces.stands():
        messages.error(request, "This version has been replaced already: begin from the newest.")
        return redirect(replaces)
    token = request.POST.get("waiting") or request.GET.get("waiting")
    if "again" in request.POST and replaces:
        return _read_again(request, replaces)
    if not token:
        return _file_asked(request, member, replaces)
    try:
        waiting = waiting_files.find(token=token, by=request.user)
        data = waiting.read()
        drawing = read_drawing(data)
    except waiting_files.NoLongerWaiting:
        messages.error(request, GONE)
        return redirect(_page(member, replaces))
    return _drawing_asked(request, member, waiting, data, drawing, replaces)


def _replaced(request, member) -> Pattern | None:
    """The pattern that this makes a new version of, if the address names one."""
    asked = request.GET.get("replaces", "")
    if not asked.isdigit():
        return None
    whole = Pattern.objects.select_related("drawing", "replaced_by")
    return get_object_or_404(whole, pk=asked, member=member)


def _page(member, replaces, **more) -> str:
    said = ({"replaces": replaces.pk} if replaces else {}) | more
    page = reverse("restoration:pattern_dxf", args=[member.pk])
    return f"{page}?{urlencode(said)}" if said else page


def _read_again(request, replaces):
    """A copy of the drawing that was kept waits as one that is sent."""
    try:
        data = read_kept(replaces)
    except FileNotFoundError:
        messages.error(request, LOST)
        return redirect(_page(replaces.member, replaces))
    name = replaces.as_entered.get("file") or replaces.drawing.name
    waiting = waiting_files.put_by(data=data, name=name, by=request.user)
    return redirect(_page(replaces.member, replaces, waiting=waiting.token))


def _file_asked(request, member, replaces):
    form = DxfFileForm(request.POST or None, request.FILES or None)
    if request.method == "POST" and form.is_valid():
        name = form.cleaned_data["drawing"].name
        waiting = waiting_files.put_by(data=form.data_read, name=name, by=request.user)
        return redirect(_page(member, replaces, waiting=waiting.token))
    context = {"member": member, "vessel": member.vessel, "form": form, "replaces": replaces}
    status = 422 if form.errors or request.method == "POST" else 200
    return render(request, "restoration/pattern_dxf_file.html", context, status=status)


def _drawing_asked(request, member, waiting, data, drawing, replaces):
    units = own_units(request)
    form = DxfForm(
        request.POST or None, drawing=drawing, member=member, replaces=replaces, units=units
    )
    to_keep = request.method == "POST" and form.is_valid() and "look" not in request.POST
    if to_keep and (kept := _kept(request, form, member, waiting, data, replaces)):
        waiting_files.let_go(waiting)
        messages.success(request, f"{kept.name} is kept, and its drawing with it.")
        return redirect(kept)
    context = {
        "member": member,
        "vessel": member.vessel,
        "form": form,
        "waiting": waiting,
        "replaces": replaces,
        "here": _page(member, replaces),
        "left_out": drawing.left_out,
        "picture": _picture(form, member, units),
        "unit_missing": not form["unit"].value(),
    }
    status = 422 if form.errors else 200
    return render(request, "restoration/pattern_dxf.html", context, status=status)


def _kept(request, form, member, waiting, data, replaces):
    return attempt(
        form,
        keep_drawn_pattern,
        data=data,
        file_name=waiting.name,
        member=member,
        pattern=form.pattern,
        taken=Taken.DXF,
        by=request.user,
        as_entered=form.as_entered(waiting.name),
        replaces=replaces,
        **form.facts(),
    )


def _picture(form, member, units) -> str:
    """The pattern as it would be kept; else the drawing as it came."""
    if form.pattern:
        # Not out of cleaned_data: a name that is taken is no longer in it.
        return drawn(form.pattern, form["name"].value(), member, units)
    if form.flat:
        return mark_safe(svg(unsorted_drawing(form.flat, form.loops)))
    return ""
