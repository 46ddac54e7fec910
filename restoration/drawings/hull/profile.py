"""Each kind of member as it is seen from the side. Heights from the waterline, up positive.

Shapes are diagrams: in place and to scale along the hull, of sizes that stay to be seen.
"""

from collections.abc import Callable
from itertools import pairwise

from restoration.drawings.hull.grid import Outline, band, bar, strip
from restoration.drawings.hull.hull import Hull
from restoration.drawings.hull.pieces import Placed

Shape = Callable[[Hull, Placed], Outline]
FLOOR_LEAST = 3.0
"""Floors and knees are drawn at least so many times the least size deep."""


def along_the_edge(near: float = 0.0) -> Shape:
    """On the outer edge of stem, keel or stern; `near` is how many times its depth inside it."""

    def shape(hull: Hull, placed: Placed) -> Outline:
        path = [(at, hull.grid.keel(at)) for at in _fine(hull, placed)]
        deep = hull.moulded(placed)
        return _under_deck(hull, strip(path, near * deep, (near + 1) * deep))

    return shape


def apron(hull: Hull, placed: Placed) -> Outline:
    path = [(at, hull.grid.keel(at)) for at in _fine(hull, placed)]
    inner = hull.stem_moulded_mm
    return _under_deck(hull, strip(path, inner, inner + hull.moulded(placed)))


def _under_deck(hull: Hull, outline: Outline) -> Outline:
    """Nothing of the backbone is drawn above the sheer or beyond her ends."""
    inside = ((min(max(x, hull.grid.start), hull.grid.end), y) for x, y in outline)
    return tuple((x, min(y, hull.grid.sheer(x))) for x, y in inside)


def keel(hull: Hull, placed: Placed) -> Outline:
    """It ends at her heel, however far aft its stations say it runs."""
    path = [(at, hull.keel_foot(at)) for at in _fine(hull, placed)]
    middle = hull.grid.start + 0.6 * hull.grid.length
    steep = (
        number
        for number, ((x0, y0), (x1, y1)) in enumerate(pairwise(path), start=1)
        if x0 > middle and y1 - y0 > 0.7 * (x1 - x0)
    )
    return strip(path[: max(next(steep, len(path)), 2)], 0, hull.moulded(placed))


def ballast(hull: Hull, placed: Placed) -> Outline:
    places = hull.grid.span(placed.start_mm, placed.end_mm)
    return band(places, hull.grid.keel, lambda at: max(hull.keel_foot(at), hull.grid.keel(at)))


def deadwood(hull: Hull, placed: Placed) -> Outline:
    """Between the outer edge, or the keel where there is one, and the planking."""
    places = hull.grid.span(placed.start_mm, placed.end_mm)
    least = hull.least_mm

    def top(at: float) -> float:
        return max(hull.grid.rabbet(at), hull.grid.keel(at) + least)

    def foot(at: float) -> float:
        return min(hull.keel_foot(at) + 0.5 * hull.keel_moulded_mm, top(at) - least)

    return band(places, foot, top)


def on_the_keel(hull: Hull, placed: Placed) -> Outline:
    """Lying on keel and deadwood, as a hog or a knee does."""
    deep = hull.moulded(placed)
    places = hull.grid.span(placed.start_mm, placed.end_mm)
    return band(places, hull.keel_top, lambda at: hull.keel_top(at) + deep)


def on_the_floors(hull: Hull, placed: Placed) -> Outline:
    places = hull.grid.span(placed.start_mm, placed.end_mm)
    deep = hull.moulded(placed)

    def foot(at: float) -> float:
        return hull.keel_top(at) + FLOOR_LEAST * hull.least_mm

    return band(places, foot, lambda at: foot(at) + deep)


def floor(hull: Hull, placed: Placed) -> Outline:
    foot = hull.keel_top(placed.middle_mm)
    deep = max(hull.moulded(placed), FLOOR_LEAST * hull.least_mm)
    return bar(placed.middle_mm, hull.sided(placed), foot, foot + deep)


def bolt(hull: Hull, placed: Placed) -> Outline:
    at = placed.middle_mm
    return bar(at, hull.least_mm, hull.grid.keel(at), hull.keel_top(at) + hull.least_mm)


def frame(hull: Hull, placed: Placed) -> Outline:
    return _standing(hull, placed, 0.0, 1.0)


