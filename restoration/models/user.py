from django.contrib.auth.models import AbstractUser
from django.db import models
from django.db.models import Q


class Role(models.TextChoices):
    YARD = "yard", "yard"
    SURVEYOR = "surveyor", "surveyor"
    CLIENT = "client", "client"


class Units(models.TextChoices):
    IMPERIAL = "imperial", "feet, inches and sixteenths"
    IMPERIAL_FINE = "imperial32", "feet, inches and thirty-seconds"
    METRIC = "metric", "millimetres"


class User(AbstractUser):
    """Someone who signs in: what they may do, whose boats they may see, how they read lengths."""

    role = models.CharField(max_length=10, choices=Role, default=Role.YARD)
    client = models.ForeignKey(
        "restoration.Client", models.PROTECT, null=True, blank=True, related_name="users"
    )
    units = models.CharField(max_length=12, choices=Units, default=Units.IMPERIAL)

    class Meta(AbstractUser.Meta):
        constraints = [
            models.CheckConstraint(
                condition=Q(role="client", client__isnull=False)
                | (~Q(role="client") & Q(client=None)),
                name="client_sign_in_has_client",
                violation_error_message="A client's sign-in names the client; no other one does.",
            )
        ]

    def full_name(self) -> str:
        return self.get_full_name() or self.username
