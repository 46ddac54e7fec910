from django.contrib import messages
from django.core.paginator import Paginator
from django.shortcuts import get_object_or_404, redirect, render

from restoration.actions.retightening import move_visit, set_down_visit, visit_made
from restoration.calc.green_fitting import CAUTION
from restoration.forms.retightening import VisitDueForm, VisitForm, VisitMadeForm
from restoration.models import Allotment, RetightenTask
from restoration.views.attempts import attempt
from timber_stock.web.pages import own_units

PAGE = 100


def retightenings(request):
    """Every visit still to make, the soonest first; those made, the last first."""
    made = "made" in request.GET
    tasks = RetightenTask.objects.for_list()
    tasks = (
        tasks.filter(done_on__isnull=False).order_by("-done_on", "-pk") if made else tasks.open()
    )
    page = Paginator(tasks, PAGE).get_page(request.GET.get("page"))
    context = {"page": page, "made": made, "caution": CAUTION}
    return render(request, "restoration/retightenings.html", context)


def retighten_done(request, pk):
    task = get_object_or_404(RetightenTask.objects.for_list(), pk=pk)
    initial = {"by": request.user.full_name()}
    form = VisitMadeForm(request.POST or None, units=own_units(request), initial=initial)
    if (
        request.method == "POST"
        and form.is_valid()
        and attempt(form, visit_made, task=task, **form.cleaned_data)
    ):
        messages.success(request, f"The nuts of {task.member().mark} are seen to.")
        return redirect(task.allotment.spec)
    return _page(request, form, task.allotment, "The nuts are seen to", task=task)


def retighten_edit(request, pk):
    task = get_object_or_404(RetightenTask.objects.for_list(), pk=pk)
    form = VisitDueForm(request.POST or None, instance=task)
    if request.method == "POST" and form.is_valid():
        moved = attempt(form, move_visit, task=task, due_on=form.cleaned_data["due_on"])
        if moved:
            messages.success(request, "The visit has another date.")
            return redirect(task.allotment.spec)
    return _page(request, form, task.allotment, "Another date for this visit", task=task)


def retighten_new(request, allotment_id):
    allotments = Allotment.objects.select_related("board", "spec__finding__member__vessel")
    allotment = get_object_or_404(allotments, pk=allotment_id)
    form = VisitForm(request.POST or None, units=own_units(request))
    if (
        request.method == "POST"
        and form.is_valid()
        and attempt(form, set_down_visit, allotment=allotment, **form.cleaned_data)
    ):
        messages.success(request, "The visit is set down.")
        return redirect(allotment.spec)
    return _page(request, form, allotment, "Set down a visit to the nuts")


def _page(request, form, allotment, title, **more):
    finding = allotment.spec.finding
    context = {
        "form": form,
        "title": title,
        "allotment": allotment,
        "spec": allotment.spec,
        "finding": finding,
        "member": finding.member,
        "caution": CAUTION,
        **more,
    }
    status = 422 if form.errors else 200
    return render(request, "restoration/retighten_form.html", context, status=status)
