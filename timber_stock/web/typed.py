from django.db import models


class AsTyped(models.Model):
    """Remembers how each length was typed, so that a form reads back `1-3-1`, not `1 ft 3 1/8 in`.

    The millimetres are the truth; the text is shown again only while it still says the same.
    """

    as_typed = models.JSONField(default=dict, blank=True, editable=False)

    class Meta:
        abstract = True
