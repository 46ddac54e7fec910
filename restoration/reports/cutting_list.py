"""A cutting list, and the log to ask a mill for it, as papers."""

from collections.abc import Sequence
from datetime import date

from restoration import timber
from restoration.models import Yard
from restoration.reports.paper import (
    Block,
    Facts,
    Figure,
    Head,
    Heading,
    Line,
    Paper,
    SideBySide,
    Table,
    Words,
)
from restoration.reports.pdf.words import day, length, listed, number
from timber_stock.drawings.log_wanted_plot import log_wanted_svg
from timber_stock.sawing import log_wanted as least
from timber_stock.templatetags.measures import board_feet, cubic, parts_in_words, section

ANGLES = (
    "Ring angles are between the rings and the wide face: 90° quarter-sawn, 0° flat-sawn. Worth "
    "stands for a volume beside the same volume of the others."
)
NOTHING = (
    "Nothing is on this list yet. Enter its timbers on its page in the register, or take them over "
    "from what is specified, and print this again."
)
GRADE = (
    "Straight, sound, freshly felled or kept wet with its ends coated, without ring shake; the "
    "butt marked; the heart seen at both ends. Proof of where and how it was felled."
)
NOT_RECKONED = (
    "The whole list is not reckoned yet: what stands here is what each timber needs alone, and "
    "what no log can be under. Reckon the log on its page in the register, and print this again."
)
RECKONED_BEFORE = (
    "The list has changed since the log was reckoned on {day}: the figures for the whole list are "
    "left out. Reckon it again, and print this again."
)
ROUND_AND_STRAIGHT = (
    "The log asked for is taken as round and straight and no thicker at the butt; taper gives "
    "more. A heart off the middle lets the log be smaller only when the mill can say where it "
    "lies: ask for the first figure otherwise."
)
NO_WOOD = "not said: write it here"
ONE_LOG = "one log that gives the whole list below"
OFFER_HEADS = (
    ("Wood, and where it grew", 44), ("Felled", 20), ("Length", 20), ("Small end", 22),
    ("Butt", 20), ("Heart off the middle", 24),
)  # fmt: skip
OFFERS, TO_WRITE_ON = 3, "\N{NO-BREAK SPACE}\n\N{NO-BREAK SPACE}"  # lines, high enough
PRICE_OF = (
    "Say of the price whether it is for the log or for a volume, by which rule that is measured, "
    "and whether bringing it and tax are in it."
)
CAPTION = "Diameter of the small end under bark against how far the heart lies off the middle."


def cutting_list_paper(listed_as: timber.CuttingList, *, units: str, on: date) -> Paper:
    items = list(listed_as.items.all())
    total = sum(item.volume_all_mm3() for item in items)
    facts = Facts(
        (
            ("Made", day(listed_as.made_on)),
            ("State", "still wanted" if listed_as.is_open else "closed"),
            ("Timbers", str(sum(item.quantity for item in items))),
            ("All together, green", f"{cubic(total)} ({board_feet(total)})"),
        ),
        columns=4,
    )
    note = [Words(listed_as.note)] if listed_as.note.strip() else []
    table = [_whole_table(items, units), Words(ANGLES, "small")] if items else [Words(NOTHING)]
    return _paper("Cutting list", listed_as, on, (facts, *note, *table))


def _paper(kind: str, listed_as: timber.CuttingList, on: date, blocks: tuple[Block, ...]) -> Paper:
    yard = Yard.current()
    return Paper(
        kind=kind,
        of=listed_as.name,
        author=yard.name,
        foot=(("Yard", yard.name), ("List", listed_as.name), ("Printed", day(on))),
        file_name=f"{kind}-{listed_as.name}",
        blocks=blocks,
    )


def _whole_table(items: Sequence[timber.CuttingItem], units: str) -> Table:
    heads = (
        Head("Mark", 24), Head("For", 29), Head("Number", 14),
        Head("Green, from the saw", 52), Head("Heart", 29), Head("Rings", 31), Head("Besides", 34),
        Head("Worth", 11, figures=True), Head("Sawn", 13),
    )  # fmt: skip
    lines = [
        Line((item.label, item.for_whom, str(item.quantity), section(item, units),
              _heart(item, units), "\n".join(_rings(item)), _besides(item), number(item.worth), ""))
        for item in items
    ]  # fmt: skip
    return Table(heads, tuple(lines))


def _heart(item: timber.CuttingItem, units: str) -> str:
    if item.heart_clearance_mm is None:
        return "heart may be in it"
    if not item.heart_clearance_mm:
        return "clear of the heart"
    return f"clear of it by {length(item.heart_clearance_mm, units)}"


def _rings(item: timber.CuttingItem) -> list[str]:
    said = [
        (item.mean_min_deg, "mean {}° or more"),
        (item.worst_min_deg, "nowhere under {}°"),
        (item.mean_max_deg, "mean {}° or less"),
        (item.worst_max_deg, "nowhere over {}°"),
    ]
    return [words.format(number(deg)) for deg, words in said if deg is not None] or ["any"]


def _besides(item: timber.CuttingItem) -> str:
    sapwood = "sapwood allowed" if item.sapwood_allowed else "no sapwood"
    if not item.knot_free:
        return sapwood
    return f"{sapwood}, free of knots in {parts_in_words(item.knot_free)}"


