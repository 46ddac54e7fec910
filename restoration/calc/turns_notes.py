"""What usually holds a hull while members are out: shores and temporary ribbands, by kind.

Common practice, from memory: a reminder of what to think of, never a plan of shoring.
"""

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Protocol

from restoration.calc import vocabulary
from restoration.calc.turns_asked import listed

STANDING = "Common practice, from memory: a proposal by the kind of member, to be judged on her."
CAUTION = (
    "A hull that slips off her shores kills. Shoring, blocking and lifting are for people who "
    "know them, by local codes and her own weights; what carries a ballast keel or takes a keel "
    "bolt belongs before a licensed surveyor or naval architect first."
)
MEASURE = (
    "Before anything is out: take breadths at the sheer and diagonals at each station concerned, "
    "and stretch a line along the keel; take them again before the new piece is fastened."
)

_FLOOR = (
    "shore her under the turn of the bilge on both sides of each floor that is out and block the "
    "keel under it; before the floor is lifted, tie the heels of its two frames with a temporary "
    "cleat across."
)
_FRAME = (
    "bend a temporary ribband round the outside at the bilge and another under the sheer, over at "
    "least two frames that stay fore and aft of each one out, screwed to those; stay the frame "
    "heads with a cross spall."
)
_STRAKE = (
    "leave the strakes above and below fastened; ribbands over the opening hold the frames to "
    "their spacing until the new plank is hung; work on both sides alike."
)
_BEAM = (
    "tie the two sides together at the beam's station with a temporary cross spall from shelf to "
    "shelf, so that they neither spread nor come in; prop the beams fore and aft of it."
)
_ALONG = (
    "a temporary ribband along its line, fastened to every frame that it crossed, and cross spalls "
    "at the frame heads; never the same timber on both sides at once."
)
_KEEL = (
    "take her weight on shores under the bilges and on blocks under both ends, clear of what comes "
    "out; look every day whether a shore has slackened."
)
_BALLAST = (
    "ballast stands on blocks or a cradle of its own before any keel bolt is slackened; nobody "
    "works under it."
)
_BOW = (
    "shore the bow on both sides and block the keel close behind; hold the hood ends with a "
    "ribband round the bow before their fastenings are drawn."
)
_STERN = (
    "shore the counter and the quarters and block the after end of the keel; hold the plank ends "
    "with a ribband across; rudder and shaft off first."
)
_KNEE = "a cross spall or a strut close by keeps the angle that the knee held."
_STEP = (
    "mast out first; prop the deck round the partners; as for floors, where the step crosses them."
)
_BULKHEAD = (
    "cross spalls at sheer and sole, with a diagonal between them, in place of the bulkhead."
)
ELSE = "say here what holds her shape while it is out."

_KINDS: Mapping[str, str] = MappingProxyType(
    {
        "floor_timber": _FLOOR,
        "mast_step": _STEP, "mast_step_timber": _STEP,
        "bulkhead": _BULKHEAD,
        "hanging_knee": _KNEE, "lodging_knee": _KNEE, "quarter_knee": _KNEE, "breasthook": _KNEE,
        "transom_knee": _STERN, "stern_knee": _STERN, "stern_post": _STERN, "deadwood": _STERN,
        "horn_timber": _STERN, "counter_timber": _STERN, "transom": _STERN, "shaft_log": _STERN,
        "stem": _BOW, "stem_foot": _BOW, "forefoot": _BOW, "stem_knee": _BOW, "apron": _BOW,
        "keel": _KEEL, "hog": _KEEL, "keelson": _KEEL, "centreboard_trunk": _KEEL, "bed_log": _KEEL,
        "ballast_keel": _BALLAST, "keel_bolt": _BALLAST,
        "deck_beam": _BEAM, "beam_end": _BEAM, "carlin": _BEAM, "ledge": _BEAM,
    }
)  # fmt: skip
_GROUPS: Mapping[str, str] = MappingProxyType(
    {"transverse": _FRAME, "shell": _STRAKE, "longitudinal": _ALONG}
)


class Out(Protocol):
    """A member that is out: its mark and its kind."""

    mark: str
    kind: str


def proposed_notes(out: Iterable[Out]) -> tuple[str, ...]:
    """One note for each way of holding her that the members out call for, with their marks.

    Raises ValueError for a kind that there is none of.
    """
    marks: dict[str, list[str]] = {}
    for member in out:
        marks.setdefault(_note(member.kind), []).append(member.mark)
    return tuple(f"{listed(held)}: {note}" for note, held in marks.items())


def _note(kind: str) -> str:
    return _KINDS.get(kind) or _GROUPS.get(vocabulary.member_kind(kind).group, ELSE)
