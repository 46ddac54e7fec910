"""Keeping the patterns of a member, however they were taken."""

from datetime import date

from django.db import transaction

from restoration.calc import pattern as calc
from restoration.models import Member, User
from restoration.models.pattern import Pattern
from restoration.models.pattern_drawing import PatternDrawing


@transaction.atomic
def keep_pattern(
    *,
    member: Member,
    pattern: calc.Pattern,
    name: str,
    taken: str,
    by: User,
    side: str = "",
    turns_over: bool = False,
    taken_on: date | None = None,
    note: str = "",
    as_entered: dict | None = None,
    drawing: PatternDrawing | None = None,
    replaces: Pattern | None = None,
) -> Pattern:
    """Keep a pattern of this member; with `replaces`, as the next version of that one.

    `taken` is one of `Taken`; `as_entered` whatever that way needs to be taken up again. Raises
    ValidationError where the pattern does not hold or the one it replaces was replaced meanwhile.
    """
    if replaces:  # held still, so that of two who change it at once the second is told
        Pattern.objects.select_for_update().get(pk=replaces.pk)
    kept = Pattern(
        member=member,
        name=name.strip(),
        side=side or usual_side(member),
        turns_over=turns_over,
        sided_mm=pattern.sided_mm,
        data=calc.to_data(pattern),
        taken=taken,
        by=by,
        note=note.strip(),
        as_entered=as_entered or {},
        drawing=drawing,
        replaces=replaces,
        version=replaces.version + 1 if replaces else 1,
    )
    if taken_on is not None:
        kept.taken_on = taken_on
    kept.full_clean()
    kept.save()
    return kept


def usual_side(member: Member) -> str:
    """The side a pattern is taken of where nobody says: the member's, port where it is of both."""
    return "P" if member.side == "B" else member.side


@transaction.atomic
def take_back_pattern(*, pattern: Pattern, all_versions: bool = False) -> Pattern | None:
    """Remove the newest version; returns the one that stands again, or None.

    The drawing it was taken from goes with the last pattern of it.
    Raises ProtectedError where something rests on it: a later version, a piece laid out.
    """
    before, drawing = pattern.replaces, pattern.drawing
    pattern.delete()
    if drawing is not None and not drawing.patterns.exists():
        _remove_drawing(drawing)
    if before is not None and all_versions:
        return take_back_pattern(pattern=before, all_versions=True)
    return before


def _remove_drawing(drawing: PatternDrawing) -> None:
    drawing.delete()
    file = drawing.file
    transaction.on_commit(lambda: file.storage.delete(file.name))
