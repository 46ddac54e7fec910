"""A proposed set of members for a hull of a usual kind, to be looked over before it is stored.

Which members there are, and about where along her, is in `fixtures/setting_out.csv`: a first
guess of our own for the usual kinds of hull. Repeated members follow from the frame spacing and
the counts typed in. No size is proposed, because no scantling rule was read: sizes are None until
someone types them.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from restoration.calc.checks import above_zero, finite, whole_number
from restoration.calc.hull_particulars import hull_kinds
from restoration.calc.lines import Stations
from restoration.calc.member_marks import mark_of
from restoration.calc.tables import rows
from restoration.calc.vocabulary import member_kind

MOST_FRAMES = 200
PAIR = ("P", "S")


@dataclass(frozen=True)
class ProposedMember:
    """A member to be. kind is a code of the member table; side is C, P, S or B (both)."""

    kind: str
    mark: str
    number: int | None
    side: str
    station_from: float
    station_to: float
    sided_mm: float | None = None
    moulded_mm: float | None = None


@dataclass(frozen=True)
class Layout:
    """What is typed in. Lengths in mm, along the hull from her foremost point; counts whole.

    hull: one of `hull_particulars.hull_kinds`. strakes: planks a side, garboard and sheer strake
    among them. floors_every: 1 for a floor at each frame, 2 for every second, 0 for none.
    frame_kind: which kind of frame she has. leave_out: kinds of member that she has not.
    """

    hull: str
    loa_mm: float
    stations: Stations
    first_frame_mm: float
    last_frame_mm: float
    frame_spacing_mm: float
    strakes: int
    floors_every: int = 1
    beams: int = 0
    keel_bolts: int = 0
    frame_kind: str = "frame"
    leave_out: tuple[str, ...] = ()


def propose(layout: Layout) -> tuple[ProposedMember, ...]:
    """Backbone and longitudinals, then floors, frames, planks, beams and keel bolts.

    Frames are numbered from forward; a floor has the number of its frame, a plank that of its
    strake from the garboard up. Raises ValueError for an unknown kind of hull or member, a
    spacing or length not above 0, frames off the hull or out of order, more than 200 of them,
    fewer than two strakes, or a count below 0.
    """
    _refuse_the_impossible(layout)
    frames = frame_places(layout)
    found = [
        *_single(layout),
        *_floors(layout, frames),
        *_repeated(layout, layout.frame_kind, PAIR, frames),
        *_planks(layout),
        *_repeated(layout, "deck_beam", ("B",), _spread(layout, layout.beams, _DECK)),
        *_repeated(
            layout, "keel_bolt", ("C",), _spread(layout, layout.keel_bolts, _ballast(layout))
        ),
    ]
    return tuple(member for member in found if member.kind not in layout.leave_out)


_DECK = (0.08, 0.94)
_FLOORS = (0.10, 0.86)
"""Shares of the length between which beams, and floors, are proposed."""


def frame_places(layout: Layout) -> list[float]:
    """Where the frames stand, mm along the hull, from the first by the spacing to the last."""
    reach = layout.last_frame_mm - layout.first_frame_mm
    count = int(reach / layout.frame_spacing_mm + 1e-9) + 1
    return [layout.first_frame_mm + layout.frame_spacing_mm * place for place in range(count)]


def _refuse_the_impossible(layout: Layout) -> None:
    if layout.hull not in hull_kinds():
        names = ", ".join(hull_kinds())
        raise ValueError(f"“{layout.hull}” is no kind of hull here; they are {names}.")
    loa = above_zero(layout.loa_mm, "length overall")
    spacing = above_zero(layout.frame_spacing_mm, "frame spacing")
    first = finite(layout.first_frame_mm, "place of the first frame")
    last = finite(layout.last_frame_mm, "place of the last frame")
    if not 0 <= first <= last <= loa:
        raise ValueError("The frames run from forward to aft and lie on the hull.")
    if (last - first) / spacing >= MOST_FRAMES:
        raise ValueError(f"At most {MOST_FRAMES} frames are set out at once; check the spacing.")
    if whole_number(layout.strakes, "number of strakes") < 2:
        raise ValueError("A side has two strakes or more: garboard and sheer strake.")
    for name in ("floors_every", "beams", "keel_bolts"):
        if not 0 <= whole_number(getattr(layout, name), name.replace("_", " ")) <= MOST_FRAMES:
            raise ValueError(f"The {name.replace('_', ' ')} cannot be {getattr(layout, name)}.")
    for kind in (layout.frame_kind, *layout.leave_out):
        member_kind(kind)


def _single(layout: Layout) -> list[ProposedMember]:
    """The members of which there is one, or one a side."""
    return [
        _member(layout, row["kind"], None, side, float(row["from"]), float(row["to"]))
        for row in rows("setting_out")
        if row["hull"] == layout.hull
        for side in row["side"]
    ]


def _floors(layout: Layout, frames: list[float]) -> list[ProposedMember]:
    if layout.floors_every == 0:
        return []
    low, high = _FLOORS
    numbered = [
        (number, place / layout.loa_mm)
        for number, place in enumerate(frames, start=1)
        if low <= place / layout.loa_mm <= high
    ]
    return [
        _member(layout, "floor_timber", number, "B", share, share)
        for number, share in numbered[:: layout.floors_every]
    ]


def _planks(layout: Layout) -> list[ProposedMember]:
    """Strake 1 is the garboard, the last the sheer strake; of four or more the second is broad."""
    kinds = dict.fromkeys(range(1, layout.strakes + 1), "planking")
    if layout.strakes >= 4:
        kinds[2] = "broad_strake"
    kinds[1], kinds[layout.strakes] = "garboard", "sheer_strake"
    return [
        _member(layout, kind, strake if kind == "planking" else None, side, 0.0, 1.0)
        for strake, kind in kinds.items()
        for side in PAIR
    ]


def _repeated(
    layout: Layout, kind: str, sides: tuple[str, ...], places: list[float]
) -> list[ProposedMember]:
    return [
        _member(layout, kind, number, side, place / layout.loa_mm, place / layout.loa_mm)
        for number, place in enumerate(places, start=1)
        for side in sides
    ]


def _spread(layout: Layout, count: int, shares: tuple[float, float]) -> list[float]:
    """Places of `count` members spread evenly between two shares of the length, mm."""
    start, end = (share * layout.loa_mm for share in shares)
    if count == 1:
        return [(start + end) / 2]
    return [start + (end - start) * place / (count - 1) for place in range(count)]


def _ballast(layout: Layout) -> tuple[float, float]:
    """The shares between which keel bolts are proposed: along the ballast, or else the keel."""
    held = {row["kind"]: row for row in rows("setting_out") if row["hull"] == layout.hull}
    row = held.get("ballast_keel", held["keel"])
    inset = 0.03
    return float(row["from"]) + inset, float(row["to"]) - inset


def _member(
    layout: Layout, kind: str, number: int | None, side: str, start: float, end: float
) -> ProposedMember:
    first, last = (
        round(layout.stations.number_at(share * layout.loa_mm), 3) for share in (start, end)
    )
    return ProposedMember(kind, mark_of(kind, number, side), number, side, first, last)


def resize(
    members: Iterable[ProposedMember],
    kind: str,
    numbers: tuple[int, int] | None = None,
    sided_mm: float | None = None,
    moulded_mm: float | None = None,
    side: str | None = None,
) -> tuple[ProposedMember, ...]:
    """Give sizes to a range of members: "floors 4 to 9, sided 76". A size not given stays.

    numbers: first and last of the range, None for every member of the kind. side: P or S for one
    side only. Raises ValueError for a size not above 0, no size at all, or a range in which there
    is no member.
    """
    _refuse_no_size(sided_mm, moulded_mm)
    members = tuple(members)
    meant = {member.mark for member in members if _in_range(member, kind, numbers, side)}
    if not meant:
        word = member_kind(kind).one
        raise ValueError(f"There is no {word} in that range to give a size to.")
    return tuple(
        _sized(member, sided_mm, moulded_mm) if member.mark in meant else member
        for member in members
    )


def _refuse_no_size(sided_mm: float | None, moulded_mm: float | None) -> None:
    if sided_mm is None and moulded_mm is None:
        raise ValueError("Give a sided or a moulded dimension.")
    for size, name in ((sided_mm, "sided dimension"), (moulded_mm, "moulded dimension")):
        if size is not None:
            above_zero(size, name)


def _sized(
    member: ProposedMember, sided_mm: float | None, moulded_mm: float | None
) -> ProposedMember:
    return replace(
        member,
        sided_mm=member.sided_mm if sided_mm is None else sided_mm,
        moulded_mm=member.moulded_mm if moulded_mm is None else moulded_mm,
    )


def _in_range(
    member: ProposedMember, kind: str, numbers: tuple[int, int] | None, side: str | None
) -> bool:
    if member.kind != kind or side not in (None, member.side):
        return False
    if numbers is None:
        return True
    return member.number is not None and numbers[0] <= member.number <= numbers[1]
