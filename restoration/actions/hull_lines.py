"""Keeping what a vessel's hull sheet is drawn from."""

from django.db import transaction

from restoration.models.hull_lines import HullLines


@transaction.atomic
def keep_hull_lines(*, lines: HullLines) -> HullLines:
    """Store the hull lines of a vessel; in place of those that another stored meanwhile."""
    meanwhile = HullLines.objects.select_for_update().filter(vessel=lines.vessel).first()
    if meanwhile and lines.pk is None:
        lines.pk, lines._state.adding = meanwhile.pk, False
    lines.full_clean()
    lines.save()
    return lines
