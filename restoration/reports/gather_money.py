"""The rows behind the money of a vessel, with the yard's whole past; a fixed number of queries."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal

from django.db.models import Exists, OuterRef, Prefetch, Q, Sum

from restoration.calc.money_range import RULE, Past, from_the_past, range_of
from restoration.calc.money_spread import CENT, NOTHING
from restoration.models import (
    Cost,
    CostBy,
    CostKind,
    ReplacementSpec,
    Vessel,
    Work,
    WorkStep,
    Yard,
)
from restoration.models.replacement import Stage
from restoration.reports.gather_members import hull_order
from restoration.reports.money import SpecMoney, VesselMoney, add_up
from restoration.reports.money_timber import TimberMoney, money_of_members

BEYOND = (
    "Those not done took more already than that would make of their estimates: no range is given."
)


def vessel_money(vessel: Vessel) -> VesselMoney:
    """Every open replacement of the vessel, and what all that the yard has done says of it."""
    yard = Yard.current()
    specs = _specs(Q(finding__member__vessel=vessel) | Q(is_done=True))
    rows = _told(specs, yard)
    past, left_out = the_past(rows)
    own = [spec for spec in specs if spec.finding.member.vessel_id == vessel.pk]
    own.sort(key=lambda spec: (*hull_order(spec.finding.member), spec.pk))
    told = tuple(_with_range(rows[spec.pk], past) for spec in own)
    spent = Cost.objects.standing().filter(vessel=vessel).aggregate(sum=Sum("amount"))
    money = VesselMoney(
        currency=yard.currency,
        rate=yard.hourly_rate,
        spread_by=yard.get_cost_by_display(),
        replacements=told,
        besides=spent["sum"] or NOTHING,
        past_says=f"{past.says} {_left_out(left_out)}".strip(),
        past_rule=RULE,
    )
    return _with_whole_range(money, past)


def spec_money(spec_id: int) -> tuple[SpecMoney, VesselMoney] | None:
    """One replacement and the vessel's money it is a part of; None if it is not open."""
    spec = ReplacementSpec.objects.open().filter(pk=spec_id)
    vessel = Vessel.objects.filter(members__findings__specs__in=spec).first()
    if vessel is None:
        return None
    money = vessel_money(vessel)
    return next(row for row in money.replacements if row.spec_id == spec_id), money


def the_past(rows: dict[int, SpecMoney]) -> tuple[Past, int]:
    """What the jobs done took to what was estimated; and how many done say nothing of it."""
    done = [row for row in rows.values() if row.is_done]
    telling = [row for row in done if row.estimate and row.spent and not row.lacks]
    ratios = [float(row.spent / row.estimate) for row in telling if row.estimate]
    return from_the_past(ratios), len(done) - len(telling)


def _left_out(count: int) -> str:
    if not count:
        return ""
    jobs = "1 job" if count == 1 else f"{count} jobs"
    wants = "an estimate, hours, a rate or what the timber cost"
    return f"{jobs} done could not be counted, for want of {wants}."


def _specs(which: Q) -> list[ReplacementSpec]:
    fastened = WorkStep.objects.done().filter(spec=OuterRef("pk"), stage=Work.FASTENED)
    return list(
        ReplacementSpec.objects.open()
        .with_stage()
        .with_hours()
        .annotate(is_done=Exists(fastened))
        .filter(which)
        .select_related("finding__member")
        .prefetch_related(Prefetch("costs", Cost.objects.standing(), to_attr="spent_on_it"))
    )


def _told(specs: Sequence[ReplacementSpec], yard: Yard) -> dict[int, SpecMoney]:
    members = {spec.finding.member_id for spec in specs}
    timber = money_of_members(sorted(members), by_worth=yard.cost_by == CostBy.WORTH)
    return {spec.pk: _row(spec, timber, yard.hourly_rate) for spec in specs}


def _row(spec: ReplacementSpec, timber: TimberMoney, rate: Decimal | None) -> SpecMoney:
    member, hours = spec.finding.member, spec.hours_worked or NOTHING
    carried, not_known = timber.of_spec(spec.pk)
    stage = "fastened" if spec.is_done else Stage(spec.stage).label
    return SpecMoney(
        spec_id=spec.pk,
        mark=member.mark,
        term=member.term(),
        group=member.group(),
        stage=stage,
        is_done=spec.is_done,
        has_timber=timber.has_timber(spec.pk),
        timber=carried.timber,
        waste=carried.waste,
        sawing=carried.sawing,
        hours_estimate=spec.hours_estimate,
        hours=hours,
        labour=None if rate is None else (hours * rate).quantize(CENT),
        fastenings=_spent(spec.spent_on_it, CostKind.FASTENINGS),
        sundries=_spent(spec.spent_on_it, CostKind.SUNDRIES),
        bought_in=_spent(spec.spent_on_it, CostKind.BOUGHT_IN),
        estimate=spec.cost_estimate,
        not_known=tuple(not_known),
    )


def _spent(costs: Iterable[Cost], kind: str) -> Decimal:
    return sum((cost.amount for cost in costs if cost.kind == kind), NOTHING)


def _with_range(row: SpecMoney, past: Past) -> SpecMoney:
    if row.is_done or row.estimate is None:
        return row
    wide = range_of(row.estimate, past, row.spent)
    if wide is None:
        return replace(row, is_beyond=past.low is not None)
    return replace(row, low=wide.low, high=wide.high)


def _with_whole_range(money: VesselMoney, past: Past) -> VesselMoney:
    rows = [row for row in money.replacements if not row.is_done and row.estimate is not None]
    sums = add_up(rows)
    wide = range_of(sums.estimate, past, sums.spent) if rows else None
    if wide is not None:
        return replace(money, low=wide.low, high=wide.high)
    beyond = rows and past.low is not None
    return replace(money, past_says=f"{money.past_says} {BEYOND}") if beyond else money
