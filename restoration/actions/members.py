"""Keeping vessels, their members, and what joins one member to another."""

from collections.abc import Iterable, Mapping

from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from restoration.actions.allotments import relabel_boards
from restoration.actions.vessel_picture import set_caption, set_picture, take_off_picture
from restoration.calc.repeated_members import PlannedMember
from restoration.models import Client, Fastening, Joint, Member, Vessel
from timber_stock.web.pictures import Picture


def keep_vessel(
    *,
    vessel: Vessel,
    new_client: str = "",
    picture: Picture | None = None,
    caption: str = "",
    without_picture: bool = False,
) -> Vessel:
    """Store a new or changed vessel; with her her client if new too, and her picture."""
    with transaction.atomic():
        if new_client:
            vessel.client = _keep(Client(name=new_client))
        _keep(vessel)
        relabel_boards(members=vessel.members.all())
        if picture:
            set_picture(vessel=vessel, picture=picture, caption=caption)
        elif without_picture:
            take_off_picture(vessel=vessel)
        else:
            set_caption(vessel=vessel, caption=caption)
    return vessel


def keep_member(*, member: Member) -> Member:
    """Store a new or changed member; boards kept for it bear its new mark."""
    with transaction.atomic():
        _keep(member)
        relabel_boards(members=[member.pk])
    return member


def make_members(
    *,
    vessel: Vessel,
    kind: str,
    planned: Iterable[PlannedMember],
    as_typed: Mapping[str, str] | None = None,
    **more,
) -> list[Member]:
    """Store a whole run of members of one kind, or none of it; `more` is the same for all."""
    members = [
        Member(
            vessel=vessel, kind=kind, as_typed=dict(as_typed or {}), **_particulars(plan), **more
        )
        for plan in planned
    ]
    for member in members:
        member.clean_fields(exclude=["vessel", "wood"])
    try:
        with transaction.atomic():
            _refuse_taken(vessel, members)
            return Member.objects.bulk_create(members)
    except IntegrityError as error:  # the database's own word, should two ever pass the check
        _refuse_taken(vessel, members)
        raise ValidationError("Nothing was stored: a size or a mark is not possible.") from error


def taken_marks(vessel: Vessel, marks: Iterable[str]) -> list[str]:
    """Those of these marks that a member of the vessel bears already, in the order given."""
    taken = {mark.upper() for mark in vessel.members.values_list("mark", flat=True)}
    return [mark for mark in marks if mark.upper() in taken]


@transaction.atomic
def join_members(
    *,
    member: Member,
    others: Iterable[Member],
    note: str = "",
    fastening: Mapping[str, object] | None = None,
) -> list[Joint]:
    """Join a member to each of the others, all by the same fastening if one is given."""
    joints = []
    for other in others:
        one, another = sorted([member, other], key=lambda each: each.pk)
        joints.append(_keep(Joint(one=one, other=another, note=note)))
        if fastening:
            _keep(Fastening(joint=joints[-1], **fastening))
    return joints


def _particulars(plan: PlannedMember) -> dict[str, object]:
    return {
        "mark": plan.mark,
        "number": plan.number,
        "side": plan.side,
        "station_from": plan.station,
        "station_to": plan.station,
        "sided_mm": plan.sided_mm,
        "moulded_mm": plan.moulded_mm,
        "length_mm": plan.length_mm,
    }


def _refuse_taken(vessel: Vessel, members: list[Member]) -> None:
    if taken := taken_marks(vessel, [member.mark for member in members]):
        raise ValidationError(
            f"Nothing was stored: {vessel} has members of these marks already: {', '.join(taken)}."
        )


def _keep(thing):
    try:
        with transaction.atomic():
            thing.full_clean()
            thing.save()
    except IntegrityError:
        thing.full_clean()  # whoever was quicker is seen by now, and named
        raise
    return thing
