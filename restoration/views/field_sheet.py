"""The round on paper: printed blank before, typed in afterwards."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render

from restoration.actions.field_sheet import RowsRefused, record_field_sheet
from restoration.calc import grading
from restoration.forms.field_sheet import SheetRowForm
from restoration.models import Survey
from restoration.models.round import ORDERS, part_of_the_round
from restoration.reports import field_sheet as sheets
from restoration.reports.pdf.field_sheet import draw_field_sheet
from restoration.views.paper_answers import size_asked
from restoration.views.rounds import Stop, order_of, round_of
from timber_stock.web.pages import own_units

A_PAGE = 100


def field_sheet(request, survey_id):
    survey = _survey(survey_id)
    walk = round_of(survey, order_of(request, survey))
    stops = [
        (part_of_the_round(stop.member, walk.order), stop.member, _last(stop))
        for stop in walk.stops
    ]
    sheet = sheets.field_sheet(survey, stops, str(ORDERS[walk.order]), own_units(request))
    answer = HttpResponse(
        draw_field_sheet(sheet, size_asked(request)), content_type="application/pdf"
    )
    name = f"field-sheet-{survey.vessel.code}-{survey.surveyed_on:%Y-%m-%d}.pdf"
    answer["Content-Disposition"] = f'inline; filename="{name}"'
    return answer


def _last(stop: Stop) -> str:
    """What this survey, or else the one before, found of it: 2024: class 2."""
    said = stop.finding or stop.earlier
    if not said:
        return ""
    what = "not examined" if said.condition == "NE" else f"class {said.condition}"
    when = "this survey" if stop.finding else str(said.survey.surveyed_on.year)
    return f"{when}: {what}"


def field_sheet_entry(request, survey_id):
    survey = _survey(survey_id)
    walk = round_of(survey, order_of(request, survey))
    if request.method == "POST":
        return _taken(request, survey, walk)
    stops = [stop for stop in walk.stops if not stop.finding or "all" in request.GET]
    page = Paginator(stops, A_PAGE).get_page(request.GET.get("page"))
    rows = [(stop, SheetRowForm.blank(stop.member)) for stop in page]
    return _show(request, survey, walk, rows, page=page)


def _taken(request, survey, walk):
    """Every row that holds anything is kept, or none is and all of them say what is wrong."""
    sent = set(request.POST.getlist("member"))
    stops = [stop for stop in walk.stops if str(stop.member.pk) in sent]
    rows = [(stop, SheetRowForm(request.POST, member=stop.member)) for stop in stops]
    filled = [form for _, form in rows if form.is_filled()]
    if filled and all(form.is_valid() for form in filled):
        try:
            findings = [form.finding(survey, request.user) for form in filled]
            kept = record_field_sheet(findings=findings)
        except RowsRefused as refused:
            for form in filled:
                for sentence in refused.refused.get(form.member.pk, ()):
                    form.add_error(None, sentence)
        else:
            counted = "1 finding is" if len(kept) == 1 else f"{len(kept)} findings are"
            messages.success(request, f"{counted} kept from the field sheet.")
            return redirect(survey)
    return _show(request, survey, walk, rows, filled=filled, status=422)


def _show(request, survey, walk, rows, *, page=None, filled=(), status=200):
    wrong = [form for form in filled if form.errors]
    context = {
        "survey": survey,
        "rows": [(stop, form, form in filled) for stop, form in rows],
        "page": page,
        "wrong": wrong,
        "nothing": status == 422 and not filled,
        "filled": len(filled),
        "order": walk.order,
        "standing": grading.STANDING,
    }
    return render(request, "restoration/field_sheet_entry.html", context, status=status)


def _survey(pk) -> Survey:
    return get_object_or_404(Survey.objects.select_related("vessel"), pk=pk)