def log_wanted_paper(listed_as: timber.CuttingList, *, units: str, on: date) -> Paper:
    """What to ask a mill for. The search is never run here: what was last reckoned is printed,
    and where nothing was, the paper says so and holds what needs no search."""
    items = list(listed_as.items.all())
    if not items:
        return _paper("Log wanted", listed_as, on, (Words(NOTHING),))
    wanted, how = _wanted(listed_as, items, units)
    return _paper("Log wanted", listed_as, on, (*wanted, *_offer(), *how))


def _wanted(listed_as: timber.CuttingList, items, units: str) -> tuple[list[Block], list[Block]]:
    """What is asked for, and how that was reckoned."""
    kept = timber.log_reckoning_of(listed_as)
    if kept is None:
        asked = _without_search(items, "", units)
        return [Words(NOT_RECKONED, "strong"), *asked], [_how_alone()]
    if not kept.is_of(items):
        said = RECKONED_BEFORE.format(day=day(kept.reckoned_at.date()))
        asked = _without_search(items, kept.said.get("wood", ""), units)
        return [Words(said, "strong"), *asked], [_how_alone()]
    return _with_search(kept, items, units)


def _offer() -> list[Block]:
    """Where a merchant writes what there is; and who asks."""
    yard = Yard.current()
    currency = f"Price, {yard.currency}"
    heads = [Head(text, share) for text, share in (*OFFER_HEADS, (currency, 26))]
    empty = Line(tuple(TO_WRITE_ON for _ in heads))
    asks = ", ".join([yard.name, *yard.address.split("\n")]) if yard.address else yard.name
    return [
        Heading("What you can offer", "offer"),
        Table(tuple(heads), (empty,) * OFFERS, is_large=True),
        Words(f"{PRICE_OF} Answers to: {asks}.", "small"),
    ]


def _without_search(items, wood: str, units: str) -> list[Block]:
    wanted = timber.timbers_asked(items)
    longest = max(one.length_mm for one in wanted)
    under = least.least_for_list_mm(wanted, longest)
    facts = Facts(
        (
            ("Wood", wood or NO_WOOD),
            ("How many", ONE_LOG),
            ("Length, more than", f"{length(longest, units)}, and the trim of both ends"),
            ("None will do under", f"{length(under, units)} of wood, heart in the middle, besides "
             "sapwood that is not wanted"),
        ),
        columns=2,
    )  # fmt: skip
    return [facts, Words(GRADE), _short_table(items, wanted, 0.0, units)]


def _with_search(kept, items, units: str) -> tuple[list[Block], list[Block]]:
    said, sought = kept.said, kept.sought()
    wanted = timber.timbers_asked(items, kept.saw())
    inside = (
        said["length_mm"] - 2 * said["trim_mm"]
        if said["length_mm"]
        else max(one.length_mm for one in wanted)
    )
    sapwood = said["sapwood_mm"]
    svg = log_wanted_svg(wanted, inside, sapwood, sought, units)
    asked = _to_ask_for(inside + 2 * said["trim_mm"], said, sought, kept.reckoned_at.date(), units)
    beside = (_how_alone(), Words(_how_sought(sought), "small"))
    how = SideBySide((Figure(svg, CAPTION, share=0.5),), beside)
    return [asked, Words(GRADE), _short_table(items, wanted, sapwood, units)], [how]


def _to_ask_for(long_mm: float, said: dict, sought, reckoned_on: date, units: str) -> Facts:
    first = sought[0]
    asked = length(first.diameter_mm, units, "no log was filled in the time given")
    off = [
        (f"Heart {length(one.heart_offset_mm, units)} off the middle",
         length(one.diameter_mm, units, "none was filled"))
        for one in sought[1:]
    ]  # fmt: skip
    with_what = (
        f"sapwood {length(said['sapwood_mm'], units)}, {length(said['trim_mm'], units)} trimmed at "
        f"each end, kerf {length(said['kerf_mm'], units)}; on {day(reckoned_on)}"
    )
    return Facts(
        (
            ("Wood", said.get("wood") or NO_WOOD),
            ("How many", ONE_LOG),
            ("Length, at least", length(long_mm, units)),
            ("Small end under bark, heart in the middle", asked),
            *off,
            ("None will do under, heart in the middle", length(first.least_mm, units)),
            ("Reckoned with", with_what),
        )
    )


def _short_table(items, wanted, sapwood_mm: float, units: str) -> Table:
    heads = (
        Head("Mark", 26), Head("Number", 16), Head("Green size", 56),
        Head("Heart and sapwood", 46), Head("One alone needs, heart in the middle", 38),
    )  # fmt: skip
    lines = []
    for item, one in zip(items, wanted, strict=True):
        needs = length(least.least_for_timber_mm(one, sapwood_mm), units)
        more = "" if least.closed_form_decides(one) else ", more for its rings"
        lines.append(
            Line((item.label, str(item.quantity), section(item, units),
                  f"{_heart(item, units)}, {_besides(item)}", f"{needs}{more}"))
        )  # fmt: skip
    return Table(heads, tuple(lines), "What it is to give, green from the saw")


def _how_alone() -> Words:
    said = least.CLOSED_FORM.replace("2 √(", "2 × the square root of (")
    return Words(f"One timber alone: {said}", "small")


def _how_sought(sought) -> str:
    trials = listed([str(one.trials) for one in sought])
    said = (
        "For the whole list: logs of growing diameter tried with a search of the planner, "
        f"{trials} of them, then halved to 5 mm"
    )
    if any(one.cut_short for one in sought):
        said += "; the time ran out, so a smaller log may be enough"
    return (
        f"{said}. What it found can be sawn; that nothing smaller can is proven only below the "
        f"broken line. {ROUND_AND_STRAIGHT}"
    )
