"""Keeping the drawing itself beside the patterns that were taken from it."""

import hashlib

from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from django.db import IntegrityError, transaction

from restoration.actions.patterns import keep_pattern
from restoration.models import Pattern, PatternDrawing, User


def keep_drawn_pattern(*, data: bytes, file_name: str, by: User, **said: object) -> Pattern:
    """A pattern taken from the drawing in `data`, with that drawing kept beside it.

    `said` goes to `keep_pattern` as it is. A drawing that is kept already is not kept twice; the
    file of a new one is removed again where the pattern is refused.
    """
    digest = hashlib.sha256(data).hexdigest()
    known = PatternDrawing.objects.filter(sha256=digest).first()
    drawing = known or _put_by(data, digest, file_name, by)
    try:
        with transaction.atomic():
            if known is None:
                drawing.save()
            return keep_pattern(by=by, drawing=drawing, **said)
    except IntegrityError as error:
        _take_away(drawing, known)
        raise ValidationError("The same drawing was just kept: try once more.") from error
    except BaseException:
        _take_away(drawing, known)
        raise


def read_kept(pattern: Pattern) -> bytes:
    """The drawing this pattern was taken from; FileNotFoundError where there is none."""
    if pattern.drawing is None:
        raise FileNotFoundError
    with pattern.drawing.file.open("rb") as file:
        return bytes(file.read())


def _put_by(data: bytes, digest: str, name: str, by: User) -> PatternDrawing:
    drawing = PatternDrawing(name=name[:200], size_bytes=len(data), sha256=digest, kept_by=by)
    drawing.full_clean(exclude=["file"])
    drawing.file.save(f"{digest[:16]}.dxf", ContentFile(data), save=False)
    return drawing


def _take_away(drawing: PatternDrawing, known: PatternDrawing | None) -> None:
    if known is None:
        drawing.file.storage.delete(drawing.file.name)
