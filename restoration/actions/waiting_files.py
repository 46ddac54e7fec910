"""A file that was sent with a form that asks on: it waits, so that nobody sends it twice.

The form carries a signed token, good for the person who sent it and for two days. What nobody
came back for is cleared when the next file is put there.
"""

import uuid
from contextlib import suppress
from dataclasses import dataclass
from datetime import timedelta

from django.core import signing
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.utils import timezone

from restoration.models import User

FOLDER = "waiting_files"
WAITS = timedelta(days=2)
_SALT = "restoration.waiting file"


class NoLongerWaiting(Exception):
    """The file a token speaks of is not there, or not for this person."""


@dataclass(frozen=True)
class WaitingFile:
    token: str
    name: str
    key: str

    def read(self) -> bytes:
        try:
            with default_storage.open(_path(self.key)) as file:
                return file.read()
        except FileNotFoundError as error:
            raise NoLongerWaiting from error


def put_by(*, data: bytes, name: str, by: User) -> WaitingFile:
    _clear_old()
    key = uuid.uuid4().hex
    default_storage.save(_path(key), ContentFile(data))
    token = signing.dumps({"by": by.pk, "key": key, "name": name[:200]}, salt=_SALT)
    return WaitingFile(token, name[:200], key)


def find(*, token: str, by: User) -> WaitingFile:
    """The file waiting under this token; raises NoLongerWaiting."""
    try:
        what = signing.loads(token, salt=_SALT, max_age=WAITS)
    except signing.BadSignature as error:
        raise NoLongerWaiting from error
    if what["by"] != by.pk or not default_storage.exists(_path(what["key"])):
        raise NoLongerWaiting
    return WaitingFile(token, what["name"], what["key"])


def let_go(waiting: WaitingFile) -> None:
    default_storage.delete(_path(waiting.key))


def _clear_old() -> None:
    with suppress(FileNotFoundError):  # nothing was ever put by, or a neighbour cleared it first
        for name in default_storage.listdir(FOLDER)[1]:
            path = f"{FOLDER}/{name}"
            if default_storage.get_modified_time(path) < timezone.now() - WAITS:
                default_storage.delete(path)


def _path(key: str) -> str:
    return f"{FOLDER}/{key}"
