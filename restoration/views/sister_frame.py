"""A sister proposed beside a frame, against the published rules and what surveys found of both."""

from restoration.calc import frame_rules, published_rules
from restoration.forms.sister_frame import SisterForm
from restoration.models import Finding, Member
from timber_stock.web.pages import own_units

DAMAGED = ("2", "3")
DECAY = ("BROWN_ROT", "WHITE_ROT", "SOFT_ROT", "DECAY_EARLY")


def sister_proposed(request, member: Member) -> dict:
    """For the template; nothing for what is no frame, or has no number or no sizes to compare."""
    known = member.number and member.sided_mm and member.moulded_mm
    if member.kind not in published_rules.FRAMES or not known:
        return {}
    asked = request.GET if "reach_mm" in request.GET else None
    form = SisterForm(asked, units=own_units(request))
    context = {"sister_form": form, "sister_advice": frame_rules.ADVICE}
    if form.is_bound and form.is_valid():
        damaged, decayed = _damaged_beside(member)
        proposed = form.proposed(member.number, member.sided_mm, member.moulded_mm)
        try:
            checks = frame_rules.check_sister(proposed, damaged, decayed)
        except ValueError as error:
            form.refuse(error)
        else:
            context |= {"sister_checks": checks, "damaged": damaged, "decayed": decayed}
    return context


def _damaged_beside(member: Member) -> tuple[list[int], list[int]]:
    """The numbers of the frames of her side that the newest findings say are bad, and decayed."""
    frames = Member.objects.with_condition().filter(
        vessel=member.vessel_id, side=member.side, kind__in=published_rules.FRAMES
    )
    bad = frames.filter(latest_condition__in=DAMAGED, number__isnull=False)
    findings = dict(bad.values_list("latest_finding_id", "number"))
    rotten = Finding.objects.filter(pk__in=findings, causes__cause__in=DECAY)
    decayed = {findings[pk] for pk in rotten.values_list("pk", flat=True)}
    return sorted(set(findings.values())), sorted(decayed)
