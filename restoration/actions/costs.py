"""What was spent, entered and taken back."""

from datetime import date
from decimal import Decimal

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration.models import Cost, ReplacementSpec, User, Vessel


@transaction.atomic
def enter_cost(
    *,
    kind: str,
    amount: Decimal,
    on: date,
    by: User,
    note: str = "",
    spec: ReplacementSpec | None = None,
    vessel: Vessel | None = None,
) -> Cost:
    """Spent on a replacement that stands, or on a vessel as a whole."""
    if spec is not None and spec.withdrawn_on:
        raise ValidationError("This specification was withdrawn: nothing more is spent on it.")
    cost = Cost(spec=spec, vessel=vessel, kind=kind, amount=amount, on=on, note=note.strip(), by=by)
    cost.full_clean()
    cost.save()
    return cost


@transaction.atomic
def take_back_cost(*, cost: Cost, by: User, on: date) -> Cost:
    """It stays on record as taken back, and is in no sum any more."""
    cost = Cost.objects.select_for_update().get(pk=cost.pk)
    if cost.taken_back_on:
        raise ValidationError("This entry is taken back already.")
    cost.taken_back_on, cost.taken_back_by = on, by
    cost.full_clean()
    cost.save()
    return cost
