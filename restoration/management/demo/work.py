from datetime import date
from decimal import Decimal

from restoration.actions.waiting import set_wait
from restoration.actions.work import log_hours, plan_work, reach_stage
from restoration.models import Member, ReplacementSpec, User

from .read import read
from .surveys import load_spec


def load_work() -> None:
    said = read("work")
    for row in said["spec"]:
        load_spec(row)
    yard = User.objects.get(username="yard")
    for vessel, rows in said["done"].items():
        for row in rows:
            do(vessel, *row, yard)
    for vessel, rows in said["next"].items():
        for mark, username, wanted in rows:
            person = User.objects.get(username=username)
            day = date.fromisoformat(wanted) if wanted else None
            plan_work(spec_id=spec_of(vessel, mark).pk, person=person, wanted_on=day)
    for vessel, rows in said["waits"].items():
        for row in rows:
            wait(vessel, *row, yard)


def spec_of(vessel: str, mark: str) -> ReplacementSpec:
    return ReplacementSpec.objects.get(
        finding__member__vessel__code=vessel, finding__member__mark=mark
    )


def do(
    vessel: str, mark: str, what: str, on: date, by: str, hours: str, note: str, yard: User
) -> None:
    told = {"spec_id": spec_of(vessel, mark).pk, "on": on, "by": by, "note": note}
    told |= {"hours": Decimal(hours), "recorded_by": yard, "stage": what.removeprefix("+")}
    (log_hours if what.startswith("+") else reach_stage)(**told)


def wait(vessel: str, mark: str, after: str, out: str, note: str, yard: User) -> None:
    set_wait(
        spec_id=spec_of(vessel, mark).pk,
        after=spec_of(vessel, after) if after else None,
        member_out=Member.objects.get(vessel__code=vessel, mark=out) if out else None,
        note=note,
        by=yard,
    )
