"""Where one replacement is on its way: each stage with its day, by whom and how many hours."""

from collections import defaultdict
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import Exists, OuterRef, Prefetch, Subquery
from django.utils import timezone

from restoration.calc import stages
from restoration.models.allotment import Allotment
from restoration.models.member import Member
from restoration.models.replacement import ReplacementSpec
from restoration.models.retighten import RetightenTask
from restoration.models.turn import Turn, TurnMember, WorkOrder
from restoration.models.user import User
from restoration.models.work import WorkPlan, WorkStep, WorkWait


@dataclass(frozen=True)
class Reached:
    """One stage: when and by whom, where it is recorded; the hours spent on it."""

    stage: stages.Stage
    on: date | None = None
    by: str = ""
    hours: Decimal | None = None


@dataclass(frozen=True)
class Held:
    """Why a member is not to come out now; by whom, and which of its replacements, where it is
    another member that stands in its way."""

    why: str
    by: Member | None = None
    spec_id: int | None = None


@dataclass(frozen=True)
class Track:
    """A replacement with all that the yard board says of it.

    `held`, `is_out` and `out_beside` concern the whole hull: `actions.out_now` fills them in.
    """

    spec: ReplacementSpec
    reached: tuple[Reached, ...]
    here: stages.Stage
    next: stages.Stage | None
    hours: Decimal
    waits: tuple[WorkWait, ...]
    visit: RetightenTask | None
    plan: WorkPlan | None
    pieces: int
    pieces_at_next: int  # of several lengths, how many are sawn or fitted already
    taken_out: Reached = Reached(stages.TAKEN_OUT)
    is_out: bool = False
    held: tuple[Held, ...] = ()
    out_beside: tuple[Held, ...] = ()

    @property
    def found_in_part_mm(self) -> float:
        """The lengths found for it while they are not all of it; nought otherwise."""
        if self.next != stages.FOUND:
            return 0.0
        return sum(length.length_mm() for length in self.spec.standing_lengths)

    @property
    def member(self):
        return self.spec.finding.member

    @property
    def full_mark(self) -> str:
        return f"{self.member.vessel.code}-{self.member.mark}"

    @property
    def last(self) -> Reached:
        return next(each for each in self.reached if each.stage == self.here)

    @property
    def turn(self) -> Turn | None:
        """Its turn in the order of work that is accepted for its vessel."""
        if self.spec.turn_number is None:
            return None
        return Turn(order_id=self.spec.turn_order, number=self.spec.turn_number)

    @property
    def waits_now(self) -> bool:
        """Whether what it waits for holds up its next step."""
        held_up = self.waits or self.held
        return bool(held_up and self.next and stages.needs_the_hull(self.next.key))

    @property
    def is_late(self) -> bool:
        """Whether its next step was wanted by a day that is past."""
        wanted_on = self.plan.wanted_on if self.plan else None
        return bool(self.next and wanted_on and wanted_on < timezone.localdate())

    @property
    def held_by(self) -> tuple[Held, ...]:
        """Of `held`, those by another member, each member once."""
        by = {each.by.pk: each for each in reversed(self.held) if each.by}
        return tuple(reversed(by.values()))

    @property
    def is_in_place(self) -> bool:
        """Whether something new stands where the old one was, loose or fastened."""
        return stages.needs_the_hull(self.here.key)

    @property
    def may_put_back(self) -> bool:
        """Whether "taken out" may be taken back: nothing new stands in its place."""
        return bool(self.taken_out.on) and not self.is_in_place

    @property
    def done(self) -> set[str]:
        return {each.stage.key for each in (*self.reached, self.taken_out) if each.on}


