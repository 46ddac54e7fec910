"""What an earlier survey found that goes on by itself: to be looked at again in this one."""

from dataclasses import dataclass

from restoration.calc import between_surveys as calc
from restoration.calc import vocabulary
from restoration.models import Finding, FindingCause, Survey
from restoration.views.replaced import fitted_days
from restoration.views.rounds import Round


@dataclass(frozen=True)
class ToCheck:
    """A member with the earlier finding that asks for it, by which causes; done: seen again."""

    member: object
    earlier: Finding
    causes: tuple[str, ...]
    done: bool


def to_check(survey: Survey, walk: Round) -> list[ToCheck]:
    """Rot and corrosion of the last finding before this survey, and not replaced since."""
    stops = [stop for stop in walk.stops if stop.earlier and calc.class_of(stop.earlier.condition)]
    causes = _causes([stop.earlier.pk for stop in stops])
    fitted = fitted_days(survey.vessel_id)
    found = []
    for stop in stops:
        codes = causes.get(stop.earlier.pk, ())
        replaced = fitted.get(stop.member.pk)
        since = replaced is not None and replaced >= stop.earlier.survey.surveyed_on
        if not since and calc.goes_on(stop.earlier.condition, codes):
            names = tuple(vocabulary.cause(code).name for code in codes)
            found.append(ToCheck(stop.member, stop.earlier, names, stop.finding is not None))
    return found


def _causes(findings: list[int]) -> dict[int, list[str]]:
    named: dict[int, list[str]] = {}
    rows = FindingCause.objects.filter(finding__in=findings).order_by("rank")
    for finding, code in rows.values_list("finding_id", "cause"):
        named.setdefault(finding, []).append(code)
    return named
