"""What is in hand and what comes next, counted in a number of queries that never grows."""

from dataclasses import dataclass
from datetime import timedelta

from django.db.models import Count, Exists, OuterRef, Q, Subquery
from django.utils import timezone

from restoration.models import (
    Finding,
    Member,
    OrderState,
    ReplacementSpec,
    RetightenTask,
    Survey,
    Turn,
    Vessel,
)
from restoration.models.finding import Grade

NEAR_DAYS = 45
MOST_VISITS = 12
MOST_SURVEYS = 12
MOST_TURNS = 12


@dataclass(frozen=True)
class Next:
    """So many of something that wait for the next step; `stage` finds them in the list."""

    count: int
    stage: str
    one: str
    many: str

    @property
    def words(self) -> str:
        return self.one if self.count == 1 else self.many


STEPS = (
    ("specify", "member to be replaced is not specified yet",
     "members to be replaced are not specified yet"),
    ("timber", "replacement is specified and has no timber",
     "replacements are specified and have no timber"),
    ("part", "replacement has part of its timber", "replacements have part of their timber"),
    ("found", "replacement has its timber, not all of it cut",
     "replacements have their timber, not all of it cut"),
    ("cut", "replacement is cut and not fitted", "replacements are cut and not fitted"),
)  # fmt: skip


def to_be_specified():
    """Members whose newest finding says replace, and for which no specification stands."""
    judged = Member.objects.with_condition().with_replacement()
    return judged.filter(latest_measure=Grade.THREE, is_specified=False)


def stage_counts(specs=None) -> dict[str, int]:
    specs = ReplacementSpec.objects.all() if specs is None else specs
    counted = specs.with_stage().order_by().values("stage").annotate(count=Count("pk"))
    return {row["stage"]: row["count"] for row in counted}


def next_steps() -> list[Next]:
    counts = stage_counts() | {"specify": to_be_specified().count()}
    steps = [Next(counts.get(stage, 0), stage, one, many) for stage, one, many in STEPS]
    return [step for step in steps if step.count]


def visits_due():
    """Of each piece fitted green the next visit to its nuts, once it is near or past."""
    near = timezone.localdate() + timedelta(days=NEAR_DAYS)
    return RetightenTask.objects.due_by(near).soonest_of_each().for_list()[:MOST_VISITS]


def turns_in_hand():
    """Turns begun and not done, of the orders of work in force: `count` members are out."""
    in_force = Turn.objects.filter(order__state=OrderState.ACCEPTED)
    begun = in_force.filter(begun_on__isnull=False, done_on=None)
    counted = begun.annotate(count=Count("places")).filter(count__gt=0)
    return counted.select_related("order__vessel").order_by("begun_on", "pk")[:MOST_TURNS]


def open_surveys():
    """The newest survey of each vessel, while it says nothing yet of some of her members."""
    newest = Survey.objects.filter(vessel=OuterRef("vessel")).newest_first()
    left = Member.objects.filter(
        ~Exists(Finding.objects.filter(member=OuterRef("pk"), survey=OuterRef(OuterRef("pk")))),
        vessel=OuterRef("vessel"),
    )
    members_left = left.order_by().values("vessel").annotate(n=Count("pk")).values("n")
    surveys = Survey.objects.filter(pk=Subquery(newest.values("pk")[:1]))
    return (
        surveys.annotate(members_left=Subquery(members_left))
        .filter(Q(members_left__gt=0))
        .select_related("vessel")
        .newest_first()[:MOST_SURVEYS]
    )


def vessels_in_hand(user):
    return Vessel.objects.visible_to(user).with_progress().select_related("client")
