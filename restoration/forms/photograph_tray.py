"""The photographs of a form that is not kept yet: those waiting, and those just sent."""

from base64 import b64encode
from dataclasses import dataclass
from itertools import zip_longest

from restoration.actions import pending
from restoration.actions.findings import (
    MOST_PHOTOGRAPHS,
    PhotographToKeep,
    too_many_photographs,
)
from restoration.models import User
from timber_stock.web import pictures

CAPTION_LENGTH = 200
GONE = "A photograph is no longer waiting here (they wait for two days). Choose it again."


@dataclass(frozen=True)
class Waiting:
    photograph: pending.PendingPhotograph
    caption: str = ""

    def thumbnail_uri(self) -> str:
        """The thumbnail within the page itself: it has no address until its finding is kept."""
        return "data:image/jpeg;base64," + b64encode(self.photograph.thumbnail()).decode("ascii")


class PhotographTray:
    """Takes in what is sent, keeps what was taken in before, and says what it refused."""

    def __init__(self, post=None, files=None, *, by: User):
        self.by = by
        self.errors: list[str] = []
        self.waiting: list[Waiting] = []
        self.new: list[Waiting] = []
        if post is not None:
            self._find_waiting(post)
            self._take_in(files.getlist("photographs"))

    def all(self) -> list[Waiting]:
        return [*self.waiting, *self.new]

    def to_keep(self) -> list[PhotographToKeep]:
        return [PhotographToKeep(one.photograph.picture(), one.caption) for one in self.all()]

    def let_go(self) -> None:
        for one in self.all():
            pending.let_go(one.photograph)

    def _find_waiting(self, post) -> None:
        tokens = post.getlist("photograph")
        left_out = set(post.getlist("leave_out"))
        captions = dict(zip_longest(tokens, post.getlist("caption")[: len(tokens)], fillvalue=""))
        for token in dict.fromkeys(tokens):
            try:
                photograph = pending.find(token=token, by=self.by)
            except pending.NoLongerKept:
                if token not in left_out:
                    self._say(GONE)
                continue
            if token in left_out:
                pending.let_go(photograph)
            else:
                self.waiting.append(Waiting(photograph, captions[token].replace("\0", "").strip()))
        if any(len(one.caption) > CAPTION_LENGTH for one in self.waiting):
            self._say(f"A caption is up to {CAPTION_LENGTH} letters long; put the rest above.")

    def _take_in(self, files) -> None:
        room = MOST_PHOTOGRAPHS - len(self.waiting)
        if len(files) > room:
            self._say(too_many_photographs(len(self.waiting) + len(files)))
        for file in files[: max(room, 0)]:
            try:
                picture = pictures.take_in(file, file.name)
            except pictures.NotTakenIn as error:
                self._say(str(error))
            else:
                self.new.append(Waiting(pending.put_by(picture=picture, by=self.by)))

    def _say(self, sentence: str) -> None:
        if sentence not in self.errors:
            self.errors.append(sentence)
