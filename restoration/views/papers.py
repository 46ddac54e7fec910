"""The papers about a vessel, and the list of every paper there is to print."""

from collections import defaultdict

from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone

from restoration import timber
from restoration.forms.between_surveys import BetweenSurveysForm
from restoration.models import Allotment, Member, Survey, Vessel
from restoration.reports.certificate import certificate as certificate_of
from restoration.reports.change_report import change_report
from restoration.reports.content import Standing
from restoration.reports.estimate import estimate as estimate_of
from restoration.reports.gather import report_content
from restoration.reports.pdf.short_report import fitted_short_report
from restoration.views.between_surveys import compare, shown
from restoration.views.hull_drawing import laid_out
from restoration.views.paper_answers import as_page, as_pdf, size_asked
from timber_stock.web.days import day_said
from timber_stock.web.pages import a_page_of, own_units, signed_by

MOST_SHOWN = 12
MOST_VESSELS = 24  # each has a list of her own papers


def papers(request):
    """Of every vessel, or with ?vessel= of one, whose own page leads here."""
    vessels = Vessel.objects.select_related("client").prefetch_related("surveys")
    asked = request.GET.get("vessel", "")
    one = get_object_or_404(vessels, pk=asked) if asked.isdecimal() and len(asked) < 18 else None
    page = a_page_of(request, vessels.filter(pk=one.pk) if one else vessels, MOST_VESSELS)
    plans = timber.SawingPlan.objects.for_list().standing().exclude(state="sawn")
    context = {
        "page": page,
        "one": one,
        "fitted": _fitted_in(page),
        "plans": plans.order_by("-made_at")[:MOST_SHOWN],
        "lists": timber.CuttingList.objects.open().counted()[:MOST_SHOWN],
    }
    return render(request, "restoration/papers.html", context)


def _fitted_in(vessels) -> dict[int, list[Member]]:
    """Of each vessel the members with new timber in them, which have an origin to certify."""
    found = defaultdict(list)
    fitted = Allotment.objects.fitted().values("spec__finding__member")
    members = Member.objects.filter(vessel__in=[v.pk for v in vessels], pk__in=fitted)
    for member in members.order_by("vessel", "mark"):
        found[member.vessel_id].append(member)
    return found


def certificate(request, pk):
    member = _member(pk)
    crumbs = [*_of_vessel(member.vessel), (member.mark, member.get_absolute_url()),
              ("Certificate of origin", "")]  # fmt: skip
    pdf = reverse("restoration:certificate_pdf", args=[pk])
    paper = _certificate(request, member)
    name = f"{member.vessel.code}-{member.mark}"
    prov = reverse("restoration:thread_prov", args=[name])
    more = [("Origin as PROV-JSON", f"{prov}?as=member")]
    return as_page(request, paper, pdf=pdf, crumbs=crumbs, sheets=["css/thread.css"], more=more)


def certificate_pdf(request, pk):
    return as_pdf(request, _certificate(request, _member(pk)))


def _certificate(request, member: Member):
    name = f"{member.vessel.code}-{member.mark}"
    return certificate_of(
        member,
        units=own_units(request),
        on=timezone.localdate(),
        address=request.build_absolute_uri(reverse("restoration:thread", args=[name])),
    )


def estimate(request, vessel_id):
    vessel = _vessel(vessel_id)
    pdf = reverse("restoration:estimate_pdf", args=[vessel_id])
    crumbs = [*_of_vessel(vessel), ("Estimate", "")]
    return as_page(request, _estimate(request, vessel), pdf=pdf, crumbs=crumbs)


def estimate_pdf(request, vessel_id):
    return as_pdf(request, _estimate(request, _vessel(vessel_id)))


def _estimate(request, vessel: Vessel):
    return estimate_of(vessel, units=own_units(request), on=timezone.localdate())


def short_report(request, survey_id):
    survey, paper = _short_report(request, survey_id)
    day = f"Survey of {day_said(survey.surveyed_on)}"
    crumbs = [*_of_vessel(survey.vessel), (day, survey.get_absolute_url()), ("Short report", "")]
    pdf = reverse("restoration:short_report_pdf", args=[survey_id])
    return as_page(request, paper, pdf=pdf, crumbs=crumbs)


def short_report_pdf(request, survey_id):
    return as_pdf(request, _short_report(request, survey_id)[1])


def _short_report(request, survey_id):
    """Of the register as it stands now, on two pages of the size asked for."""
    survey = _survey(survey_id)
    today = timezone.localdate()
    standing = Standing(number=None, on=today, by=signed_by(request))
    content = report_content(survey_id=survey.pk, standing=standing, units=own_units(request))
    issued = survey.reports.order_by("-number").values_list("number", flat=True).first()
    return survey, fitted_short_report(content, size_asked(request), on=today, issued=issued)


def change_report_pdf(request, vessel_id):
    """Of the two surveys chosen on the page, or else of the last two."""
    vessel = _vessel(vessel_id)
    surveys = list(vessel.surveys.newest_first())
    pair = BetweenSurveysForm(request.GET or None, surveys=surveys).pair()
    if not pair:
        return _no_pair(request, vessel)
    earlier, later = pair
    later.vessel = vessel
    compared = compare(vessel, earlier, later)
    try:
        seen = shown(request, compared, earlier, later)
        hull, _ = laid_out(vessel, seen, own_units(request), paper=size_asked(request))
    except ValueError:
        hull = None  # she has no length yet to draw her by
    paper = change_report(earlier, later, compared, on=timezone.localdate(), hull=hull)
    return as_pdf(request, paper)


def _no_pair(request, vessel: Vessel):
    context = {"vessel": vessel, "crumbs": _of_vessel(vessel)}
    return render(request, "restoration/no_change_report.html", context, status=404)


def _of_vessel(vessel: Vessel) -> list[tuple[str, str]]:
    return [("Vessels", reverse("restoration:vessels")), (vessel.name, vessel.get_absolute_url())]


def _vessel(pk) -> Vessel:
    return get_object_or_404(Vessel.objects.select_related("client", "hull_lines"), pk=pk)


def _member(pk) -> Member:
    return get_object_or_404(Member.objects.select_related("vessel", "wood"), pk=pk)


def _survey(pk) -> Survey:
    return get_object_or_404(Survey.objects.select_related("vessel__client"), pk=pk)
