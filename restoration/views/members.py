from django.contrib import messages
from django.db.models import Prefetch
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from restoration.actions.members import keep_member
from restoration.calc import published_rules, vocabulary
from restoration.calc.groups import kinds_by_group
from restoration.calc.member_marks import propose_mark
from restoration.forms.members import MemberForm
from restoration.models import Member, ReplacementSpec, RetightenTask, Vessel
from restoration.views.attempts import attempt
from restoration.views.hull_potential import potential_read
from restoration.views.member_metals import metals_of
from restoration.views.sister_frame import sister_proposed
from timber_stock.web.pages import own_units, page_or_piece


def member(request, pk):
    members = Member.objects.select_related("vessel", "wood")
    member = get_object_or_404(members.with_condition(), pk=pk)
    findings = member.findings.newest_first().select_related("survey", "recorded_by")
    specs = ReplacementSpec.objects.filter(finding__member=member).select_related("wood")
    met = member.joints().prefetch_related("fastening_plans")
    joints = [(joint, joint.partner_of(member)) for joint in met]
    metals = metals_of(member, joints, request.GET.get("series", ""))
    read, sister = potential_read(request.GET, metals), sister_proposed(request, member)
    context = {
        "member": member,
        "vessel": member.vessel,
        "kind": _kind_for_page(member.kind),
        "joints": joints,
        **metals,
        "is_plank": member.kind in published_rules.PLANKS,
        **read,
        **sister,
        "findings": findings.prefetch_related("causes"),
        "patterns": member.patterns.standing().defer("data").order_by("name"),
        "newest_survey": member.vessel.surveys.newest_first().first(),
        "specs": specs.prefetch_related(
            "allotments__board",
            Prefetch("allotments__retightenings", RetightenTask.objects.open(), to_attr="visits"),
        ).order_by("-pk"),
    }
    asked = [read.get("potential_form"), sister.get("sister_form")]
    status = 422 if any(form and form.errors for form in asked) else 200
    return render(request, "restoration/member.html", context, status=status)


def member_new(request, vessel_id):
    vessel = get_object_or_404(Vessel, pk=vessel_id)
    return _edit(request, Member(vessel=vessel))


def member_edit(request, pk):
    return _edit(request, get_object_or_404(Member.objects.select_related("vessel"), pk=pk))


def _edit(request, member):
    chosen = {name: request.GET[name] for name in ("kind", "side") if name in request.GET}
    form = MemberForm(
        request.POST or None, instance=member, initial=chosen, units=own_units(request)
    )
    if request.method == "POST" and form.is_valid():
        kept = attempt(form, keep_member, member=form.save(commit=False))
        if kept:
            messages.success(request, f"{kept.mark} is kept.")
            return redirect(_next_page(request, kept))
    context = {
        "form": form,
        "vessel": member.vessel,
        "member": member,
        "glossary": kinds_by_group(),
        **_about_kind(form, member),
    }
    page, piece = "restoration/member_form.html", "restoration/_kind_chosen.html"
    return page_or_piece(request, page, piece, context, status=422 if form.errors else 200)


def _next_page(request, member):
    if "another" in request.POST:
        return reverse("restoration:member_new", args=[member.vessel_id])
    return member.get_absolute_url()


def _about_kind(form, member) -> dict:
    """The chosen kind's definition, and the mark that a new member of it would get."""
    code = form["kind"].value()
    if code not in vocabulary.member_kinds():
        return {}
    side = form["side"].value() or ""
    taken = member.vessel.members.values_list("mark", flat=True)
    proposed = None if member.pk else propose_mark(code, taken, side).mark
    return {"kind": _kind_for_page(code), "proposed": proposed}


def _kind_for_page(code: str) -> dict:
    kind = vocabulary.member_kind(code)
    return {
        "entry": kind,
        "known": vocabulary.EVIDENCE[kind.evidence],
        "sources": [vocabulary.source(source) for source in kind.sources],
        "woods_standing": vocabulary.WOODS_STANDING,
        "rules": published_rules.rules_for(code),
        "conflicts": published_rules.conflicts_for(code),
        "rules_caution": published_rules.CAUTION,
    }
