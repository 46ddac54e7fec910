from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import F, Q
from django.urls import reverse
from django.utils import timezone


class OrderState(models.TextChoices):
    PROPOSED = "proposed", "proposed"
    ACCEPTED = "accepted", "accepted"
    ASIDE = "aside", "set aside"


class WorkOrderQuerySet(models.QuerySet):
    def in_force(self):
        return self.filter(state=OrderState.ACCEPTED)

    def newest_first(self):
        return self.order_by("-made_at", "-pk")

    def the_accepted_first(self):
        """The accepted one, else the one proposed, else the newest set aside."""
        rank = models.Case(
            models.When(state=OrderState.ACCEPTED, then=0),
            models.When(state=OrderState.PROPOSED, then=1),
            default=2,
        )
        return self.order_by(rank, "-made_at", "-pk")


class WorkOrder(models.Model):
    """In which turns the members of a vessel come out: proposed, edited and accepted by a person.

    Never deleted: one that is replaced is set aside. `bound_turns` is what no order could beat
    when it was proposed, `bound_why` the reason, `is_proven` whether it had the fewest turns.
    """

    vessel = models.ForeignKey("restoration.Vessel", models.PROTECT, related_name="work_orders")
    state = models.CharField(max_length=10, choices=OrderState, default=OrderState.PROPOSED)
    most_out = models.PositiveSmallIntegerField(
        "never more out at once than", null=True, blank=True
    )
    bound_turns = models.PositiveSmallIntegerField(default=0, editable=False)
    bound_why = models.TextField(blank=True, editable=False)
    is_proven = models.BooleanField(default=False, editable=False)
    made_at = models.DateTimeField(default=timezone.now, editable=False)
    made_by = models.ForeignKey("restoration.User", models.PROTECT, related_name="+")
    accepted_on = models.DateField(null=True, blank=True)
    accepted_by = models.ForeignKey(
        "restoration.User", models.PROTECT, related_name="+", null=True, blank=True
    )

    objects = WorkOrderQuerySet.as_manager()

    class Meta:
        ordering = ["vessel", "-made_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["vessel", "state"],
                condition=~Q(state="aside"),
                name="one_order_of_work_in_force",
                violation_error_message="This vessel has an order of work in that state already.",
            ),
            models.CheckConstraint(
                condition=Q(most_out=None) | Q(most_out__gte=1),
                name="order_lets_one_out",
                violation_error_message="Never more than none out means that nothing is done: at "
                "least one.",
            ),
            models.CheckConstraint(
                condition=Q(accepted_on=None, accepted_by=None)
                | Q(accepted_on__isnull=False, accepted_by__isnull=False),
                name="order_accepted_by_someone",
                violation_error_message="Say who accepted the order of work, and when.",
            ),
            models.CheckConstraint(
                condition=~Q(state="accepted") | Q(accepted_on__isnull=False),
                name="order_accepted_on_a_day",
                violation_error_message="An order of work that is accepted has a day for it.",
            ),
        ]

    def __str__(self):
        return f"Order of work of {self.vessel}"

    def get_absolute_url(self):
        return reverse("restoration:work_order", args=[self.pk])

    def is_open(self) -> bool:
        """Whether anything in it may still change."""
        return self.state != OrderState.ASIDE


class Turn(models.Model):
    """One stage of the work. `note` is the yard's own: shores, ribbands, what to watch."""

    order = models.ForeignKey(WorkOrder, models.CASCADE, related_name="turns")
    number = models.PositiveSmallIntegerField()
    note = models.TextField("shores, ribbands and what to watch", blank=True)
    begun_on = models.DateField("begun on", null=True, blank=True)
    done_on = models.DateField("done on", null=True, blank=True)

    class Meta:
        ordering = ["order", "number"]
        constraints = [
            models.UniqueConstraint(fields=["order", "number"], name="turn_number_once"),
            models.CheckConstraint(
                condition=Q(number__gte=1),
                name="turns_count_from_one",
                violation_error_message="Turns count from 1.",
            ),
            models.CheckConstraint(
                # Said in full: to a database, "unknown is after unknown" is no refusal.
                condition=Q(done_on=None)
                | Q(begun_on__isnull=False, done_on__isnull=False, done_on__gte=F("begun_on")),
                name="turn_begun_before_done",
                violation_error_message="A turn is begun before it is done, not after.",
            ),
        ]

    def __str__(self):
        return f"Turn {self.number}"

    def get_absolute_url(self):
        return reverse("restoration:turn", args=[self.order_id, self.number])


