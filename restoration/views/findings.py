from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.http import urlencode

from restoration.actions.findings import MOST_PHOTOGRAPHS, kept_already
from restoration.calc import grading, vocabulary
from restoration.forms.finding_entry import FindingEntry
from restoration.models import Finding, Member, Survey
from restoration.views.reading_meanings import meanings
from restoration.views.rounds import what_is_left
from timber_stock.web import pictures
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
    if request.GET.get("kept", "").isdecimal():
        finding = get_object_or_404(Finding, pk=request.GET["kept"], survey=survey, member=member)
        return _show_kept(request, finding, again="again" in request.GET)
    entry = FindingEntry.blank(units=own_units(request), by=request.user)
    return _show_form(request, survey, member, entry)


def finding(request, pk):
    finding = get_object_or_404(
        Finding.objects.select_related(
            "survey__vessel", "member__wood", "member__vessel", "recorded_by"
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
        "photographs": finding.photographs.all(),
        "specs": finding.specs.select_related("wood"),
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
    units = own_units(request)
    entry = FindingEntry.sent(request.POST, request.FILES, units=units, by=request.user)
    if step := request.POST.get("step"):
        return _show_step(request, survey, member, entry, step)
    if entry.is_valid() and (finding := entry.keep(survey=survey, member=member, by=request.user)):
        return _go_to_kept(request, finding)
    if before := kept_already(**same):  # the same form came twice at the same moment
        return _go_to_kept(request, before, again=True)
    return _show_form(request, survey, member, entry, status=422)


def _show_step(request, survey, member, entry, step):
    """The form again as it was typed: with photographs taken in, or with another row."""
    status = 422 if entry.tray.errors else 200
    if request.htmx.target == "waiting":  # as they were chosen, into the list of those waiting
        context = {"tray": entry.tray, **_photograph_limits()}
        return render(request, "restoration/_photographs_new.html", context, status=status)
    entry = entry.as_typed(own_units(request))
    return _show_form(request, survey, member, entry, status=status)


def _show_form(request, survey, member, entry, *, status=200):
    earlier = list(member.findings.select_related("survey").newest_first())
    kind = vocabulary.member_kind(member.kind)
    context = {
        "survey": survey,
        "member": member,
        "kind": kind,
        "kind_known": _how_known(kind),
        "earlier": earlier,
        "in_this_survey": [one for one in earlier if one.survey_id == survey.pk],
        "entry": entry,
        "form": entry.form,
        "tray": entry.tray,
        "next": what_is_left(survey, member)[0],
        **_words(),
        **_photograph_limits(),
        "piece": FORM,
    }
    response = page_or_piece(request, PAGE, FORM, context, status=status)
    if status == 422:
        response["HX-Reswap"] = "innerHTML"  # stay there: the script goes to what is marked
    return response


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
    following, left = what_is_left(finding.survey, finding.member)
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


def _words() -> dict:
    """What the classes mean and how the causes are told apart, with how each is known."""
    return {
        "meanings": [
            ("Condition", grading.CONDITIONS.items()),
            ("Urgency", grading.URGENCIES.items()),
            ("Recommended measure", grading.MEASURES.items()),
        ],
        "standing": grading.STANDING,
        "causes": [
            (cause, f"Main sign or remedy {_how_known(cause)}.")
            for cause in vocabulary.causes().values()
        ],
        "causes_standing": vocabulary.CAUSES_STANDING,
    }


def _how_known(entry) -> str:
    titles = "; ".join(vocabulary.source(code).title for code in entry.sources)
    return f"{vocabulary.EVIDENCE[entry.evidence]}: {titles}"


def _photograph_limits() -> dict:
    return {
        "most_photographs": MOST_PHOTOGRAPHS,
        "largest_mb": pictures.LARGEST_FILE_MB,
        "accepted": pictures.ACCEPTED,
    }
