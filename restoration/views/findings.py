from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.http import urlencode

from restoration.actions.findings import kept_already
from restoration.calc import grading, usual_causes, vocabulary
from restoration.forms import cause_chips, one_tap
from restoration.forms.finding_entry import FindingEntry
from restoration.models import Finding, FindingCause, Member, Survey
from restoration.views.causes_reasoned import taken_over
from restoration.views.finding_words import how_known, photograph_limits, words
from restoration.views.marked_photographs import with_overlays
from restoration.views.reading_meanings import meanings
from restoration.views.rounds import order_of, what_is_left
from timber_stock.web.addresses import row_number
from timber_stock.web.pages import own_units, page_or_piece

PAGE, FORM, KEPT = (
    f"restoration/{name}.html" for name in ("finding_new", "_finding_form", "_finding_kept")
)


def finding_new(request, survey_id, member_id):
    """One screen for one member: entered, kept, and on to the next."""
    survey = get_object_or_404(Survey.objects.select_related("vessel"), pk=survey_id)
    member = get_object_or_404(
        Member.objects.select_related("wood", "vessel"), pk=member_id, vessel=survey.vessel_id
    )
    if request.method == "POST":
        return _taken(request, survey, member)
    if kept := row_number(request.GET.get("kept")):
        finding = get_object_or_404(Finding, pk=kept, survey=survey, member=member)
        return _show_kept(request, finding, again="again" in request.GET)
    causes = taken_over(request.GET)
    entry = FindingEntry.blank(units=own_units(request), by=request.user, causes=causes)
    return _show_form(request, survey, member, entry)


def finding(request, pk):
    finding = get_object_or_404(
        Finding.objects.select_related(
            "survey__vessel",
            "member__wood",
            "member__vessel",
            "recorded_by",
            "copied_from__member",
            "made_apart_from__recorded_by",
        ),
        pk=pk,
    )
    readings = list(finding.readings.all())
    all_of_member = list(finding.member.findings.select_related("survey").newest_first())
    context = {
        "finding": finding,
        "member": finding.member,
        "survey": finding.survey,
        "readings": readings,
        **meanings(finding, readings, request.GET, own_units(request)),
        "causes": finding.causes.all(),
        "photographs": with_overlays(finding.photographs.prefetch_related("marks")),
        "specs": finding.specs.select_related("wood"),
        "made_apart": finding.made_apart.select_related("recorded_by"),
        "newest": all_of_member[0],
        "others": [other for other in all_of_member if other.pk != finding.pk],
        "standing": grading.STANDING,
        "causes_standing": vocabulary.CAUSES_STANDING,
    }
    return render(request, "restoration/finding.html", context)


def _taken(request, survey, member):
    """What was sent: kept already, a step on the way, kept now, or refused."""
    same = {"made_id": request.POST.get("made_id", ""), "survey": survey, "member": member}
    if before := kept_already(**same):
        return _go_to_kept(request, before, again=True)
    entry = FindingEntry.sent(
        request.POST, request.FILES, units=own_units(request), by=request.user
    )
    if step := request.POST.get("step"):
        return _show_step(request, survey, member, entry, step)
    if entry.is_valid() and (finding := entry.keep(survey=survey, member=member, by=request.user)):
        return _go_on(request, finding)
    if before := kept_already(**same):  # the same form came twice at the same moment
        return _go_to_kept(request, before, again=True)
    return _show_form(request, survey, member, entry, status=422)


def _show_step(request, survey, member, entry, step):
    """The form again as it was typed: with photographs taken in, or with another row."""
    status = 422 if entry.tray.errors else 200
    if request.htmx.target == "waiting":  # as they were chosen, into the list of those waiting
        context = {"tray": entry.tray, **photograph_limits()}
        return render(request, "restoration/_photographs_new.html", context, status=status)
    entry = entry.as_typed(own_units(request))
    return _show_form(request, survey, member, entry, status=status)


def _show_form(request, survey, member, entry, *, status=200):
    earlier = list(member.findings.select_related("survey").newest_first())
    kind = vocabulary.member_kind(member.kind)
    codes = usual_causes.usual_causes(member.kind, FindingCause.objects.named_for(member.kind))
    following, left = what_is_left(survey, member, order_of(request, survey))
    context = {
        "survey": survey,
        "member": member,
        "kind": kind,
        "kind_known": how_known(kind),
        "earlier": earlier,
        "in_this_survey": [one for one in earlier if one.survey_id == survey.pk],
        "entry": entry,
        "form": entry.form,
        "tray": entry.tray,
        "chips": cause_chips.chips(entry.form, codes),
        "next": following,
        "left": left,
        "just_kept": _just_kept(request, survey),
        **words(),
        **photograph_limits(),
        "piece": FORM,
    }
    response = page_or_piece(request, PAGE, FORM, context, status=status)
    if status == 422:
        response["HX-Reswap"] = "innerHTML"  # stay there: the script goes to what is marked
    elif request.htmx and context["just_kept"]:
        response["HX-Push-Url"] = request.get_full_path()
    return response


def _go_on(request, finding):
    """After one tap straight to the next member; else to where the finding is shown as kept."""
    following, _ = what_is_left(finding.survey, finding.member, order_of(request, finding.survey))
    if not one_tap.is_one_tap(request.POST) or following is None:
        return _go_to_kept(request, finding)
    address = reverse("restoration:finding_new", args=[finding.survey_id, following.pk])
    address += "?" + urlencode({"after": finding.pk})
    return redirect(address)


def _just_kept(request, survey) -> Finding | None:
    """The finding from which one came here by one tap."""
    number = row_number(request.GET.get("after"))
    return Finding.objects.filter(pk=number, survey=survey).select_related("member").first()


def _go_to_kept(request, finding, *, again=False):
    """On to where the finding is shown as kept: in place with htmx, else by a redirect."""
    address = reverse("restoration:finding_new", args=[finding.survey_id, finding.member_id])
    address += "?" + urlencode({"kept": finding.pk} | ({"again": 1} if again else {}))
    if not request.htmx:
        return redirect(address)
    response = _show_kept(request, finding, again=again)
    response["HX-Push-Url"] = address
    return response


def _show_kept(request, finding, *, again=False):
    finding = Finding.objects.select_related("survey__vessel", "member").get(pk=finding.pk)
    order = order_of(request, finding.survey)
    following, left = what_is_left(finding.survey, finding.member, order)
    names = ("readings", "causes", "photographs")
    context = {
        "finding": finding,
        "survey": finding.survey,
        "member": finding.member,
        "belongings": {name: getattr(finding, name).count() for name in names},
        "again": again,
        "next": following,
        "left": left,
        "piece": KEPT,
    }
    return page_or_piece(request, PAGE, KEPT, context)
