"""How a log is to be sawn: every version kept, with the cuts made of it and what came out."""

from django.db import models
from django.db.models import Q
from django.urls import reverse


class PlanState(models.TextChoices):
    PLANNED = "planned", "planned"
    BEING_SAWN = "sawing", "being sawn"
    SAWN = "sawn", "sawn"


class SawingPlanQuerySet(models.QuerySet):
    def for_list(self):
        return self.select_related("log", "cutting_list", "superseded_by")

    def standing(self):
        """Those that no later version has taken the place of."""
        return self.filter(superseded_by=None)


class SawingPlan(models.Model):
    """One version of the plan of a log. `request` and `plan` are plain data, as the saw reads them.

    A version is never changed once it is kept: cuts made stand in rows of their own, and whatever
    else changes makes a new version that supersedes it.
    """

    log = models.ForeignKey("timber_stock.Log", models.PROTECT, related_name="plans")
    cutting_list = models.ForeignKey(
        "timber_stock.CuttingList", models.SET_NULL, null=True, blank=True, related_name="plans"
    )
    number = models.PositiveIntegerField("version")
    request = models.JSONField()
    plan = models.JSONField()
    made_at = models.DateTimeField("made", auto_now_add=True)
    made_by = models.CharField("made by", max_length=150)
    why = models.TextField("why", max_length=2000)
    supersedes = models.OneToOneField(
        "self", models.PROTECT, null=True, blank=True, related_name="superseded_by"
    )
    state = models.CharField(max_length=10, choices=PlanState, default=PlanState.PLANNED)

    objects = SawingPlanQuerySet.as_manager()

    class Meta:
        ordering = ["log", "-number"]
        constraints = [
            models.UniqueConstraint(
                fields=["log", "number"],
                name="plan_version_once",
                violation_error_message="This log has a plan of this number already.",
            ),
            models.CheckConstraint(
                condition=~Q(why=""),
                name="plan_says_why",
                violation_error_message="Every version says why it was made.",
            ),
        ]

    def __str__(self):
        return f"{self.log.tag} plan {self.number}"

    def get_absolute_url(self):
        return reverse("timber_stock:plan", args=[self.pk])

    def is_superseded(self) -> bool:
        return getattr(self, "superseded_by", None) is not None

    def cuts(self) -> list[dict]:
        return self.plan["cuts"]

    def next_step(self) -> int | None:
        """The first cut not made yet; None when all are made."""
        made = self.cuts_made.count()
        return self.cuts()[made]["step"] if made < len(self.cuts()) else None


class CutMade(models.Model):
    """A cut of a plan, made at the saw. `over_mm` says by how much it came high of the plan."""

    plan = models.ForeignKey(SawingPlan, models.CASCADE, related_name="cuts_made")
    step = models.PositiveIntegerField("cut")
    made_at = models.DateTimeField("made", auto_now_add=True)
    made_by = models.CharField("made by", max_length=150)
    over_mm = models.FloatField("came high by", default=0)

    class Meta:
        ordering = ["plan", "step"]
        constraints = [
            models.UniqueConstraint(
                fields=["plan", "step"],
                name="cut_made_once",
                violation_error_message="This cut has been ticked already.",
            ),
        ]

    def __str__(self):
        return f"{self.plan}, cut {self.step}"


class PieceSawn(models.Model):
    """A timber that a cut set free: what it was to be, as it came, and the board it became.

    Its place is in the saw's own frame of the bolt it came from: low corner and sizes along x, y
    and z, with the roll.
    """

    plan = models.ForeignKey(SawingPlan, models.PROTECT, related_name="pieces_sawn")
    step = models.PositiveIntegerField("freed by cut")
    label = models.CharField("mark", max_length=60)
    for_whom = models.CharField("for", max_length=200, blank=True)
    bolt = models.PositiveIntegerField()  # which of the plan's bolts, and which timber in it
    timber = models.PositiveIntegerField()
    roll_deg = models.FloatField()
    spans_mm = models.JSONField()
    wide_x = models.BooleanField()
    board = models.OneToOneField(
        "timber_stock.Board", models.PROTECT, null=True, blank=True, related_name="sawn_as"
    )

    class Meta:
        ordering = ["plan", "step", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["plan", "bolt", "timber"],
                name="piece_sawn_once",
                violation_error_message="This timber has been sawn already.",
            ),
        ]

    def __str__(self):
        return f"{self.label} from {self.plan}"


class PlanSearch(models.Model):
    """A search for a plan, under way or ended. Whoever carries it writes `beat_at` as it goes."""

    class State(models.TextChoices):
        RUNNING = "running", "searching"
        DONE = "done", "done"
        FAILED = "failed", "ended without a plan"

    log = models.ForeignKey("timber_stock.Log", models.CASCADE, related_name="plan_searches")
    cutting_list = models.ForeignKey(
        "timber_stock.CuttingList", models.CASCADE, null=True, blank=True, related_name="+"
    )
    supersedes = models.ForeignKey(
        SawingPlan, models.CASCADE, null=True, blank=True, related_name="+"
    )
    request = models.JSONField()
    start = models.JSONField(null=True, blank=True)
    seconds = models.FloatField()
    why = models.TextField()
    made_by = models.CharField(max_length=150)
    state = models.CharField(max_length=10, choices=State, default=State.RUNNING)
    share = models.FloatField(default=0)
    best_mm3 = models.FloatField(default=0)
    stop_asked = models.BooleanField(default=False)
    began_at = models.DateTimeField(auto_now_add=True)
    beat_at = models.DateTimeField()
    ended_why = models.TextField(blank=True)
    plan = models.ForeignKey(SawingPlan, models.SET_NULL, null=True, blank=True, related_name="+")

    class Meta:
        ordering = ["-began_at"]

    def __str__(self):
        return f"search for a plan of {self.log}"
