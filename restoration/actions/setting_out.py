"""Storing a set of members proposed for a hull, and changing the sizes of a range of them."""

from collections.abc import Collection, Iterable, Mapping

from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from restoration.actions.hull_lines import keep_hull_lines
from restoration.actions.members import taken_marks
from restoration.calc.setting_out import ProposedMember
from restoration.models import Member, Vessel
from restoration.models.hull_lines import HullLines

MEANWHILE = (
    "Nothing was stored: someone else entered members of these marks meanwhile. Look at the new "
    "proposal, which leaves theirs alone."
)


def set_out(
    *, vessel: Vessel, proposed: Iterable[ProposedMember], lines: HullLines | None = None
) -> list[Member]:
    """Store all of the proposed members or none. `lines`, if given, are kept with them: they say
    what the members' stations mean."""
    members = [_member(vessel, each) for each in proposed]
    for member in members:
        member.clean_fields(exclude=["vessel", "wood"])
    try:
        with transaction.atomic():
            if taken_marks(vessel, [member.mark for member in members]):
                raise ValidationError(MEANWHILE)
            if lines is not None:
                keep_hull_lines(lines=lines)
            return Member.objects.bulk_create(members)
    except IntegrityError as error:
        raise ValidationError(MEANWHILE) from error


def _member(vessel: Vessel, each: ProposedMember) -> Member:
    return Member(
        vessel=vessel,
        kind=each.kind,
        mark=each.mark,
        number=each.number,
        side=each.side,
        station_from=each.station_from,
        station_to=each.station_to,
        sided_mm=each.sided_mm,
        moulded_mm=each.moulded_mm,
    )


@transaction.atomic
def change_range(
    *,
    members: Collection[Member],
    changes: Mapping[str, object],
    as_typed: Mapping[str, str] | None = None,
) -> list[Member]:
    """Give every one of these members the same sizes, wood or material, or none of them.

    Raises ValidationError where one of them was changed or removed since it was read.
    """
    names = list(changes)
    now = Member.objects.select_for_update().in_bulk([member.pk for member in members])
    for seen in members:
        stored = now.get(seen.pk)
        if stored is None or any(getattr(stored, n) != getattr(seen, n) for n in names):
            raise ValidationError(
                f"Nothing was changed: {seen.mark} was changed meanwhile. Look again."
            )
    for member in now.values():
        for name, value in changes.items():
            setattr(member, name, value)
        member.as_typed = {**member.as_typed, **(as_typed or {})}
        member.full_clean(exclude=["vessel"])
    Member.objects.bulk_update(now.values(), [*names, "as_typed"])
    return list(now.values())
