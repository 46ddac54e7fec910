from django.db import models


class Yard(models.Model):
    """The yard that keeps this register: one row."""

    name = models.CharField(max_length=120, default="Our yard")
    address = models.TextField(blank=True)
    currency = models.CharField(
        max_length=3, default="EUR", help_text="three letters, such as EUR, GBP, USD"
    )
    log_rule = models.CharField("log rule", max_length=40, default="smalian")

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(pk=1),
                name="one_yard",
                violation_error_message="One register is kept for one yard.",
            )
        ]

    def __str__(self):
        return self.name

    @classmethod
    def current(cls) -> "Yard":
        return cls.objects.filter(pk=1).first() or cls(pk=1)
