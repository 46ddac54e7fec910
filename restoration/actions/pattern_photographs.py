"""Keeping a photograph of a pattern, its marks, and what is traced on it."""

from collections.abc import Sequence

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration.actions.patterns import keep_pattern
from restoration.calc import pattern as calc
from restoration.calc.rectify import Mark
from restoration.calc.rectify_settled import Settled, settle
from restoration.calc.rectify_view import check_outline
from restoration.models import Member, Pattern, PatternPhotograph, User
from timber_stock.web.kept_pictures import store_files
from timber_stock.web.pictures import Picture


def keep_pattern_photograph(
    *, member: Member, picture: Picture, above_mm: float, by: User
) -> PatternPhotograph:
    kept = PatternPhotograph(
        member=member,
        width_px=picture.width_px,
        height_px=picture.height_px,
        sha256=picture.sha256,
        taken_at=picture.taken_at,
        above_mm=above_mm,
        kept_by=by,
    )
    kept.full_clean(exclude=["image", "thumbnail"])
    store_files(kept, picture)
    kept.save()
    return kept


def set_marks(
    *, photograph: PatternPhotograph, marks: Sequence[Mark], above_mm: float, as_entered: dict
) -> None:
    """Set the marks; ValidationError where they cannot serve, and then the old ones stand."""
    try:
        settle(marks, photograph.width_px, photograph.height_px, above_mm)
    except ValueError as error:
        raise ValidationError(str(error)) from error
    photograph.marks = [[m.x_px, m.y_px, m.x_mm, m.y_mm] for m in marks]
    photograph.above_mm = above_mm
    photograph.as_entered = as_entered
    photograph.save(update_fields=["marks", "above_mm", "as_entered"])


def keep_drawing(*, photograph: PatternPhotograph, drawing: dict[str, str]) -> None:
    """The trace as far as it has come, whatever it is worth: nothing is judged yet."""
    photograph.drawing = drawing
    photograph.save(update_fields=["drawing"])


def why_it_stays(photograph: PatternPhotograph) -> str:
    """A sentence, where a photograph cannot be removed; nothing where it can."""
    traced = photograph.member.patterns.filter(as_entered__photograph=photograph.pk).first()
    return f"It stays: the pattern “{traced}” was traced on it." if traced else ""


def remove_pattern_photograph(*, photograph: PatternPhotograph) -> None:
    if reason := why_it_stays(photograph):
        raise ValidationError(reason)
    photograph.delete()
    for file in (photograph.image, photograph.thumbnail):
        file.storage.delete(file.name)


@transaction.atomic
def keep_traced_pattern(
    *,
    photograph: PatternPhotograph,
    pattern: calc.Pattern,
    drawing: dict[str, str],
    by: User,
    replaces: Pattern | None = None,
    **said: object,
) -> Pattern:
    """The pattern traced on this photograph, with how sure its places are.

    `said` goes to `keep_pattern` as it is: name, side, turns_over, note. ValidationError where the
    outline cannot be trusted from where the lens stood.
    """
    board = photograph.settled()
    if board is None:
        raise ValidationError("Set the marks of the photograph first.")
    try:
        out_mm = check_outline(board.view, photograph.above_mm, pattern.outline_mm)
    except ValueError as error:
        raise ValidationError(str(error)) from error
    keep_drawing(photograph=photograph, drawing=drawing)
    return keep_pattern(
        member=photograph.member,
        pattern=pattern,
        taken="photograph",
        by=by,
        replaces=replaces,
        as_entered=_as_entered(photograph, board, out_mm, drawing),
        **said,
    )


def _as_entered(
    photograph: PatternPhotograph, board: Settled, out_mm: float, drawing: dict[str, str]
) -> dict:
    """What the pattern was traced on, how sure its places are, and the trace as it was."""
    return {
        "photograph": photograph.pk,
        "marks": photograph.marks,
        "residuals_mm": [round(n, 2) for n in board.fit.residuals_mm],
        "doubt_mm": round(board.doubt_marks_mm, 2),
        "parallax_mm": round(out_mm, 2),
        "drawing": drawing,
    }
