"""Photographs taken in before the finding they belong to is kept.

A refused form, or a form still being filled in, must not ask for them again: they wait in a
folder of their own, and the form carries a signed token for each, good for the person who sent
it and for two days. What nobody came back for is cleared when the next one is put there.
"""

import hashlib
import uuid
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.core import signing
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.utils import timezone

from restoration.models import User
from timber_stock.web.pictures import Picture

FOLDER = "pending"
WAITS = timedelta(days=2)
_SALT = "restoration.pending photograph"


class NoLongerKept(Exception):
    """The photograph a token speaks of is not waiting, or not for this person."""


@dataclass(frozen=True)
class PendingPhotograph:
    token: str
    name: str
    sha256: str
    width_px: int
    height_px: int
    taken_at: datetime | None

    def thumbnail(self) -> bytes:
        return _read(_thumbnail_path(self.name))

    def picture(self) -> Picture:
        jpeg = _read(_path(self.name))
        if hashlib.sha256(jpeg).hexdigest() != self.sha256:
            raise NoLongerKept
        return Picture(
            jpeg=jpeg,
            thumbnail=self.thumbnail(),
            width_px=self.width_px,
            height_px=self.height_px,
            sha256=self.sha256,
            taken_at=self.taken_at,
        )


def put_by(*, picture: Picture, by: User) -> PendingPhotograph:
    clear_old()
    name = uuid.uuid4().hex
    default_storage.save(_path(name), ContentFile(picture.jpeg))
    default_storage.save(_thumbnail_path(name), ContentFile(picture.thumbnail))
    what = {
        "by": by.pk,
        "name": name,
        "sha256": picture.sha256,
        "size": [picture.width_px, picture.height_px],
        "taken_at": picture.taken_at and picture.taken_at.isoformat(),
    }
    return find(token=signing.dumps(what, salt=_SALT), by=by)


def find(*, token: str, by: User) -> PendingPhotograph:
    """The photograph waiting under this token; raises NoLongerKept."""
    try:
        what = signing.loads(token, salt=_SALT, max_age=WAITS)
    except signing.BadSignature as error:
        raise NoLongerKept from error
    if what["by"] != by.pk or not default_storage.exists(_thumbnail_path(what["name"])):
        raise NoLongerKept
    return PendingPhotograph(
        token=token,
        name=what["name"],
        sha256=what["sha256"],
        width_px=what["size"][0],
        height_px=what["size"][1],
        taken_at=what["taken_at"] and datetime.fromisoformat(what["taken_at"]),
    )


def let_go(photograph: PendingPhotograph) -> None:
    for path in (_path(photograph.name), _thumbnail_path(photograph.name)):
        default_storage.delete(path)


def clear_old() -> None:
    """Remove what has waited longer than a token is good for."""
    with suppress(FileNotFoundError):  # nothing was ever put by, or a neighbour cleared it first
        for name in default_storage.listdir(FOLDER)[1]:
            path = f"{FOLDER}/{name}"
            if default_storage.get_modified_time(path) < timezone.now() - WAITS:
                default_storage.delete(path)


def _path(name: str) -> str:
    return f"{FOLDER}/{name}.jpg"


def _thumbnail_path(name: str) -> str:
    return f"{FOLDER}/{name}-small.jpg"


def _read(path: str) -> bytes:
    try:
        with default_storage.open(path) as file:
            return file.read()
    except FileNotFoundError as error:
        raise NoLongerKept from error
