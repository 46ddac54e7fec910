"""Fastenings drawn by lot in a survey: how many, which ones, what they were, what follows."""

from fractions import Fraction
from itertools import groupby

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_POST

from restoration.actions.samples import draw_sample, enter_results
from restoration.calc import sampling
from restoration.calc.sample_result import RESULTS, STATES
from restoration.drawings.sample_picture import counts, legend_mark_svg, sample_picture_svg
from restoration.forms.samples import SampleForm
from restoration.models import FasteningSample, Survey
from restoration.views.attempts import attempt
from restoration.views.factory_plans import factory_plans

ZONES_SOURCE = (
    "US Army TB 55-1900-201-45/1, marine condition survey, paragraph 2-8: at each docking "
    "fastenings are drawn at random from these zones. It gives no number to draw."
)


def samples(request, survey_id):
    survey = get_object_or_404(Survey.objects.select_related("vessel"), pk=survey_id)
    rows = [(sample, sample.outcome()) for sample in survey.samples.all()]
    done = [sample for sample, outcome in rows if outcome.most_bad is not None]
    context = {
        "survey": survey,
        "rows": rows,
        "all_hold": _all_hold(done),
        "zones": sampling.ZONES,
        "zones_source": ZONES_SOURCE,
        "caution": sampling.CAUTION,
    }
    return render(request, "restoration/samples.html", context)


def _all_hold(done: list[FasteningSample]) -> float | None:
    """In percent, the chance that the bounds of all the groups hold together."""
    if len(done) < 2:
        return None
    chance = Fraction(1)
    for sample in done:
        chance *= sample.confidence()
    return float(100 * chance)


def sample_new(request, survey_id):
    survey = get_object_or_404(Survey.objects.select_related("vessel"), pk=survey_id)
    form = SampleForm(request.POST or None)
    counting = "step" in request.POST
    valid = request.method == "POST" and form.is_valid()
    if valid and not counting and (kept := _drawn(request, survey, form)):
        messages.success(request, f"{len(kept.drawn)} of {kept.population} are drawn by lot.")
        return redirect(kept)
    context = {
        "survey": survey,
        "form": form,
        "promise": form.promise() if valid and counting else "",
        "zones_source": ZONES_SOURCE,
        "caution": sampling.CAUTION,
    }
    refused = form.is_bound and form.errors
    return render(request, "restoration/sample_new.html", context, status=422 if refused else 200)


def _drawn(request, survey, form) -> FasteningSample | None:
    return attempt(
        form,
        draw_sample,
        sample=form.sample(survey=survey, made_by=request.user),
        stations=form.stations_drawn_from(),
        count=form.cleaned_data["count"],
    )


def sample(request, pk):
    return _show(request, _found(pk))


@require_POST
def sample_result(request, pk):
    kept = _found(pk)
    results = {
        one["mark"]: request.POST[f"result-{one['mark']}"]
        for one in kept.drawn
        if f"result-{one['mark']}" in request.POST
    }
    try:
        enter_results(sample_id=kept.pk, results=results)
    except ValidationError as error:
        return _show(request, kept, refused=error.messages)
    messages.success(request, "The results are kept.")
    return redirect(kept)


def _found(pk) -> FasteningSample:
    return get_object_or_404(
        FasteningSample.objects.select_related("survey__vessel", "made_by"), pk=pk
    )


def _show(request, sample, refused=()):
    outcome = sample.outcome()
    stations = groupby(sample.drawn, key=lambda one: one["station"])
    context = {
        "sample": sample,
        "survey": sample.survey,
        "outcome": outcome,
        "stations": [(station, list(drawn)) for station, drawn in stations],
        "results": [("", "no result yet"), *RESULTS.items()],
        "svg": mark_safe(sample_picture_svg(outcome)),
        "legend": [
            (mark_safe(legend_mark_svg(state)), STATES[state], count)
            for state, count in counts(outcome)
            if count
        ],
        "caution": sampling.CAUTION,
        "refused": refused,
        **factory_plans(sample.population),
    }
    status = 422 if refused else 200
    return render(request, "restoration/sample.html", context, status=status)
