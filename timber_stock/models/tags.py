import re

from django.apps import apps
from django.core.exceptions import ValidationError
from django.db.models import Q

TAG = re.compile(r"[0-9A-Za-z][0-9A-Za-z._-]*")


def check_tag(tag: str, *, other: str) -> None:
    """A tag goes into an address and on a label, and no log and board may share one."""
    if not tag:
        return  # the field itself says that it is needed
    if not TAG.fullmatch(tag):
        raise ValidationError(
            {
                "tag": "A tag is letters, figures, hyphens, dots or underscores without spaces, "
                "such as L07-2b."
            }
        )
    if apps.get_model("timber_stock", other).objects.filter(tag__iexact=tag).exists():
        raise ValidationError({"tag": f"A {other.lower()} already has the tag {tag}."})


def tag_or_wood(text: str) -> Q:
    """What someone looks for: a part of a tag, or of a wood's botanical or common name."""
    return (
        Q(tag__icontains=text)
        | Q(species__botanical_name__icontains=text)
        | Q(species__common_name__icontains=text)
    )
