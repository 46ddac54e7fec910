from django.db import models


class VesselPicture(models.Model):
    """The one picture she is known by: on her page, and on the cover of her reports.

    A new picture takes the place of this row. The old file stays in the store: a report that was
    issued with it draws it still.
    """

    vessel = models.OneToOneField(
        "restoration.Vessel", models.CASCADE, related_name="picture", editable=False
    )
    image = models.FileField(upload_to="vessels/")
    thumbnail = models.FileField(upload_to="vessel_thumbnails/")
    width_px = models.PositiveIntegerField()
    height_px = models.PositiveIntegerField()
    sha256 = models.CharField(max_length=64)
    caption = models.CharField(max_length=200, blank=True)

    def __str__(self):
        return f"Picture of {self.vessel}"
