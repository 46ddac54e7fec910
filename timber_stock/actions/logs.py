"""Entering a log and correcting it, its books kept in balance with what was sawn out of it."""

from django.core.exceptions import ValidationError
from django.db import transaction

from timber_stock.models import Board, Log

from .pieces import ROUNDING, SLACK_MM
from .tag_book import hold_tag_book


@transaction.atomic
def keep_log(*, log: Log, is_sawn_up: bool | None = None) -> Log:
    """Enter a log, or correct one: what was sawn out of it must still fit in it.

    `is_sawn_up` says whether nothing more will come out of it; None leaves that as it is.
    """
    hold_tag_book()
    stored = Log.objects.select_for_update().get(pk=log.pk) if log.pk else None
    if stored:
        # Someone may have sawn from it while this form stood open.
        log.taken_mm3, log.is_sawn_up = stored.taken_mm3, stored.is_sawn_up
        if is_sawn_up is not None:
            log.is_sawn_up = is_sawn_up
        _check_tag_stays(stored, log)
        _check_holds_what_came_out(log)
    log.reckon_solid()
    if stored:
        balance_books(log)
    log.full_clean()
    log.save()
    if stored and stored.species_id != log.species_id:
        log.boards.update(species_id=log.species_id)
    return log


def balance_books(log: Log) -> None:
    """Each sawing took its boards and its kerf; the one that finished the log took all the rest."""
    sawings = list(log.sawings.order_by("pk"))
    if log.is_sawn_up and not sawings:
        raise ValidationError(f"Nothing has been sawn from {log.tag} yet: it is not sawn up.")
    used = sum(sawing.out_mm3 + sawing.kerf_mm3 for sawing in sawings)
    if used > log.solid_mm3 * (1 + ROUNDING):
        raise ValidationError(
            f"{used / 1e9:.3f} m³ of boards and kerf came out of {log.tag}, and a log of these "
            f"sizes holds only {log.solid_mm3 / 1e9:.3f} m³."
        )
    for sawing in sawings:
        sawing.in_mm3 = sawing.out_mm3 + sawing.kerf_mm3
    if log.is_sawn_up:
        sawings[-1].in_mm3 += max(0.0, log.solid_mm3 - used)
    for sawing in sawings:
        sawing.save(update_fields=["in_mm3"])
    log.taken_mm3 = log.solid_mm3 if log.is_sawn_up else min(used, log.solid_mm3)


def _check_tag_stays(stored: Log, log: Log) -> None:
    if stored.tag != log.tag and log.sawings.exists():
        raise ValidationError(
            {"tag": f"Boards sawn from {stored.tag} carry its tag: it cannot be called {log.tag}."}
        )


def _check_holds_what_came_out(log: Log) -> None:
    thickest = max(*log.across("butt"), *log.across("top"))
    for board in Board.objects.filter(sawing__source_log=log):
        diagonal = (board.thickness_mm**2 + board.width_mm**2) ** 0.5
        if board.length_mm > log.length_mm + SLACK_MM:
            raise ValidationError(f"{board.tag}, sawn from {log.tag}, is longer than that.")
        if diagonal > thickest + SLACK_MM:
            raise ValidationError(
                f"{board.tag}, sawn from {log.tag}, is too big for a log of these diameters."
            )
