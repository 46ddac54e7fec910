"""What a board could become: the replacements that lack timber and that it would serve, ranked."""

from dataclasses import dataclass

from restoration import timber
from restoration.calc.free_length import Stretch, first_that_fits
from restoration.calc.matching import Weighed
from restoration.models import ReplacementSpec
from restoration.reports.match_facts import Board, Yardstick, need_of, read_boards, weigh_boards
from restoration.reports.match_words import Pair, Words, meets_all, words

MOST_LOOKED_AT = 1000


@dataclass(frozen=True)
class Use:
    """A replacement the board would serve, and out of which of its free lengths."""

    spec: ReplacementSpec
    length: Stretch
    words: Words
    used_percent: float
    waste_mm3: float
    meets_all: bool


@dataclass(frozen=True)
class BoardUses:
    board: Board
    uses: list[Use]
    others: int  # replacements waiting that it cannot serve


def open_specs():
    """Those that wait for timber or for the rest of it, with all that matching asks of them."""
    specs = ReplacementSpec.objects.lacking_timber().for_list()
    return specs.prefetch_related("other_woods").along_the_hull()


def board_uses(row: timber.Board, units: str) -> BoardUses:
    board = read_boards([row])[0]
    by, specs = Yardstick.read(units), list(open_specs()[:MOST_LOOKED_AT])
    needs = [need_of(spec, by) for spec in specs]
    if not needs:
        return BoardUses(board, [], 0)
    offers, _, weighed = weigh_boards([board], needs, by, only_serving=True)
    uses: dict[int, Use] = {}
    for k in weighed.ranked():
        spec, need = specs[weighed.need[k]], needs[weighed.need[k]]
        if spec.pk not in uses:
            offer = offers[weighed.offer[k]]
            uses[spec.pk] = _use(Pair(weighed, int(k), offer, board, need, spec, by), weighed)
    return BoardUses(board, list(uses.values()), len(specs) - len(uses))


def _use(pair: Pair, weighed: Weighed) -> Use:
    stretch = Stretch(pair.offer.from_mm, pair.offer.to_mm)
    taken = pair.offer.section_mm2 * pair.need.length_mm
    return Use(
        pair.spec,
        first_that_fits([stretch], pair.need.length_mm) or stretch,
        words(pair),
        100 * pair.need.volume_mm3 / taken,
        float(weighed.waste_mm3[pair.at]),
        meets_all(pair),
    )
