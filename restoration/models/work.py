"""The work on a replacement: what was done, by whom, for how long; who is next; what it awaits."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

MOST_HOURS = 999


class Work(models.TextChoices):
    """What hours are spent on. The day it was sawn or fitted is told by its allotments alone."""

    TAKEN_OUT = "taken_out", "taking the old one out"
    SAWN = "sawn", "sawing"
    SHAPED = "shaped", "shaping"
    DRY_FITTED = "dry_fitted", "dry fitting"
    FITTED = "fitted", "fitting"
    FASTENED = "fastened", "fastening"
    OTHER = "other", "other work"


RECORDED_HERE = [Work.TAKEN_OUT, Work.SHAPED, Work.DRY_FITTED, Work.FASTENED]


class WorkStepQuerySet(models.QuerySet):
    def standing(self):
        return self.filter(taken_back_on=None)

    def done(self):
        """Those that finish their stage."""
        return self.standing().filter(done=True)

    def with_hours(self):
        return self.standing().filter(hours__isnull=False)


class WorkStep(models.Model):
    """Work done on a replacement on one day; `done` where it finished the stage.

    When a piece was sawn and when it was fitted is what its allotments say; for those stages a
    row here holds hours only. `override_reason` says why it was done while it was to wait.
    """

    spec = models.ForeignKey(
        "restoration.ReplacementSpec", models.PROTECT, related_name="work_steps"
    )
    stage = models.CharField("what was done", max_length=12, choices=Work)
    on = models.DateField("date")
    by = models.CharField("by whom", max_length=120)
    hours = models.DecimalField(
        max_digits=5,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(MOST_HOURS)],
    )
    note = models.CharField(max_length=200, blank=True)
    done = models.BooleanField("the stage is finished", default=False)
    override_reason = models.CharField("why all the same", max_length=300, blank=True)
    recorded_by = models.ForeignKey("restoration.User", models.PROTECT, related_name="+")
    recorded_at = models.DateTimeField(default=timezone.now, editable=False)
    taken_back_on = models.DateField(null=True, blank=True, editable=False)
    taken_back_by = models.ForeignKey(
        "restoration.User", models.PROTECT, null=True, blank=True, related_name="+", editable=False
    )

    objects = WorkStepQuerySet.as_manager()

    class Meta:
        ordering = ["on", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["spec", "stage"],
                condition=Q(done=True, taken_back_on=None),
                name="a_stage_is_finished_once",
                violation_error_message="This stage is recorded as finished already.",
            ),
            models.CheckConstraint(
                condition=Q(done=False) | Q(stage__in=RECORDED_HERE),
                name="sawn_and_fitted_told_by_allotments",
                violation_error_message="That a piece is sawn or fitted is told by its allotment.",
            ),
            models.CheckConstraint(
                condition=~Q(by=""),
                name="work_done_by_someone",
                violation_error_message="Say who did it.",
            ),
            models.CheckConstraint(
                condition=Q(hours=None) | Q(hours__gte=0, hours__lte=MOST_HOURS),
                name="work_hours_possible",
                violation_error_message=f"Hours lie between 0 and {MOST_HOURS}.",
            ),
            models.CheckConstraint(
                condition=Q(done=True) | Q(hours__isnull=False) | ~Q(override_reason=""),
                name="work_step_says_something",
                violation_error_message="Say how many hours it took.",
            ),
            models.CheckConstraint(
                condition=Q(taken_back_on=None, taken_back_by=None)
                | Q(taken_back_on__isnull=False, taken_back_by__isnull=False),
                name="work_taken_back_by_someone",
                violation_error_message="Say who took it back.",
            ),
        ]

    def __str__(self):
        return f"{self.get_stage_display()}, {self.on}"


class WorkPlan(models.Model):
    """Who takes the next step of a replacement, and by when it is wanted."""

    spec = models.OneToOneField(
        "restoration.ReplacementSpec", models.PROTECT, related_name="work_plan"
    )
    person = models.ForeignKey(
        "restoration.User", models.PROTECT, null=True, blank=True, related_name="+"
    )
    wanted_on = models.DateField("wanted by", null=True, blank=True)

    def __str__(self):
        return f"{self.person or 'nobody yet'} for {self.spec}"


class WorkWaitQuerySet(models.QuerySet):
    def standing(self):
        """Not declared over by hand; whether the other is fastened is asked beside."""
        return self.filter(over_on=None)


class WorkWait(models.Model):
    """A replacement that is not to go into the hull before another is fastened, or a member out."""

    spec = models.ForeignKey("restoration.ReplacementSpec", models.PROTECT, related_name="waits")
    after = models.ForeignKey(
        "restoration.ReplacementSpec",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="waited_for",
        verbose_name="until this replacement is fastened",
    )
    member_out = models.ForeignKey(
        "restoration.Member",
        models.PROTECT,
        null=True,
        blank=True,
        related_name="waits",
        verbose_name="until this member is out",
    )
    note = models.CharField(max_length=200, blank=True)
    set_by = models.ForeignKey("restoration.User", models.PROTECT, related_name="+")
    set_on = models.DateField(default=timezone.localdate)
    over_on = models.DateField(null=True, blank=True)
    over_by = models.CharField(max_length=120, blank=True)

    objects = WorkWaitQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(after__isnull=False, member_out=None)
                | Q(after=None, member_out__isnull=False),
                name="waits_for_one_thing",
                violation_error_message="Say what it waits for: another replacement, or a member "
                "that must be out. Not both.",
            ),
            models.CheckConstraint(
                condition=Q(after=None) | ~Q(after=F("spec")),
                name="waits_not_for_itself",
                violation_error_message="A replacement cannot wait for itself.",
            ),
            models.CheckConstraint(
                condition=Q(over_on=None, over_by="") | (Q(over_on__isnull=False) & ~Q(over_by="")),
                name="wait_over_said_by_someone",
                violation_error_message="Say who found that it need not wait any more.",
            ),
            models.UniqueConstraint(
                fields=["spec", "after"],
                condition=Q(over_on=None),
                name="waits_once_for_another",
                violation_error_message="It waits for that one already.",
            ),
            models.UniqueConstraint(
                fields=["spec", "member_out"],
                condition=Q(over_on=None),
                name="waits_once_for_a_member",
                violation_error_message="It waits for that member already.",
            ),
        ]

    def __str__(self):
        return f"{self.spec} waits for {self.after or self.member_out}"
