"""What stays together over a page's end: a heading with its text, a short piece as a whole."""

from collections.abc import Iterable, Sequence

from reportlab.platypus import CondPageBreak, Flowable, KeepTogether, Spacer
from reportlab.platypus.flowables import _listWrapOn

MOST_WHITE = 0.36
"""So much of a page may be left white to keep words and picture together."""


def stays(flowable: Flowable) -> Flowable:
    """Marked so that it never ends a page: what follows it begins on the same one."""
    flowable.stays_with_next = True
    return flowable


class Kept(KeepTogether):
    """Heads, and as much of what follows them as there is room for, but never heads alone.

    Where all of it is no taller than `whole_up_to`, in points, it is not broken at all.
    """

    def __init__(self, content: Sequence[Flowable], whole_up_to: float = 0.0):
        super().__init__(flat(content))
        self.whole_up_to = whole_up_to

    def split(self, available_width, available_height):
        self.wrap(available_width, available_height)
        content = self._content[:]
        if available_height >= self._H:
            return content
        frame = getattr(self, "_frame", None)
        breaks = self.whole_up_to < self._H or (frame is not None and frame._aH < self._H)
        if breaks and (begun := self._begun(available_width, available_height)):
            return begun
        if frame is None or frame._atTop:
            return content
        return [self.FrameBreak(), *content]

    def _begun(self, width: float, room: float) -> list[Flowable]:
        """The heads with the beginning of what follows; nothing where that finds no room."""
        at = _heads(self._content)
        heads, rest = self._content[:at], self._content[at:]
        if not rest:
            return []
        _, tall = _listWrapOn(heads, width, self.canv) if heads else (0, 0)
        between = max(heads[-1].getSpaceAfter(), rest[0].getSpaceBefore()) if heads else 0
        left = room - tall - between
        rest[0].canv = self.canv
        _, first = rest[0].wrapOn(self.canv, width, left)
        if first <= left:
            return [*heads, *rest]
        parts = rest[0].splitOn(self.canv, width, left) if left > 0 else []
        return [*heads, *parts, *rest[1:]] if len(parts) > 1 else []


class WithPicture(Kept):
    """Words and, last, the picture they lead to.

    They go to the next page as a whole where little white is left by it, or where the words are
    few. Else they are broken, and the picture takes the last of the words along: it does not begin
    a page alone.
    """

    def split(self, available_width, available_height):
        self.wrap(available_width, available_height)
        frame = getattr(self, "_frame", None)
        if available_height >= self._H or frame is None:
            return self._content[:]
        loses_little = available_height <= MOST_WHITE * frame._aH and frame._aH >= self._H
        if loses_little and not frame._atTop:
            return [self.FrameBreak(), *self._content]
        self._bind_last_words(available_width, available_height, frame._aH)
        return super().split(available_width, available_height)

    def _bind_last_words(self, width: float, room: float, page: float) -> None:
        """Those just before the picture go with it, unless too much white would be left."""
        words, last = self._content[:-2], self._content[-2:]
        tall, tail = (_listWrapOn(part, width, self.canv)[1] for part in (words, last))
        # Words that run on over the page end anywhere on the last: the worst is as tall as these.
        white = room - tall if tall <= room else tail
        if words and white <= MOST_WHITE * page and tail <= page:
            self._content = [*words, KeepTogether(last)]


def _heads(content: Sequence[Flowable]) -> int:
    """How many of these come before the first that may end a page."""
    for at, flowable in enumerate(content):
        if not getattr(flowable, "stays_with_next", False) and not isinstance(flowable, Spacer):
            return at
    return len(content)


def flat(content: Iterable[Flowable]) -> list[Flowable]:
    """Without blocks inside the block: a block of its own would go to the next page alone."""
    found: list[Flowable] = []
    for flowable in content:
        if isinstance(flowable, KeepTogether):
            found += flat(flowable._content)
        elif not isinstance(flowable, CondPageBreak):
            found.append(flowable)
    return found


def gathered(story: Sequence[Flowable]) -> list[Flowable]:
    """The story with every run of heads bound to what follows it."""
    found: list[Flowable] = []
    run: list[Flowable] = []
    for flowable in story:
        if getattr(flowable, "stays_with_next", False) or (run and isinstance(flowable, Spacer)):
            run.append(flowable)
        elif run and not flowable.isIndexing():
            found.append(_bound(run, flowable))
            run = []
        else:
            # A paper looks for its indexes at the top of its story: they are never bound.
            found += [*run, flowable]
            run = []
    return [*found, *run]


def _bound(run: Sequence[Flowable], following: Flowable) -> Flowable:
    if isinstance(following, WithPicture):
        return WithPicture([*run, *following._content])
    whole = 0.0
    if isinstance(following, Kept):
        whole = following.whole_up_to
    elif isinstance(following, KeepTogether):
        whole = float("inf")
    return Kept([*run, following], whole)