def for_tracks(specs):
    """All that `track` needs, in a number of queries that does not grow."""
    standing = Allotment.objects.standing().select_related("board", "allotted_by")
    fastened = WorkStep.objects.done().filter(spec=OuterRef("after"), stage="fastened")
    waits = WorkWait.objects.standing().annotate(after_fastened=Exists(fastened))
    waits = waits.select_related("after__finding__member__vessel", "member_out__vessel")
    visits = RetightenTask.objects.open().order_by("due_on", "pk")
    place = TurnMember.objects.filter(
        order__in=WorkOrder.objects.in_force(), member=OuterRef("finding__member")
    )
    return (
        specs.for_list()
        .annotate(
            turn_number=Subquery(place.values("turn__number")[:1]),
            turn_order=Subquery(place.values("order")[:1]),
        )
        .select_related("specified_by", "work_plan__person")
        .prefetch_related(
            Prefetch(
                "allotments",
                standing.prefetch_related(Prefetch("retightenings", visits, to_attr="to_visit")),
                to_attr="standing_lengths",
            ),
            Prefetch("work_steps", WorkStep.objects.standing(), to_attr="steps_done"),
            Prefetch("waits", waits, to_attr="waits_standing"),
        )
    )


def track(spec: ReplacementSpec) -> Track:
    """Of a row read `for_tracks`."""
    done, hours = _done(spec), _hours(spec)
    *reached, taken_out = (
        Reached(stage, *done.get(stage.key, (None, "")), hours.get(stage.key))
        for stage in (*stages.STAGES, stages.TAKEN_OUT)
    )
    here = stages.standing_at([key for key in done if key != stages.SPECIFIED.key])
    onward = stages.after(here.key)
    lengths = spec.standing_lengths
    return Track(
        spec, tuple(reached), here, onward, sum(hours.values(), Decimal(0)),
        tuple(wait for wait in spec.waits_standing if still_holds(wait)), _visit(spec),
        getattr(spec, "work_plan", None), len(lengths), _so_many(lengths, onward), taken_out,
    )  # fmt: skip


def track_of(spec_id: int) -> Track | None:
    spec = for_tracks(ReplacementSpec.objects.filter(pk=spec_id)).first()
    return track(spec) if spec else None


def still_holds(wait: WorkWait) -> bool:
    """A wait is over when the other is fastened, or is not to be made after all."""
    if wait.after_id is None:
        return True
    return not wait.after_fastened and wait.after.withdrawn_on is None


def people():
    """Those who may be given work."""
    users = User.objects.exclude(role="client").filter(is_active=True)
    return users.order_by("last_name", "first_name", "username")


def _done(spec: ReplacementSpec) -> dict[str, tuple[date, str]]:
    """What is recorded, by stage. Allotments tell when it was found, sawn and fitted."""
    done = {"specified": (timezone.localdate(spec.specified_at), spec.specified_by.full_name())}
    if spec.is_found_in(lengths := spec.standing_lengths):
        last = max(lengths, key=lambda a: (a.allotted_on, a.pk))
        done["found"] = (last.allotted_on, last.allotted_by.full_name())
        for key, field in (("sawn", "cut"), ("fitted", "fitted")):
            if all(getattr(a, f"{field}_on") for a in lengths):
                last = max(lengths, key=lambda a, f=field: (getattr(a, f"{f}_on"), a.pk))
                done[key] = (getattr(last, f"{field}_on"), getattr(last, f"{field}_by"))
    for step in spec.steps_done:
        if step.done:
            done[step.stage] = (step.on, step.by)
    return done


def _hours(spec: ReplacementSpec) -> dict[str, Decimal]:
    hours: dict[str, Decimal] = defaultdict(Decimal)
    for step in spec.steps_done:
        if step.hours is not None:
            hours[step.stage] += step.hours
    return dict(hours)


def _visit(spec: ReplacementSpec) -> RetightenTask | None:
    visits = [task for length in spec.standing_lengths for task in length.to_visit[:1]]
    return min(visits, key=lambda task: (task.due_on, task.pk), default=None)


def _so_many(lengths: list[Allotment], onward: stages.Stage | None) -> int:
    field = {"sawn": "cut_on", "fitted": "fitted_on"}.get(onward.key if onward else "")
    return sum(bool(getattr(length, field)) for length in lengths) if field else 0
