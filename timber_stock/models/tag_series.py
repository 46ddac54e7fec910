"""Tags for the pieces of a log: L07 gives L07-1, that gives L07-1a, that gives L07-1a1, and on."""

import re
from collections.abc import Callable, Collection, Iterator, Sequence
from itertools import count


def child_tags(parent: str, *, is_log: bool) -> Iterator[str]:
    """Figures after a log's hyphen, then letters and figures by turns, however deep."""
    if is_log:
        return (f"{parent}-{number}" for number in count(1))
    if parent[-1].isdigit():
        return (parent + _letters(number) for number in count(1))
    return (f"{parent}{number}" for number in count(1))


def tags_after(tag: str) -> Iterator[str]:
    """How a row of equal pieces goes on from the tag of the first: X7, X8 ...; X7c, X7d ..."""
    if figures := re.fullmatch(r"(.*?)([0-9]{1,12})", tag):
        stem, width, first = figures[1], len(figures[2]), int(figures[2])
        return (f"{stem}{number:0{width}d}" for number in count(first + 1))
    if letters := re.fullmatch(r"(.*\d)([a-z]{1,2})", tag):
        stem, first = letters[1], _number(letters[2])
        return (stem + _letters(number) for number in count(first + 1))
    return (f"{tag}-{number}" for number in count(2))


def give_tags(
    rows: Sequence[tuple[str, int]],
    free_tags: Callable[[], Iterator[str]],
    taken: Collection[str],
) -> list[list[str]]:
    """The tags of each row of equal pieces: (the tag typed or "", how many) in the order typed.

    A tag that was typed is given as it stands, so that one taken already is refused with its
    name; all others step round what is taken or typed in another row.
    """
    spoken_for = {tag.lower() for tag in taken} | {typed.lower() for typed, _ in rows}
    given = []
    for typed, quantity in rows:
        tags = [typed] if typed else []
        series = tags_after(typed) if typed else free_tags()
        while len(tags) < quantity:
            tag = next(series)
            if tag.lower() not in spoken_for:
                tags.append(tag)
                spoken_for.add(tag.lower())
        given.append(tags)
    return given


def natural_order(tag: str) -> list[tuple[int, str]]:
    """A key that sorts L07-2 before L07-10."""
    return [
        (int(part), "") if part.isdecimal() else (-1, part.lower())
        for part in re.findall(r"[0-9]{1,12}|[^0-9]+", tag)
    ]


def _letters(number: int) -> str:
    """1 is a, 26 is z, 27 is aa."""
    text = ""
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(ord("a") + rest) + text
    return text


def _number(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - ord("a") + 1
    return number
