"""Where each thing that a draft report lacks is put right: an address for it, or for each mark."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from django.urls import reverse

from restoration.models import Finding, Survey
from restoration.reports.checklist import (
    CLIENT,
    ISSUE,
    MEMBER,
    PICTURES,
    ROUND,
    SPEC,
    SURVEY,
    VESSEL,
    Lack,
    Point,
)


@dataclass(frozen=True)
class LinkedLack:
    """Either `address` is given, for all that is said, or one for each of `marks`."""

    what: str
    address: str
    marks: tuple[tuple[str, str], ...]


def linked(points: Iterable[Point], survey: Survey) -> list[tuple[Point, list[LinkedLack]]]:
    """Two queries, however many marks are named."""
    members = dict(survey.vessel.members.values_list("mark", "pk"))
    found = Finding.objects.filter(survey=survey).newest_first().values_list("member_id", "pk")
    findings = dict(reversed(list(found)))  # the newest is the one that is kept of each
    whole = _whole(survey)

    def at(where: str, mark: str) -> str:
        return _of_mark(where, survey.pk, members.get(mark), findings)

    return [(point, [_linked(lack, whole, at) for lack in point.lacks]) for point in points]


def _linked(lack: Lack, whole: dict[str, str], at: Callable[[str, str], str]) -> LinkedLack:
    """What is put right in one place for all its marks names them without a link to each."""
    if lack.where in whole:
        return LinkedLack(lack.text, whole[lack.where], ())
    return LinkedLack(lack.what, "", tuple((mark, at(lack.where, mark)) for mark in lack.marks))


def _whole(survey: Survey) -> dict[str, str]:
    return {
        CLIENT: reverse("restoration:client_edit", args=[survey.vessel.client_id]),
        VESSEL: reverse("restoration:vessel_edit", args=[survey.vessel_id]),
        SURVEY: reverse("restoration:survey_edit", args=[survey.pk]),
        ROUND: survey.get_absolute_url(),
        ISSUE: "#issue",
    }


def _of_mark(where: str, survey: int, member: int | None, findings: dict[int, int]) -> str:
    """Findings are kept as they were made: what one lacks is put right by adding another."""
    if member is None:
        return ""
    if where in (MEMBER, PICTURES):
        name = "member_edit" if where == MEMBER else "member_photographs"
        return reverse(f"restoration:{name}", args=[member])
    if where == SPEC and member in findings:
        return reverse("restoration:spec_new", args=[findings[member]])
    return reverse("restoration:finding_new", args=[survey, member])
