"""The rows behind the money of a vessel, with the yard's whole past; a fixed number of queries."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from django.db.models import Exists, OuterRef, Prefetch, Q, Sum
from django.utils import timezone

from restoration.calc import stages
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
from restoration.models.yard import PastRate
from restoration.reports.gather_members import hull_order
from restoration.reports.money import HoursAt, SpecMoney, VesselMoney, add_up
from restoration.reports.money_timber import TimberMoney, money_of_members

BEYOND = (
    "Those not done took more already than that would make of their estimates: no range is given."
)


def vessel_money(vessel: Vessel) -> VesselMoney:
    """Every open replacement of the vessel, and what all that the yard has done says of it."""
    yard = Yard.current()
    specs = _specs(Q(finding__member__vessel=vessel) | Q(is_done=True))
    rates = _Rates(yard)
    rows = _told(specs, rates)
    past, left_out = the_past(rows)
    own = [spec for spec in specs if spec.finding.member.vessel_id == vessel.pk]
    own.sort(key=lambda spec: (*hull_order(spec.finding.member), spec.pk))
    told = tuple(_with_range(rows[spec.pk], past) for spec in own)
    spent = Cost.objects.standing().filter(vessel=vessel).aggregate(sum=Sum("amount"))
    money = VesselMoney(
        currency=yard.currency,
        rate=rates.today(),
        rate_since=rates.since(),
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
        .prefetch_related(
            Prefetch("costs", Cost.objects.standing(), to_attr="spent_on_it"),
            Prefetch("work_steps", WorkStep.objects.with_hours(), to_attr="worked"),
        )
    )


class _Rates:
    """What an hour is reckoned at on each day."""

    def __init__(self, yard: Yard) -> None:
        self.yard, self.past = yard, list(PastRate.objects.all())

    def today(self) -> Decimal | None:
        return self.yard.rate_on(timezone.localdate(), self.past)

    def since(self) -> date | None:
        """The first day of today's rate, where there was another before it."""
        over = [rate.until for rate in self.past if rate.until < timezone.localdate()]
        return over[-1] + timedelta(days=1) if over and self.yard.hourly_rate else None

    def of(self, steps: Iterable[WorkStep]) -> tuple[HoursAt, ...]:
        """Hours by their rate, the earlier rate first; none while the yard keeps no rate."""
        hours: dict[Decimal, Decimal] = {}
        for step in steps:
            rate = self.yard.rate_on(step.on, self.past)
            if rate is not None:
                hours[rate] = hours.get(rate, NOTHING) + step.hours
        return tuple(HoursAt(count, rate) for rate, count in hours.items())


def _told(specs: Sequence[ReplacementSpec], rates: _Rates) -> dict[int, SpecMoney]:
    members = {spec.finding.member_id for spec in specs}
    timber = money_of_members(sorted(members), by_worth=rates.yard.cost_by == CostBy.WORTH)
    return {spec.pk: _row(spec, timber, rates) for spec in specs}


def _row(spec: ReplacementSpec, timber: TimberMoney, rates: _Rates) -> SpecMoney:
    member, at_rates = spec.finding.member, rates.of(spec.worked)
    labour = sum((each.hours * each.rate for each in at_rates), NOTHING).quantize(CENT)
    carried, not_known = timber.of_spec(spec.pk)
    return SpecMoney(
        spec_id=spec.pk,
        mark=member.mark,
        term=member.term(),
        group=member.group(),
        stage=_stage(spec),
        is_done=spec.is_done,
        has_timber=timber.has_timber(spec.pk),
        timber=carried.timber,
        waste=carried.waste,
        sawing=carried.sawing,
        hours_estimate=spec.hours_estimate,
        hours=spec.hours_worked or NOTHING,
        labour=None if rates.yard.hourly_rate is None else labour,
        at_rates=at_rates,
        wide=tuple(timber.wide_of(spec.pk)),
        fastenings=_spent(spec.spent_on_it, CostKind.FASTENINGS),
        sundries=_spent(spec.spent_on_it, CostKind.SUNDRIES),
        bought_in=_spent(spec.spent_on_it, CostKind.BOUGHT_IN),
        estimate=spec.cost_estimate,
        not_known=tuple(not_known),
    )


def _stage(spec: ReplacementSpec) -> str:
    """As elsewhere its timber's stage; that it is fastened, which ends the work, is said too."""
    at = Stage(spec.stage).label
    if not spec.is_done:
        return at
    is_fitted = spec.stage == Stage.FITTED
    return f"{at} and {stages.FASTENED.word}" if is_fitted else stages.FASTENED.word


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
