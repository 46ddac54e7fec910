"""On which day each member of a vessel was replaced in full, in one query."""

from datetime import date

from restoration.models import Allotment


def fitted_days(vessel_id: int) -> dict[int, date]:
    """By member: the day its last length was fitted; none while one is still to be fitted."""
    standing = Allotment.objects.standing().filter(
        spec__finding__member__vessel=vessel_id, spec__withdrawn_on=None
    )
    days: dict[int, list] = {}
    for member, day in standing.order_by().values_list("spec__finding__member", "fitted_on"):
        days.setdefault(member, []).append(day)
    return {member: max(all_) for member, all_ in days.items() if None not in all_}
