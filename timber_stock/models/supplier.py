from django.db import models


class Supplier(models.Model):
    name = models.CharField(max_length=120, unique=True)
    place = models.CharField(max_length=120, blank=True)
    contact = models.CharField(max_length=200, blank=True)
    note = models.TextField(blank=True)

    class Meta:
        ordering = ["name"]

    def __str__(self):
        return self.name
