"""What speaks for a board and what against it, in plain words with figures, for one replacement."""

import math
from dataclasses import dataclass

from restoration.calc.matching import DIFFERS, LEAST_USEFUL_MM, Weighed, Why
from restoration.calc.matching_data import Need, Offer
from restoration.models import ReplacementSpec
from restoration.reports.match_facts import Board, Yardstick
from timber_stock.templatetags.measures import RING_WORDS, about
from timber_stock.web.fields import size_for

KERF_MM = 3.0  # lost between two pieces ripped side by side, for a count only (ours)


@dataclass(frozen=True)
class Words:
    """`lacks` rules the board out, `mind` is for the wright to weigh, `good` speaks for it."""

    lacks: tuple[str, ...]
    mind: tuple[str, ...]
    good: tuple[str, ...]


@dataclass(frozen=True)
class Pair:
    """One entry of what was weighed, with the rows it came from."""

    weighed: Weighed
    at: int
    offer: Offer
    board: Board
    need: Need
    spec: ReplacementSpec
    by: Yardstick

    def has(self, flag: Why) -> bool:
        return bool(self.weighed.why[self.at] & int(flag))

    def long(self, mm: float) -> str:
        """As it is asked for: to the finest mark it was typed with."""
        return size_for(mm, self.by.units)

    def about(self, mm: float) -> str:
        """A computed length, to the marks of a rule."""
        return about(mm, self.by.units)

    def figure(self, name: str) -> float | None:
        """A figure of the heart; None where it is not known."""
        value = float(getattr(self.weighed.heart, name)[self.at])
        return None if value != value else value


def words(pair: Pair) -> Words:
    against = (_heart, _sapwood, _rings, _seasoning, _green_size, _square, _end)
    speak_for = (_good_heart, _good_rings, _good_dry, _left, _side_by_side)
    return Words(
        tuple(_lacks(pair)),
        tuple(said for each in against if (said := each(pair))),
        tuple(said for each in speak_for if (said := each(pair))),
    )


def _lacks(pair: Pair):
    row, need = pair.board.row, pair.need
    if pair.has(Why.WOOD):
        yield f"{pair.by.woods[row.species_id].common_name} is not a wood asked for"
    if pair.has(Why.SECTION):
        yield f"its section is too small: {_too_small(pair)}"
    if pair.has(Why.LENGTH):
        yield too_short(pair.board, need.length_mm, pair.by.units)


def _too_small(pair: Pair) -> str:
    have = sorted((pair.offer.thickness_mm, pair.offer.width_mm))
    want = sorted((pair.need.sided_mm, pair.need.moulded_mm))
    sides = zip(("thin", "narrow"), have, want, strict=True)
    return " and ".join(f"{pair.about(b - a)} too {word}" for word, a, b in sides if b - a > 0.4)


def too_short(board: Board, wanted_mm: float, units: str) -> str:
    """By how much, once the ends that are checked are off."""
    longest = max((stretch.length_mm for stretch in board.free), default=0.0)
    if not longest:
        return "nothing of its length is free"
    short = f"{about(wanted_mm - longest, units)} short"
    if any(board.row.end_checks_mm()):
        return f"{short} after trimming checks: no free length is long enough"
    return f"{short}: no free length is long enough"


def _heart(pair: Pair) -> str:
    if not pair.has(Why.HEART):
        return ""
    gap, row = pair.figure("clearance_mm"), pair.board.row
    asked = "asked for clear of heart"
    if gap is None and row.heart == "unknown":
        return f"heart not known; {asked}"
    if gap is None:
        return f"{row.get_heart_display()}; {asked}"
    end = "butt end" if pair.weighed.heart.nearest_butt[pair.at] else "top end"
    where = "in the piece" if gap < 0.05 else f"within {pair.about(gap)} of it"
    return f"heart {where} at the {end}, by where it is measured; {asked}"


def _sapwood(pair: Pair) -> str:
    return "has sapwood, which is not allowed" if pair.has(Why.SAPWOOD) else ""