def futtock(hull: Hull, placed: Placed) -> Outline:
    return _standing(hull, placed, 0.12, 0.6)


def sister(hull: Hull, placed: Placed) -> Outline:
    aft = hull.sided(placed)
    return tuple((x + aft, y) for x, y in _standing(hull, placed, 0.05, 0.55))


def chainplate(hull: Hull, placed: Placed) -> Outline:
    return _standing(hull, placed, 0.62, 1.03)


def _standing(hull: Hull, placed: Placed, low: float, high: float) -> Outline:
    at = placed.middle_mm
    ends = hull.side(at, low), hull.side(at, high)
    return bar(at, hull.sided(placed), *ends)


def plank(hull: Hull, placed: Placed) -> Outline:
    low, high = hull.strake(placed)
    places = hull.grid.span(placed.start_mm, placed.end_mm)
    return band(places, lambda at: hull.side(at, low), lambda at: hull.side(at, high))


def at_share(share: float, least: float = 1.0) -> Shape:
    """A stringer a share of the way up the side, as deep as it is moulded."""

    def shape(hull: Hull, placed: Placed) -> Outline:
        half = max(hull.moulded(placed), least * hull.least_mm) / 2
        places = hull.grid.span(placed.start_mm, placed.end_mm)
        return band(
            places,
            lambda at: hull.side(at, share) - half,
            lambda at: hull.side(at, share) + half,
        )

    return shape


def between_shares(low: float, high: float) -> Shape:
    def shape(hull: Hull, placed: Placed) -> Outline:
        places = hull.grid.span(placed.start_mm, placed.end_mm)
        return band(places, lambda at: hull.side(at, low), lambda at: hull.side(at, high))

    return shape


def about_the_sheer(low: float, high: float) -> Shape:
    """On or under the deck edge, between two distances from it in least sizes, up positive."""

    def shape(hull: Hull, placed: Placed) -> Outline:
        places = hull.grid.span(placed.start_mm, placed.end_mm)
        least = hull.least_mm
        return band(
            places,
            lambda at: hull.grid.sheer(at) + low * least,
            lambda at: hull.grid.sheer(at) + high * least,
        )

    return shape


def beam(hull: Hull, placed: Placed) -> Outline:
    """The end of a beam, under the deck."""
    at, deep = placed.middle_mm, max(hull.moulded(placed), 1.6 * hull.least_mm)
    top = hull.grid.sheer(at) - 0.3 * hull.least_mm
    return bar(at, max(hull.sided(placed), 1.3 * hull.least_mm), top - deep, top)


def knee(hull: Hull, placed: Placed) -> Outline:
    at, deep = placed.middle_mm, max(hull.moulded(placed), 5 * hull.least_mm)
    top = hull.grid.sheer(at) - 0.6 * hull.least_mm
    wide = hull.sided(placed)
    return ((at - wide, top), (at + wide, top), (at + wide / 3, top - deep), (at, top - deep))


def bulkhead(hull: Hull, placed: Placed) -> Outline:
    at = placed.middle_mm
    return bar(at, hull.sided(placed), hull.keel_top(at), hull.grid.sheer(at))


def transom(hull: Hull, placed: Placed) -> Outline:
    at, thick = placed.end_mm, hull.sided(placed)
    foot, top = hull.grid.keel(at), hull.grid.sheer(at)
    fore = min(placed.start_mm, at - thick)
    return ((fore, hull.grid.keel(fore)), (fore + thick, foot), (at, top), (at - thick, top))


def raked(hull: Hull, placed: Placed) -> Outline:
    """A stock or trunk, from the outer edge forward to the deck aft."""
    half = hull.least_mm * (0.7 if placed.kind == "rudder_stock" else 1.4)
    low, high = placed.start_mm, placed.end_mm
    foot = hull.grid.keel(low)
    top = hull.grid.sheer(high) + (2 * half if placed.kind == "rudder_stock" else 0)
    return ((low - half, foot), (low + half, foot), (high + half, top), (high - half, top))


