from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Prefetch
from django.shortcuts import get_object_or_404, redirect, render

from restoration.actions.replacement import (
    change_specification,
    specify_replacement,
    why_not_changed,
    withdraw_specification,
)
from restoration.forms.replacement import ReasonForm, SpecFilterForm, SpecForm, prefilled
from restoration.models import Allotment, Finding, ReplacementSpec, Vessel, Yard
from restoration.models.walking import walking_order
from restoration.reports.in_hand import to_be_specified
from restoration.views.attempts import attempt
from restoration.views.pattern_needs import pattern_sizes
from restoration.views.spec_page import show_spec
from timber_stock.web.pages import own_units

PAGE = 100


def replacements(request):
    form = SpecFilterForm(request.GET, vessels=Vessel.objects.visible_to(request.user))
    chosen = form.cleaned_data if form.is_valid() else {}
    vessel, stage = chosen.get("vessel"), chosen.get("stage", "")
    found = _to_specify(vessel) if stage == "specify" else _specs(vessel, stage)
    page = Paginator(found, PAGE).get_page(request.GET.get("page"))
    context = {"form": form, "page": page, "vessel": vessel, "stage": stage}
    return render(request, "restoration/replacements.html", context)


def _to_specify(vessel):
    members = to_be_specified().select_related("vessel", "wood")
    if vessel:
        members = members.filter(vessel=vessel)
    return members.order_by("vessel__name", *walking_order(), "pk")


def _specs(vessel, stage):
    timber = Allotment.objects.standing().select_related("board")
    specs = ReplacementSpec.objects.with_stage().for_list().along_the_hull()
    specs = specs.filter(stage=stage) if stage else specs.open()
    if vessel:
        specs = specs.filter(finding__member__vessel=vessel)
    return specs.prefetch_related(Prefetch("allotments", timber, to_attr="standing"))


def spec_new(request, finding_id):
    finding = get_object_or_404(
        Finding.objects.select_related("member__vessel", "member__wood", "survey"), pk=finding_id
    )
    form = SpecForm(
        request.POST or None,
        units=own_units(request),
        currency=Yard.current().currency,
        initial=prefilled(finding.member, own_units(request))
        | pattern_sizes(request, finding.member),
    )
    if request.method == "POST" and form.is_valid():
        made = attempt(
            form,
            specify_replacement,
            finding=finding,
            spec=form.save(commit=False),
            other_woods=form.cleaned_data["other_woods"],
            by=request.user,
        )
        if made:
            messages.success(request, f"{finding.member.mark} is specified.")
            return redirect("restoration:spec", made.pk)
    earlier = ReplacementSpec.objects.open().filter(finding__member=finding.member_id)
    context = {"form": form, "finding": finding, "earlier": list(earlier)}
    return _form_page(request, form, context)


def spec(request, pk):
    return show_spec(request, pk)


def spec_edit(request, pk):
    spec = get_object_or_404(ReplacementSpec.objects.for_list(), pk=pk)
    if request.method != "POST" and (refused := why_not_changed(spec)):
        messages.error(request, refused)
        return redirect("restoration:spec", pk)
    form = SpecForm(
        request.POST or None,
        instance=spec,
        units=own_units(request),
        currency=Yard.current().currency,
    )
    form.initial |= pattern_sizes(request, spec.finding.member)
    if request.method == "POST" and form.is_valid():
        woods = form.cleaned_data["other_woods"]
        changed = form.save(commit=False)
        if attempt(form, change_specification, spec=changed, other_woods=woods):
            messages.success(request, "The specification is changed.")
            return redirect("restoration:spec", pk)
    return _form_page(request, form, {"form": form, "finding": spec.finding, "spec": spec})


def spec_withdraw(request, pk):
    spec = get_object_or_404(ReplacementSpec.objects.for_list(), pk=pk)
    form = ReasonForm(request.POST or None, units=own_units(request))
    if (
        request.method == "POST"
        and form.is_valid()
        and attempt(form, withdraw_specification, spec=spec, **form.cleaned_data)
    ):
        messages.success(request, "The specification is withdrawn.")
        return redirect("restoration:spec", pk)
    context = {"form": form, "spec": spec, "finding": spec.finding}
    status = 422 if form.errors else 200
    return render(request, "restoration/spec_withdraw.html", context, status=status)


def _form_page(request, form, context):
    status = 422 if form.is_bound and form.errors else 200
    return render(request, "restoration/spec_form.html", context, status=status)
