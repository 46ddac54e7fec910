"""What may change about a photograph once it is kept: its place, its caption and its marks."""

from django.db import transaction

from restoration.models import Photograph, PhotographMark, User


def move_photograph(*, photograph: Photograph, earlier: bool) -> None:
    """Change places with the one before or after it in the same finding, if there is one."""
    with transaction.atomic():
        row = list(Photograph.objects.select_for_update().filter(finding=photograph.finding_id))
        if photograph not in row:
            raise Photograph.DoesNotExist  # taken away since it was looked at
        at = row.index(photograph)
        to = at - 1 if earlier else at + 1
        if 0 <= to < len(row):
            row[at], row[to] = row[to], row[at]
        for position, one in enumerate(row, start=1):
            one.position = position
        Photograph.objects.bulk_update(row, ["position"])


def mark_photograph(
    *, photograph: Photograph, kind: str, points: list, text: str, by: User
) -> PhotographMark:
    mark = PhotographMark(photograph=photograph, kind=kind, points=points, text=text, made_by=by)
    mark.full_clean()
    mark.save()
    return mark
