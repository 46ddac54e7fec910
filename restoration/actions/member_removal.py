"""Taking a member off the register that was entered by mistake."""

from django.core.exceptions import ValidationError
from django.db import transaction
from django.db.models import ProtectedError

from restoration.models import Member


def why_it_stays(member: Member) -> str:
    """A sentence, where a member cannot be removed; nothing where it can."""
    count = member.findings.count()
    if not count:
        return _why_for_patterns(member)
    findings = "a finding" if count == 1 else f"{count} findings"
    return (
        f"{member.mark} has {findings}, and a survey is never unsaid: it stays. If it was found "
        "under a wrong mark or kind, correct its particulars."
    )


def _why_for_patterns(member: Member) -> str:
    if not member.patterns.exists():
        return ""
    return f"{member.mark} has a pattern: take that off the register first."


@transaction.atomic
def remove_member(*, member: Member) -> None:
    """Remove a member that no survey has found anything of, with its joints and fastenings."""
    if reason := why_it_stays(member):
        raise ValidationError(reason)
    try:
        member.delete()
    except ProtectedError as error:
        raise ValidationError(f"{member.mark} stays: other records speak of it.") from error
