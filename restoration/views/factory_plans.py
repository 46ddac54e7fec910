"""What a factory's lot-acceptance plan would ask of the same group, beside what the sample says."""

from dataclasses import dataclass

from restoration.calc import acceptance

LEVELS = (1.0, 4.0)  # percent bad: two of the published levels, so that one sees how they differ
LET_PAST = 0.10  # the chance at which what is let past is told: the limiting quality


@dataclass(frozen=True)
class FactoryPlan:
    """`let_past_percent` bad still passes one time in ten."""

    level_percent: float
    plan: acceptance.Plan
    whole_lot: bool
    let_past_percent: float


def factory_plans(lot: int) -> dict:
    """For the template; nothing for a group beyond the tables that were read."""
    if not acceptance.SMALLEST_LOT <= lot <= acceptance.LARGEST_LOT:
        return {}
    plans = [(level, acceptance.plan(lot, level)) for level in LEVELS]
    return {
        "factory_plans": [
            FactoryPlan(
                level, plan, plan.sample >= lot, acceptance.percent_bad_passed(plan, LET_PAST)
            )
            for level, plan in plans
        ],
        "factory_caution": acceptance.CAUTION,
        "factory_source": acceptance.SOURCE,
    }