class TurnMember(models.Model):
    """A member in the turn in which it is out. A move by hand is told by whom and when, and why
    it was made where something stood against it."""

    order = models.ForeignKey(WorkOrder, models.CASCADE, related_name="places")
    turn = models.ForeignKey(Turn, models.CASCADE, related_name="places")
    member = models.ForeignKey("restoration.Member", models.PROTECT, related_name="+")
    moved_at = models.DateTimeField(null=True, blank=True, editable=False)
    moved_by = models.ForeignKey(
        "restoration.User", models.PROTECT, related_name="+", null=True, blank=True, editable=False
    )
    override_reason = models.CharField("why all the same", max_length=300, blank=True)

    class Meta:
        ordering = ["turn", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["order", "member"],
                name="member_out_once_an_order",
                violation_error_message="This member has its turn already.",
            ),
            models.CheckConstraint(
                condition=Q(moved_at=None, moved_by=None, override_reason="")
                | Q(moved_at__isnull=False, moved_by__isnull=False),
                name="turn_member_moved_by_someone",
                violation_error_message="A reason belongs to a move that somebody made.",
            ),
        ]

    def __str__(self):
        return f"{self.member} in {self.turn}"

    def clean(self):
        if self.turn_id and self.turn.order_id != self.order_id:
            raise ValidationError("This turn belongs to another order of work.")


class RuleKind(models.TextChoices):
    FIRST = "first", "first"
    BEFORE = "before", "before"
    TOGETHER = "together", "together with"
    APART = "apart", "never together with"
    PINNED = "pinned", "pinned to a turn"
    NEIGHBOURS = "near", "a neighbour of"
    NOT_NEIGHBOURS = "not_near", "no neighbour of"


class TurnRule(models.Model):
    """What the shipwright fixes: about one member, or between two."""

    order = models.ForeignKey(WorkOrder, models.CASCADE, related_name="rules")
    kind = models.CharField(max_length=10, choices=RuleKind)
    one = models.ForeignKey("restoration.Member", models.PROTECT, related_name="+")
    other = models.ForeignKey(
        "restoration.Member", models.PROTECT, related_name="+", null=True, blank=True
    )
    turn = models.PositiveSmallIntegerField(null=True, blank=True)
    made_by = models.ForeignKey("restoration.User", models.PROTECT, related_name="+")
    made_at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["order", "kind", "one", "other"],
                condition=Q(other__isnull=False),
                name="turn_rule_once",
                violation_error_message="That is fixed already.",
            ),
            models.UniqueConstraint(
                fields=["order", "one"],
                condition=Q(other=None),
                name="turn_rule_of_one_once",
                violation_error_message="This member has its turn fixed already; take that away "
                "first.",
            ),
            models.CheckConstraint(
                condition=Q(kind="first", other=None, turn=None)
                | Q(kind="pinned", other=None, turn__isnull=False, turn__gte=1)
                | (
                    ~Q(kind__in=["first", "pinned"])
                    & Q(other__isnull=False, turn=None)
                    & ~Q(one=F("other"))
                ),
                name="turn_rule_is_whole",
                violation_error_message="Say of which two members, or to which turn from 1 on.",
            ),
        ]

    def __str__(self):
        return self.in_words()

    def in_words(self) -> str:
        if self.kind == RuleKind.PINNED:
            return f"{self.one} in turn {self.turn}"
        if self.other is None:
            return f"{self.one} {self.get_kind_display()}"
        return f"{self.one} {self.get_kind_display()} {self.other}"