def rudder(hull: Hull, placed: Placed) -> Outline:
    """Hung on the stern: its fore edge follows the hull, its foot clears the keel."""
    deepest = min(hull.grid.keels)
    foot = deepest * 0.86
    places = [at for at in hull.grid.places if at <= placed.end_mm]
    fore = placed.start_mm
    for at in reversed(places):
        if at < placed.start_mm - 0.09 * hull.grid.length or hull.grid.keel(at) <= foot:
            break
        fore = min(at, placed.start_mm)
    edge = [(at, hull.grid.keel(at)) for at in hull.grid.span(fore, placed.end_mm)]
    tip = edge[0][1] if edge[0][1] < 0.5 * deepest else foot
    aft = (placed.end_mm, (edge[-1][1] + foot) / 2)
    heel = ((fore + placed.end_mm) / 2 + 0.012 * hull.grid.length, foot)
    return (*edge, aft, heel, (fore + hull.least_mm, min(tip, foot)))


def shaft(hull: Hull, placed: Placed) -> Outline:
    fore = hull.keel_top(placed.start_mm)
    aft = (hull.grid.keel(placed.end_mm) + hull.grid.rabbet(placed.end_mm)) / 2
    half = max(hull.moulded(placed) / 2, hull.least_mm)
    low, high = placed.start_mm, placed.end_mm
    return ((low, fore - half), (high, aft - half), (high, aft + half), (low, fore + half))


def trunk(hull: Hull, placed: Placed) -> Outline:
    places = hull.grid.span(placed.start_mm, placed.end_mm)
    return band(places, hull.keel_top, lambda at: hull.side(at, 0.55))


def _fine(hull: Hull, placed: Placed) -> list[float]:
    """Places along a stretch, close enough to follow a bow; a stretch of nothing gets a little."""
    start, end = placed.start_mm, placed.end_mm
    if end - start < hull.least_mm:
        start, end = max(start - hull.least_mm, hull.grid.start), end + hull.least_mm
    return hull.grid.span(start, min(end, hull.grid.end))


SHAPES: dict[str, Shape] = {
    "planking": plank, "garboard": plank,
    "broad_strake": plank, "sheer_strake": plank, "binder": plank,
    "ceiling": between_shares(0.12, 0.7),
    "bulkhead": bulkhead, "frame": frame, "frame_steamed": frame, "frame_sawn": frame,
    "frame_laminated": frame, "futtock": futtock, "sister_frame": sister,
    "bilge_stringer": at_share(0.42), "limber_board": at_share(0.06), "clamp": at_share(0.9),
    "shelf": at_share(0.955), "hood_end": between_shares(0.3, 0.7),
    "butt_block": between_shares(0.5, 0.58), "chainplate": chainplate,
    "deadwood": deadwood, "ballast_keel": ballast, "keel": keel, "false_keel": along_the_edge(),
    "worm_shoe": along_the_edge(), "hog": on_the_keel, "bed_log": on_the_keel,
    "stem_knee": on_the_keel, "stern_knee": on_the_keel, "apron": apron,
    "stem": along_the_edge(), "stem_foot": along_the_edge(), "forefoot": along_the_edge(),
    "horn_timber": along_the_edge(), "stern_post": along_the_edge(),
    "counter_timber": at_share(0.5), "transom": transom, "transom_knee": along_the_edge(1.0),
    "floor_timber": floor, "keel_bolt": bolt, "keelson": on_the_floors,
    "mast_step": on_the_floors, "mast_step_timber": on_the_floors, "shaft_log": shaft,
    "centreboard_trunk": trunk, "rudder": rudder, "rudder_trunk": raked, "rudder_stock": raked,
    "deck_beam": beam, "hanging_knee": knee, "lodging_knee": about_the_sheer(-1.6, -0.4),
    "quarter_knee": about_the_sheer(-2.2, -0.4), "breasthook": about_the_sheer(-2.6, -0.6),
    "mast_partners": about_the_sheer(-1.6, 0.4), "carlin": about_the_sheer(-1.4, -0.3),
    "ledge": about_the_sheer(-1.2, -0.2), "beam_end": beam,
    "covering_board": about_the_sheer(-0.4, 0.4), "toe_rail": about_the_sheer(0.5, 1.5),
    "rubbing_strake": at_share(0.93, 1.0), "coaming": about_the_sheer(1.8, 5.0),
    "coachroof": about_the_sheer(1.8, 9.0),
}  # fmt: skip
"""By kind, in the order in which they are drawn: what lies outermost first, structure over it."""
