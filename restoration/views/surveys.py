from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Count
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone

from restoration.actions.end_of_round import end_round, not_seen
from restoration.calc import grading
from restoration.forms.surveys import EndForm, SurveyForm
from restoration.models import Survey, Vessel
from restoration.models.round import ORDERS
from restoration.views.attempts import attempt
from restoration.views.rounds import order_of, round_of
from restoration.views.to_check import to_check

A_PAGE = 100


def surveys(request):
    rows = (
        Survey.objects.newest_first()
        .select_related("vessel")
        .annotate(members_found=Count("findings__member", distinct=True))
    )
    page = Paginator(rows, A_PAGE).get_page(request.GET.get("page"))
    vessels = list(Vessel.objects.annotate(member_count=Count("members"))[: A_PAGE + 1])
    context = {"page": page, "vessels": vessels[:A_PAGE], "more_vessels": len(vessels) > A_PAGE}
    return render(request, "restoration/surveys.html", context)


def survey(request, pk):
    survey = get_object_or_404(Survey.objects.select_related("vessel__client"), pk=pk)
    walk = round_of(survey, order_of(request, survey))
    context = {
        "survey": survey,
        "orders": ORDERS.items(),
        "order": walk.order,
        "parts": walk.in_parts(),
        "counts": walk.counts(),
        "next": walk.next_left(),
        "standing": grading.STANDING,
        "to_check": to_check(survey, walk),
    }
    return render(request, "restoration/survey.html", context)


def survey_new(request, vessel_id):
    vessel = get_object_or_404(Vessel, pk=vessel_id)
    survey = Survey(vessel=vessel, recorded_by=request.user)
    first = {"surveyed_on": timezone.localdate(), "surveyor_name": request.user.full_name()}
    return _edit(request, survey, f"New survey of {vessel}", first)


def survey_edit(request, pk):
    survey = get_object_or_404(Survey.objects.select_related("vessel"), pk=pk)
    return _edit(request, survey, f"Survey of {survey.vessel}: particulars", None)


def survey_end(request, pk):
    """The round ends before all was seen: the rest is not examined, and it says why."""
    survey = get_object_or_404(Survey.objects.select_related("vessel"), pk=pk)
    form = EndForm(request.POST or None, initial={"ended_on": survey.ended_on})
    if request.method == "POST" and form.is_valid():
        said = form.cleaned_data
        made = attempt(form, end_round, survey=survey, by=request.user, **said)
        if made:
            messages.success(request, f"Written down as not examined: {len(made)} of her members.")
            return redirect(survey)
    context = {"form": form, "survey": survey, "left": not_seen(survey)}
    status = 422 if form.is_bound else 200
    return render(request, "restoration/survey_end.html", context, status=status)


def _edit(request, survey, title, initial):
    form = SurveyForm(request.POST or None, instance=survey, initial=initial)
    if request.method == "POST" and form.is_valid():
        survey = form.save()
        messages.success(request, "The survey's particulars are kept.")
        return redirect(survey)
    context = {"form": form, "survey": survey, "title": title}
    status = 422 if form.is_bound else 200
    return render(request, "restoration/survey_form.html", context, status=status)
