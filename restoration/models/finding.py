import uuid

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import F, Q
from django.urls import reverse
from django.utils import timezone

from restoration.calc import grading, vocabulary
from timber_stock import measure


class Condition(models.TextChoices):
    CLASS_0 = "0", "0"
    CLASS_1 = "1", "1"
    CLASS_2 = "2", "2"
    CLASS_3 = "3", "3"
    NOT_EXAMINED = "NE", "not examined"


class Grade(models.IntegerChoices):
    NONE = 0, "0"
    ONE = 1, "1"
    TWO = 2, "2"
    THREE = 3, "3"


def cause_choices() -> list[tuple[str, str]]:
    return [(code, cause.name) for code, cause in vocabulary.causes().items()]


class FindingQuerySet(models.QuerySet):
    def newest_first(self):
        """By the survey's day, then as written down: an old survey entered late stays old."""
        return self.order_by("-survey__surveyed_on", "-recorded_at", "-pk")

    def latest_of_each_member(self):
        """The finding that stands for each member: the newest. Older ones stay to be read."""
        newer = self.model.objects.filter(
            member=models.OuterRef("member"), survey=models.OuterRef("survey")
        ).order_by("-recorded_at", "-pk")
        return self.filter(pk=models.Subquery(newer.values("pk")[:1]))


class Finding(models.Model):
    """What was seen of one member in one survey. Dated and added, never changed."""

    survey = models.ForeignKey("restoration.Survey", models.PROTECT, related_name="findings")
    member = models.ForeignKey("restoration.Member", models.PROTECT, related_name="findings")
    # Made where the finding is made, so that sending it twice still records it once.
    made_id = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    recorded_at = models.DateTimeField(default=timezone.now, editable=False)
    recorded_by = models.ForeignKey("restoration.User", models.PROTECT, related_name="+")
    condition = models.CharField(max_length=2, choices=Condition)
    urgency = models.PositiveSmallIntegerField(choices=Grade, null=True, blank=True)
    measure = models.PositiveSmallIntegerField(
        "recommended measure", choices=Grade, null=True, blank=True
    )
    not_examined_reason = models.CharField("why not examined", max_length=200, blank=True)
    seen = models.TextField("what was seen", blank=True)
    extent_from_mm = models.FloatField("extent from", null=True, blank=True)
    extent_to_mm = models.FloatField("extent to", null=True, blank=True)
    copied_from = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, editable=False, related_name="copies"
    )
    # What someone else had entered of the same member in this survey while this finding was on
    # a phone without a signal: neither of the two knew of the other, and both stand.
    made_apart_from = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, editable=False, related_name="made_apart"
    )

    objects = FindingQuerySet.as_manager()

    class Meta:
        ordering = ["-recorded_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(condition="NE") | Q(urgency__isnull=False, measure__isnull=False),
                name="finding_graded_in_full",
                violation_error_message="Give urgency and recommended measure too, or mark the "
                "member as not examined.",
            ),
            models.CheckConstraint(
                condition=(Q(condition="NE") & ~Q(not_examined_reason=""))
                | (~Q(condition="NE") & Q(not_examined_reason="")),
                name="finding_not_examined_has_reason",
                violation_error_message="Say why the member was not examined (and only then).",
            ),
            models.CheckConstraint(
                condition=Q(extent_from_mm=None, extent_to_mm=None)
                | Q(extent_from_mm__gte=0, extent_to_mm__gt=F("extent_from_mm")),
                name="finding_extent_in_order",
                violation_error_message="The extent runs from a lower to a higher distance along "
                "the member; give both or neither.",
            ),
        ]

    def __str__(self):
        return f"{self.member}: {self.get_condition_display()}"

    def get_absolute_url(self):
        return reverse("restoration:finding", args=[self.pk])

    def condition_word(self) -> str:
        return grading.condition(self.condition).label

    def urgency_word(self) -> str:
        return "" if self.urgency is None else grading.urgency(self.urgency).label

    def measure_word(self) -> str:
        return "" if self.measure is None else grading.measure(self.measure).label

    def runs_past_the_member(self) -> bool:
        """The extent ends beyond the length kept for the member: one of the two is mistaken."""
        length_mm = self.member.length_mm
        return None not in (length_mm, self.extent_to_mm) and self.extent_to_mm > length_mm + 0.5

    def save(self, *args, **kwargs):
        if not self._state.adding:
            raise TypeError("A finding is never changed: record a new one.")
        super().save(*args, **kwargs)


class ReadingKind(models.TextChoices):
    PROBE = "probe", "probe or drill depth (mm)"
    MOISTURE = "moisture", "moisture (%)"
    SOUNDING = "sounding", "sounding"
    BOLT = "bolt", "remaining bolt diameter (mm)"
    PH = "ph", "pH"