def _rings(pair: Pair) -> str:
    if not pair.has(Why.RINGS):
        return ""
    asked = pair.spec.get_rings_display()
    if pair.need.rings_on_wide_face != pair.need.rings:
        asked += f" {pair.spec.get_rings_face_display()}, which is the narrow one"
    if (angle := pair.figure("ring_deg")) is not None:
        return f"rings at {angle:.0f}° to the wide face in its middle; asked for {asked}"
    return f"rings {pair.board.row.get_rings_display()}; asked for {asked}"


def _seasoning(pair: Pair) -> str:
    if not pair.has(Why.SEASONING):
        return ""
    state = pair.board.row.get_state_display()
    if pair.offer.percent is not None:
        state += f", last read {pair.offer.percent:g} %"
    if pair.need.seasoning == "green":
        return f"{state}; asked for green"
    asked = pair.need.moisture_percent
    return f"{state}; asked for seasoned{f' to {asked:g} %' if pair.offer.percent else ''}"


def _green_size(pair: Pair) -> str:
    if not pair.has(Why.GREEN_SIZE):
        return ""
    sizes = " × ".join(pair.long(mm) for mm in pair.need.ask_mm)
    return f"{sizes} is what to saw for it green: this one may finish small"


def _square(pair: Pair) -> str:
    if not pair.has(Why.OUT_OF_SQUARE):
        return ""
    dry = pair.need.service_percent or pair.need.moisture_percent
    basis = ", if its heart lies as its ring direction has it"
    assumed = basis if pair.weighed.heart.assumed[pair.at] else ""
    out = pair.figure("out_of_square_deg")
    now = pair.offer.percent
    goes = "swell" if now is not None and now < dry else "dry"
    start = "green" if now is None else f"{now:g} %"
    return f"will {goes} {out:.1f}° out of square on its way from {start} to {dry:g} %{assumed}"


def _end(pair: Pair) -> str:
    over = pair.weighed.over_mm[pair.at]
    if not 0.4 < over < LEAST_USEFUL_MM:
        return ""
    return f"leaves an end of {pair.about(float(over))}, too short to use"


def _good_heart(pair: Pair) -> str:
    if not pair.need.clear_of_heart or pair.has(Why.HEART):
        return ""
    gap = pair.figure("clearance_mm")
    return (
        "clear of heart by the record" if gap is None else f"{pair.about(gap)} clear of the heart"
    )


def _good_rings(pair: Pair) -> str:
    if pair.need.rings == "any" or pair.has(Why.RINGS):
        return ""
    if (angle := pair.figure("ring_deg")) is not None:
        return f"rings at {angle:.0f}° to the wide face, as asked"
    return f"{RING_WORDS.get(pair.offer.rings, pair.offer.rings)} on the wide face, as asked"


def _good_dry(pair: Pair) -> str:
    if pair.has(Why.SEASONING):
        return ""
    if pair.need.seasoning == "green":
        return "green, as asked"
    if pair.offer.percent is None:
        return "ready to use, though no reading says how dry"
    return f"last read {pair.offer.percent:g} %: dry enough"


def _left(pair: Pair) -> str:
    over = float(pair.weighed.over_mm[pair.at])
    return f"leaves {pair.about(over)} of it free" if over >= LEAST_USEFUL_MM else ""


def _side_by_side(pair: Pair) -> str:
    """A wide board promised for a thin piece wastes most of itself, unless it is resawn first."""
    have = sorted((pair.offer.thickness_mm, pair.offer.width_mm))
    want = sorted((pair.need.sided_mm, pair.need.moulded_mm))
    lying, standing = (
        math.prod(int((a + KERF_MM) / (b + KERF_MM)) for a, b in zip(have, sizes, strict=True))
        for sizes in (want, want[::-1])
    )
    if (many := max(lying, standing)) < 2:
        return ""
    heart = ", its heart left out of account" if _heart_may_spoil(pair) else ""
    return f"its section would hold {many} such side by side{heart}, if it were resawn first"


def _heart_may_spoil(pair: Pair) -> bool:
    """Whether some of those side by side could have the heart in them, against what was asked."""
    return pair.need.clear_of_heart and pair.offer.heart != "clear"


def meets_all(pair: Pair) -> bool:
    """Nothing differs from what was asked; its square and its end are no part of that."""
    return not pair.weighed.why[pair.at] & int(DIFFERS)
