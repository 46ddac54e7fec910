"""What the section of each replacement does as it dries, cut as specified and cut otherwise."""

from collections.abc import Iterable, Sequence

from django.db.models import prefetch_related_objects

from restoration import timber
from restoration.calc.sawn_green import MOULDED
from restoration.models import ReplacementSpec
from restoration.reports.section_facts import Choice, FigureDrawn
from timber_stock.drawings.section_pictures import drawn_alike
from timber_stock.templatetags.measures import movement as _moves
from timber_stock.web.fields import size_for
from timber_stock.wood.movement import Movement, movement
from timber_stock.wood.ring_limits import AUTHORITIES, BOXED, FLAT, QUARTER, RIFT
from timber_stock.wood.section_sheet import ASSUMPTIONS
from timber_stock.wood.service import ServiceMoisture
from timber_stock.wood.ways import Way, ways_to_cut

Alike = tuple[str | int | float | bool, ...]
TIMES = 5.0
"""So many times its movement, or a section that moves a few hundredths would show nothing."""
LEAST_MM = 0.5
"""Where nothing moves by more, the rings are no question of movement and a figure shows nothing."""
FULL_TITLES = {
    "Wood Handbook FPL-GTR-282": "Forest Products Laboratory, Wood Handbook: Wood as an "
    "Engineering Material, General Technical Report FPL-GTR-282, 2021",
    "FPL R1606": "Forest Products Laboratory, Report R1606",
    "FPL R1423": "Forest Products Laboratory, Report R1423",
    "NAVFAC MO-312": "Naval Facilities Engineering Command, Wood Protection, MO-312",
    "NHLA": "National Hardwood Lumber Association,",
}
"""What the tables call by its short name is named in full to a reader who has no tables."""
SEEN_MM = 0.4
"""A sixty-fourth of an inch: less is not told."""
NAMES = {QUARTER: "quarter-sawn", RIFT: "rift", FLAT: "flat-sawn", BOXED: "with the heart in"}


def choices(specs: Iterable[ReplacementSpec], units: str, limits: str) -> tuple[Choice, ...]:
    """Only where a choice was made: a ring direction, or that the heart must be out."""
    chosen = [spec for spec in specs if spec.rings != "any" or spec.clear_of_heart]
    services = timber.service_moistures() if chosen else {}
    prefetch_related_objects([spec.wood for spec in chosen], "own_figures")
    found: dict[Alike, list[ReplacementSpec]] = {}
    for spec in chosen:
        found.setdefault(_alike(spec), []).append(spec)
    made = (_choice(alike, services, units, limits) for alike in found.values())
    return tuple(choice for choice in made if choice)


def _alike(spec: ReplacementSpec) -> Alike:
    """Replacements that differ in none of these share their figure."""
    kind = (spec.finding.member.kind, spec.wood_id, spec.sided_mm, spec.moulded_mm)
    return (*kind, spec.rings, spec.rings_face, spec.clear_of_heart, spec.place_in_boat)


def _choice(specs: Sequence[ReplacementSpec], services, units: str, limits: str) -> Choice | None:
    """None where it moves too little to show, or too little is known: its place, its wood."""
    spec = specs[0]
    service = services.get(spec.place_in_boat)
    if service is None:
        return None
    try:
        moved = movement(timber.figures_of(spec.wood), service.least_percent)
        ways = _ways(spec, moved, limits)
    except ValueError:
        return None
    member = spec.finding.member
    if _most_moved(ways) < LEAST_MM:
        return None
    drawn = drawn_alike([way.sheet for way in ways], TIMES, units, key=f"way-{member.mark}")
    return Choice(
        marks=tuple(dict.fromkeys(spec.finding.member.mark for spec in specs)),
        term=member.term(),
        asked=_asked(spec, service, units),
        drawn=tuple(
            FigureDrawn(one.svg, f"{_opening(way, spec)}: it {_becomes(way, units)}")
            for way, one in zip(ways, drawn, strict=True)
        ),
        reckoned=f"Drawn with {TIMES:g} times the movement. {' '.join(ASSUMPTIONS)}",
        figures=_figures(spec, moved, service, limits),
    )


def _most_moved(ways: Iterable[Way]) -> float:
    sides = [s for w in ways for s in (w.end.shape.change.width, w.end.shape.change.thickness)]
    return max(side.green_mm - min(side.faces_mm) for side in sides)


def _ways(spec: ReplacementSpec, moved: Movement, limits: str) -> tuple[Way, ...]:
    """The first direction that is wished, and beside it the one that tells most against it."""
    wanted = spec.wanted()
    first = wanted.directions[0]
    other = FLAT if first != FLAT else QUARTER
    beside = BOXED if spec.clear_of_heart and spec.rings == "any" else other
    return ways_to_cut(
        spec.sided_mm, spec.moulded_mm, (first, beside), moved, AUTHORITIES[limits],
        upright_face=wanted.face == MOULDED,
    )  # fmt: skip


def _asked(spec: ReplacementSpec, service: ServiceMoisture, units: str) -> str:
    wished = "rings as they come" if spec.rings == "any" else spec.get_rings_display()
    heart = "clear of heart" if spec.clear_of_heart else "heart allowed"
    size = f"{size_for(spec.sided_mm, units)} by {size_for(spec.moulded_mm, units)}"
    return (
        f"Specified {wished}, {heart}: {spec.wood.common_name}, {size}. Shown sawn green and come "
        f"to {service.least_percent:g} %, the driest to reckon with in its place: {service.place}."
    )


def _opening(way: Way, spec: ReplacementSpec) -> str:
    """Rings that may come as they will are shown one way, which is not what was specified."""
    if way.name not in spec.wanted().directions:
        return f"Not so, {NAMES[way.name]}"
    by = "Clear of heart as specified, here" if spec.rings == "any" else "As specified,"
    return f"{by} {NAMES[way.name]}"


def _becomes(way: Way, units: str) -> str:
    change = way.end.shape.change
    wide, thick = change.width, change.thickness
    losses = [_moves(side.green_mm - min(side.faces_mm), units) for side in (wide, thick)]
    cup, out = max(abs(cup) for cup in change.cup_mm), max(change.out_of_square_mm)
    said = [
        f"loses {losses[0]} across its width and {losses[1]} of its thickness",
        f"cups {_moves(cup, units)}" if cup >= SEEN_MM else "stays flat",
        f"comes {_moves(out, units)} out of square" if out >= SEEN_MM else "stays square",
    ]
    if change.check_opening_mm >= SEEN_MM:
        said.append(f"a check opens {_moves(change.check_opening_mm, units)}")
    return f"{', '.join(said)}. {way.told}"


def _figures(
    spec: ReplacementSpec, moved: Movement, service: ServiceMoisture, limits: str
) -> tuple[str, ...]:
    return tuple(_in_full(line) for line in _short_figures(spec, moved, service, limits))


def _in_full(line: str) -> str:
    for short, full in FULL_TITLES.items():
        line = line.replace(short, full)
    return line


def _short_figures(
    spec: ReplacementSpec, moved: Movement, service: ServiceMoisture, limits: str
) -> tuple[str, ...]:
    whose = AUTHORITIES[limits]
    shrinks = [
        f"{spec.wood}: {f.label} {f.value:g} {f.unit}. {f.source.rstrip('.')} ({f.standing_words})."
        for f in moved.figures
    ]
    return (
        *shrinks,
        f"Moisture in service, {service.place}: {service.least_percent:g} to "
        f"{service.greatest_percent:g} %. {service.basis}",
        f"What passes for a ring direction: {whose.name}. {whose.source}.",
    )
