"""Which boards in stock could serve a replacement, and what speaks against each of the others."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.db.models import F, Q

from restoration import timber
from restoration.calc.free_length import (
    HAIR_MM,
    Stretch,
    first_that_fits,
    free_stretches,
    section_holds,
)
from restoration.models import Allotment, ReplacementSpec, Yard
from restoration.reports.spec_sums import sizes_to_ask
from timber_stock.web.fields import format_for

MOST_LOOKED_AT = 300
MOST_SHOWN = 40


@dataclass(frozen=True)
class Choice:
    """A board with what is free of it. `lacks` rules it out; `mind` is for the wright to weigh."""

    board: timber.Board
    taken: tuple[Allotment, ...]
    free: tuple[Stretch, ...]
    proposed: Stretch | None
    lacks: tuple[str, ...]
    mind: tuple[str, ...]

    @property
    def serves(self) -> bool:
        return not self.lacks

    def longest_free_mm(self) -> float:
        return max((stretch.length_mm for stretch in self.free), default=0.0)


@dataclass(frozen=True)
class Asked:
    """What to ask of the saw, which a board that still shrinks should have; and how it is said."""

    section_mm: tuple[float, float]
    said: str

    @classmethod
    def of(cls, spec: ReplacementSpec, units: str) -> "Asked | None":
        sides = sizes_to_ask(spec, Yard.current(), units)
        if sides is None:
            return None
        sided, moulded = (side.ask_mm for side in sides)
        return cls((sided, moulded), f"{format_for(sided, units)} × {format_for(moulded, units)}")

    def against(self, board: timber.Board) -> tuple[str, ...]:
        """A board that is ready has its shrinkage behind it."""
        section = (board.thickness_mm, board.width_mm)
        if board.state == "ready" or section_holds(section, self.section_mm):
            return ()
        return (f"{self.said} is what to saw for it green: this one may finish small",)


def boards_that_serve(spec: ReplacementSpec, units: str = "imperial") -> list[Choice]:
    """Those that give least to weigh first, and of these the smallest that will do."""
    low, high = sorted([spec.sided_mm - HAIR_MM, spec.moulded_mm - HAIR_MM])
    lying = Q(thickness_mm__gte=low, width_mm__gte=high)
    standing = Q(thickness_mm__gte=high, width_mm__gte=low)
    boards = timber.boards_in_stock().filter(
        lying | standing,
        species__in=acceptable_woods(spec),
        length_mm__gte=spec.length_mm - HAIR_MM,
    )
    smallest_first = boards.order_by(F("thickness_mm") * F("width_mm"), "length_mm", "tag")
    choices = choices_of(spec, smallest_first[:MOST_LOOKED_AT], units)
    serving = [choice for choice in choices if choice.serves]
    return sorted(serving, key=lambda choice: len(choice.mind))[:MOST_SHOWN]


def boards_by_tag(spec: ReplacementSpec, text: str, units: str = "imperial") -> list[Choice]:
    """Any board in stock whose tag holds this text, whether or not it could serve."""
    boards = timber.boards_in_stock().filter(tag__icontains=text).order_by("tag")
    return choices_of(spec, boards[:MOST_SHOWN], units)


def choice_of(spec: ReplacementSpec, board_id: int, units: str = "imperial") -> Choice | None:
    found = choices_of(spec, timber.boards_in_stock().filter(pk=board_id), units)
    return found[0] if found else None


def choices_of(spec: ReplacementSpec, boards: Iterable[timber.Board], units: str) -> list[Choice]:
    boards, woods = list(boards), acceptable_woods(spec)
    taken, asked = _taken(boards), Asked.of(spec, units)
    return [_choice(spec, board, taken[board.pk], woods, asked) for board in boards]


def acceptable_woods(spec: ReplacementSpec) -> set[int]:
    return {spec.wood_id, *(wood.pk for wood in spec.other_woods.all())}


def full_mark(allotment: Allotment) -> str:
    member = allotment.spec.finding.member
    return f"{member.vessel.code}-{member.mark}"


def _taken(boards: Sequence[timber.Board]) -> dict[int, list[Allotment]]:
    taken = defaultdict(list)
    standing = Allotment.objects.standing().filter(board__in=[board.pk for board in boards])
    for allotment in standing.select_related("spec__finding__member__vessel").order_by("from_mm"):
        taken[allotment.board_id].append(allotment)
    return taken


def _choice(
    spec: ReplacementSpec,
    board: timber.Board,
    taken: list[Allotment],
    woods: set[int],
    asked: Asked | None,
) -> Choice:
    free = free_stretches(board.length_mm, [Stretch(a.from_mm, a.to_mm) for a in taken])
    proposed = first_that_fits(free, spec.length_mm)
    lacks = []
    if board.species_id not in woods:
        lacks.append(f"{board.species.common_name} is not a wood asked for")
    if not section_holds((board.thickness_mm, board.width_mm), (spec.sided_mm, spec.moulded_mm)):
        lacks.append("its section is too small")
    if proposed is None:
        lacks.append("no free length is long enough")
    mind = (*_to_weigh(spec, board), *(asked.against(board) if asked else ()))
    return Choice(board, tuple(taken), tuple(free), proposed, tuple(lacks), mind)


def _to_weigh(spec: ReplacementSpec, board: timber.Board) -> tuple[str, ...]:
    """What differs from what was asked, and does not by itself rule a board out."""
    mind = []
    if spec.clear_of_heart and board.heart != "clear":
        heart = "heart not known" if board.heart == "unknown" else board.get_heart_display()
        mind.append(f"{heart}; asked for clear of heart")
    if not spec.sapwood_allowed and board.has_sapwood:
        mind.append("has sapwood, which is not allowed")
    if spec.rings not in ("any", board.rings):
        asked = spec.get_rings_display()
        mind.append(f"rings {board.get_rings_display()}; asked for {asked}")
    if spec.seasoning == "seasoned" and board.state != "ready":
        mind.append(f"{board.get_state_display()}; asked for seasoned")
    if spec.seasoning == "green" and board.state != "green":
        mind.append(f"{board.get_state_display()}; asked for green")
    return tuple(mind)
