from django.db import models
from django.db.models import F, Q
from django.urls import reverse

from timber_stock.web.days import day_said


class Lying(models.TextChoices):
    AFLOAT = "afloat", "afloat"
    ASHORE = "ashore", "ashore"
    SLIPPED = "slipped", "on the slip"
    DOCKED = "docked", "dry-docked"
    SHED = "shed", "ashore under cover"


class SurveyQuerySet(models.QuerySet):
    def newest_first(self):
        return self.order_by("-surveyed_on", "-pk")


class Survey(models.Model):
    """One examination of a hull: when, where, by whom, how, and what could not be reached."""

    vessel = models.ForeignKey("restoration.Vessel", models.PROTECT, related_name="surveys")
    surveyed_on = models.DateField("date, or first day")
    ended_on = models.DateField("last day", null=True, blank=True)
    place = models.CharField(max_length=160)
    lying = models.CharField("afloat or ashore", max_length=10, choices=Lying)
    surveyor_name = models.CharField("surveyor", max_length=120)
    qualification = models.CharField("qualification and body", max_length=160, blank=True)
    present = models.CharField("also present", max_length=200, blank=True)
    weather = models.CharField(max_length=120, blank=True)
    scope = models.TextField("reason and scope", blank=True)
    methods = models.TextField(
        "methods and instruments",
        blank=True,
        help_text="Tools, meters with their settings, samples drawn.",
    )
    not_reached = models.TextField(
        "what could not be reached",
        blank=True,
        help_text="Parts not accessible, opened or tested, and why.",
    )
    recorded_by = models.ForeignKey(
        "restoration.User", models.PROTECT, related_name="+", editable=False
    )

    objects = SurveyQuerySet.as_manager()

    class Meta:
        ordering = ["-surveyed_on", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(ended_on=None) | Q(ended_on__gte=F("surveyed_on")),
                name="survey_ends_after_it_starts",
                violation_error_message="The last day cannot be before the first.",
            )
        ]

    def __str__(self):
        return f"{self.vessel}, {day_said(self.surveyed_on)}"

    def get_absolute_url(self):
        return reverse("restoration:survey", args=[self.pk])
