"""What goes with a log besides its measures: photographs of it, and the heart told from them."""

from django.core.exceptions import ValidationError
from django.db import transaction

from timber_stock.models import Log, LogPhotograph
from timber_stock.web.kept_pictures import store_files
from timber_stock.web.pictures import Picture

from .logs import keep_log

MOST_PHOTOGRAPHS = 24


def keep_photograph(*, log: Log, end: str, picture: Picture, by: str) -> LogPhotograph:
    """Its files are removed again if its row is refused."""
    if log.photographs.count() >= MOST_PHOTOGRAPHS:
        raise ValidationError(f"A log keeps up to {MOST_PHOTOGRAPHS} photographs.")
    photograph = LogPhotograph(
        log=log,
        end=end,
        width_px=picture.width_px,
        height_px=picture.height_px,
        sha256=picture.sha256,
        taken_at=picture.taken_at if picture.taken_at and picture.taken_at.tzinfo else None,
        kept_by=by,
    )
    photograph.full_clean(exclude=["image", "thumbnail"])
    store_files(photograph, picture)
    try:
        with transaction.atomic():
            photograph.save()
    except BaseException:
        _remove_files(photograph)
        raise
    return photograph


def remove_photograph(*, photograph: LogPhotograph) -> None:
    photograph.delete()
    _remove_files(photograph)


def set_heart(*, log: Log, end: str, offset_mm: float, clock: float | None) -> Log:
    """The heart as a person confirms it; what was typed of it before is forgotten."""
    setattr(log, f"{end}_heart_offset_mm", offset_mm)
    setattr(log, f"{end}_heart_clock", clock)
    log.as_typed = {k: v for k, v in log.as_typed.items() if k != f"{end}_heart_offset_mm"}
    return keep_log(log=log)


def _remove_files(photograph: LogPhotograph) -> None:
    for file in (photograph.image, photograph.thumbnail):
        file.storage.delete(file.name)
