"""Which boards in stock could serve a replacement, ranked, and what speaks for and against each."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import F, Q

from restoration import timber
from restoration.calc.free_length import HAIR_MM, Stretch, first_that_fits
from restoration.calc.matching import RULES_OUT, Why
from restoration.calc.matching_data import Need
from restoration.models import Allotment, ReplacementSpec
from restoration.reports.match_facts import Board, Yardstick, need_of, read_boards, weigh_boards
from restoration.reports.match_words import Pair, Words, meets_all, too_short, words
from restoration.reports.spec_sums import sizes_to_ask

MOST_LOOKED_AT = 2000
MOST_SHOWN = 40
MOST_NEAR = 5


@dataclass(frozen=True)
class Choice:
    """A board with what is free of it. `lacks` rules it out; `mind` is for the wright to weigh."""

    board: timber.Board
    taken: tuple[Allotment, ...]
    free: tuple[Stretch, ...]
    proposed: Stretch | None
    lacks: tuple[str, ...]
    mind: tuple[str, ...]
    good: tuple[str, ...] = ()
    used_percent: float = 0.0
    waste_mm3: float = 0.0
    meets_all: bool = False
    money: float | None = None

    @property
    def serves(self) -> bool:
        return not self.lacks


@dataclass(frozen=True)
class Choosing:
    """One replacement, and all that its boards are judged by, read once.

    Of a replacement that has part of its timber they are judged by the length still wanted.
    """

    spec: ReplacementSpec
    by: Yardstick
    need: Need

    @classmethod
    def of(cls, spec: ReplacementSpec, units: str = "imperial") -> "Choosing":
        by = Yardstick.read(units)
        sides = sizes_to_ask(spec, by.yard, units)
        ask = (sides[0].ask_mm, sides[1].ask_mm) if sides else None
        return cls(spec, by, need_of(spec, by, ask_mm=ask))

    def serving(self) -> list[Choice]:
        """Those that meet all that is asked first; of these, least waste, then least worth."""
        need = self.need
        low, high = sorted([need.sided_mm - HAIR_MM, need.moulded_mm - HAIR_MM])
        lying = Q(thickness_mm__gte=low, width_mm__gte=high)
        standing = Q(thickness_mm__gte=high, width_mm__gte=low)
        boards = timber.boards_with_readings().filter(
            lying | standing, species__in=need.woods, length_mm__gte=need.length_mm - HAIR_MM
        )
        smallest_first = boards.order_by(F("thickness_mm") * F("width_mm"), "length_mm", "tag")
        choices = self.choices(smallest_first[:MOST_LOOKED_AT])
        return [choice for choice in choices if choice.serves][:MOST_SHOWN]

    def nearest(self) -> list[Choice]:
        """When none serves: those of its wood that lack one thing alone, the least short first."""
        boards = timber.boards_with_readings().filter(species__in=self.need.woods)
        read = read_boards(boards[:MOST_LOOKED_AT])
        offers, whose, weighed = weigh_boards(read, [self.need], self.by)
        one_lack = [
            (missing_mm(self.need, offers[k], int(weighed.why[k])), k)
            for k in range(len(weighed))
            if (weighed.why[k] & int(RULES_OUT)) in (int(Why.SECTION), int(Why.LENGTH))
        ]
        chosen: dict[int, Choice] = {}
        for _, k in sorted(one_lack):
            board = whose[k]
            if len(chosen) < MOST_NEAR and board.row.pk not in chosen:
                chosen[board.row.pk] = self._choice(
                    Pair(weighed, k, offers[k], board, self.need, self.spec, self.by)
                )
        return list(chosen.values())

    def by_tag(self, text: str) -> list[Choice]:
        """Any board in stock whose tag holds this text, whether or not it could serve."""
        boards = timber.boards_with_readings().filter(tag__icontains=text).order_by("tag")
        found = {choice.board.pk: choice for choice in self.choices(boards[:MOST_SHOWN])}
        return sorted(found.values(), key=lambda choice: choice.board.tag)

    def one(self, board_id: int) -> Choice | None:
        found = self.choices(timber.boards_with_readings().filter(pk=board_id))
        return found[0] if found else None

    def choices(self, boards: Iterable[timber.Board]) -> list[Choice]:
        """Each board once, by the best of its free lengths, ranked."""
        read = read_boards(boards)
        offers, whose, weighed = weigh_boards(read, [self.need], self.by)
        best: dict[int, Choice] = {}
        for k in weighed.ranked():
            board = whose[weighed.offer[k]]
            if board.row.pk not in best:
                offer = offers[weighed.offer[k]]
                pair = Pair(weighed, int(k), offer, board, self.need, self.spec, self.by)
                best[board.row.pk] = self._choice(pair)
        full = [self._nothing_free(board) for board in read if not board.free]
        return [*best.values(), *full]

    def _choice(self, pair: Pair) -> Choice:
        said, at = words(pair), pair.at
        stretch = Stretch(pair.offer.from_mm, pair.offer.to_mm)
        taken = pair.offer.section_mm2 * self.need.length_mm
        return Choice(
            self._with_wood(pair.board), pair.board.taken, pair.board.free,
            first_that_fits([stretch], self.need.length_mm) or
            first_that_fits(pair.board.free, self.need.length_mm),
            said.lacks, said.mind, said.good,
            100 * self.need.volume_mm3 / taken, float(pair.weighed.waste_mm3[at]),
            not said.lacks and meets_all(pair), _known(float(pair.weighed.money[at])),
        )  # fmt: skip

    def _nothing_free(self, board: Board) -> Choice:
        said = Words((too_short(board, self.need.length_mm, self.by.units),), (), ())
        return Choice(self._with_wood(board), board.taken, board.free, None, said.lacks, (), ())

    def _with_wood(self, board: Board) -> timber.Board:
        board.row.species = self.by.woods[board.row.species_id]
        return board.row


def _known(number: float) -> float | None:
    return None if number != number else number


def missing_mm(need: Need, offer, why: int) -> float:
    """How much more it would have to be, in the one way in which it is too small."""
    if why & int(Why.LENGTH):
        return need.length_mm - offer.length_mm
    have = sorted((offer.thickness_mm, offer.width_mm))
    want = sorted((need.sided_mm, need.moulded_mm))
    return max(b - a for a, b in zip(have, want, strict=True))


def full_mark(allotment: Allotment) -> str:
    member = allotment.spec.finding.member
    return f"{member.vessel.code}-{member.mark}"
