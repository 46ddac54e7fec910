"""Deciding what replaces a member, changing one's mind, taking it back."""

from collections.abc import Iterable
from datetime import date

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration.models import Finding, ReplacementSpec, User, Work
from restoration.timber import Species
from timber_stock.web.days import day_said

WITHDRAWN = "This specification was withdrawn."


@transaction.atomic
def specify_replacement(
    *, finding: Finding, spec: ReplacementSpec, other_woods: Iterable[Species], by: User
) -> ReplacementSpec:
    """Keep a new specification, decided from a finding by somebody."""
    spec.finding, spec.specified_by = finding, by
    return _save(spec, other_woods)


@transaction.atomic
def change_specification(
    *, spec: ReplacementSpec, other_woods: Iterable[Species]
) -> ReplacementSpec:
    """Keep what was changed; never once a piece has been cut to the old sizes."""
    if refused := why_not_changed(_locked(spec)):
        raise ValidationError(refused)
    return _save(spec, other_woods)


@transaction.atomic
def withdraw_specification(*, spec: ReplacementSpec, on: date, reason: str) -> ReplacementSpec:
    spec = _locked(spec)
    if spec.withdrawn_on:
        raise ValidationError(WITHDRAWN)
    boards = sorted({str(a.board) for a in spec.allotments.standing().select_related("board")})
    if boards:
        raise ValidationError(
            f"Timber is allotted to it from {', '.join(boards)}. Withdraw what is allotted "
            "first; what has been cut or fitted stays, and so does its specification."
        )
    if spec.work_steps.done().filter(stage=Work.TAKEN_OUT).exists():
        raise ValidationError(
            f"{spec.finding.member.mark} is recorded as taken out for it. Take that back first on "
            "the page of its work, and record it for the specification that comes instead."
        )
    if not reason.strip():
        raise ValidationError("Say why the specification is withdrawn.")
    spec.withdrawn_on, spec.withdrawn_reason = on, reason.strip()
    spec.full_clean()
    spec.save()
    return spec


def why_not_changed(spec: ReplacementSpec) -> str:
    """The sentence that says why a specification stays as it is; nothing when it may change."""
    if spec.withdrawn_on:
        return WITHDRAWN
    cut = spec.allotments.standing().filter(cut_on__isnull=False).select_related("board").first()
    if not cut:
        return ""
    return (
        f"A piece was cut for it from {cut.board} on {day_said(cut.cut_on)}: the "
        "specification stays as it was cut to. Specify anew from the finding if it must differ."
    )


def _locked(spec: ReplacementSpec) -> ReplacementSpec:
    return ReplacementSpec.objects.select_for_update().get(pk=spec.pk)


def _save(spec: ReplacementSpec, other_woods: Iterable[Species]) -> ReplacementSpec:
    spec.full_clean()
    spec.save()
    spec.other_woods.set(wood for wood in other_woods if wood.pk != spec.wood_id)
    return spec