class Reading(models.Model):
    finding = models.ForeignKey(Finding, models.CASCADE, related_name="readings")
    kind = models.CharField(max_length=10, choices=ReadingKind)
    value = models.FloatField(null=True, blank=True)
    words = models.CharField("in words", max_length=120, blank=True)
    at_mm = models.FloatField("how far along the member", null=True, blank=True)
    instrument = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=(Q(kind="sounding") & ~Q(words=""))
                | (~Q(kind="sounding") & Q(value__isnull=False)),
                name="reading_says_something",
                violation_error_message="A reading needs its figure; a sounding needs a word, such "
                "as dull.",
            ),
            models.CheckConstraint(
                condition=Q(value=None)
                | Q(kind="ph", value__gte=0, value__lte=14)
                | Q(kind="moisture", value__gte=0, value__lte=300)
                | Q(kind__in=["probe", "bolt"], value__gte=0, value__lte=2000)
                | Q(kind="sounding"),
                name="reading_within_its_scale",
                violation_error_message="pH runs from 0 to 14, moisture from 0 to 300 percent, a "
                "depth or a diameter from 0 to 2000 mm.",
            ),
        ]

    def __str__(self):
        return f"{self.get_kind_display()} {self.value if self.value is not None else self.words}"

    def clean(self):
        """A probe goes no deeper than its member is thick, where that is known."""
        if self.kind != ReadingKind.PROBE or self.value is None or not self.finding_id:
            return
        member = self.finding.member
        sizes = (member.sided_mm, member.moulded_mm)
        if None not in sizes and self.value > max(sizes) + 0.5:
            raise ValidationError(
                f"A probe of {both_ways(self.value)} is deeper than {member.mark}, which is "
                f"{both_ways(max(sizes))} at its thickest: check the depth or the member's sizes."
            )

    def what(self) -> str:
        """What was read, without the unit it is stored in."""
        return self.get_kind_display().partition(" (")[0]

    def is_a_length(self) -> bool:
        return self.kind in (ReadingKind.PROBE, ReadingKind.BOLT)

    def figure(self) -> str:
        return "" if self.value is None else f"{self.value:.10g}"


def both_ways(mm: float) -> str:
    return f"{measure.format_length(mm)} ({measure.format_length(mm, 'metric')})"


class Certainty(models.TextChoices):
    ESTABLISHED = "established", "established"
    PROBABLE = "probable", "probable"
    SUSPECTED = "suspected", "suspected"
    NOT_ESTABLISHED = "not_established", "not established"


class CauseQuerySet(models.QuerySet):
    def named_for(self, kind: str) -> dict[str, int]:
        """How often each cause was named for members of this kind."""
        of_kind = self.filter(finding__member__kind=kind).order_by()
        return dict(of_kind.values_list("cause").annotate(models.Count("pk")))

    def named_by_kind(self) -> dict[str, dict[str, int]]:
        """The same for every kind of member at once."""
        counted: dict[str, dict[str, int]] = {}
        rows = self.order_by().values_list("finding__member__kind", "cause")
        for kind, cause, times in rows.annotate(models.Count("pk")):
            counted.setdefault(kind, {})[cause] = times
        return counted


class FindingCause(models.Model):
    """A cause the surveyor names, in their order, with how sure they are and what shows it."""

    finding = models.ForeignKey(Finding, models.CASCADE, related_name="causes")
    rank = models.PositiveSmallIntegerField()
    cause = models.CharField(max_length=20, choices=cause_choices)
    certainty = models.CharField(max_length=16, choices=Certainty)
    evidence = models.TextField(blank=True)

    objects = CauseQuerySet.as_manager()

    class Meta:
        ordering = ["rank"]
        constraints = [
            models.UniqueConstraint(
                fields=["finding", "cause"],
                name="cause_once_a_finding",
                violation_error_message="Each cause is named once in a finding.",
            ),
            models.UniqueConstraint(
                fields=["finding", "rank"],
                name="cause_rank_once",
                violation_error_message="Two causes cannot have the same rank.",
            ),
        ]

    def __str__(self):
        return self.cause_name()

    def cause_name(self) -> str:
        return vocabulary.cause(self.cause).name

    def guidance(self) -> vocabulary.Cause:
        return vocabulary.cause(self.cause)


class Photograph(models.Model):
    """A picture as it was taken in: upright, re-encoded, without the place it was taken."""

    finding = models.ForeignKey(Finding, models.PROTECT, related_name="photographs")
    image = models.FileField(upload_to="photographs/")
    thumbnail = models.FileField(upload_to="thumbnails/")
    width_px = models.PositiveIntegerField()
    height_px = models.PositiveIntegerField()
    sha256 = models.CharField(max_length=64)
    caption = models.CharField(max_length=200, blank=True)
    taken_at = models.DateTimeField(null=True, blank=True)
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ["position", "pk"]

    def __str__(self):
        return self.caption or f"Photograph {self.pk}"
