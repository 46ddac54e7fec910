"""Each kind of member as it is seen in half plan: the deck from above, the bottom from below.

Distances are from the centreline. In the bottom plan the strakes are spread evenly between
centreline and deck edge, so that each can be seen: to scale along the hull only.
"""

from restoration.drawings.hull.grid import Outline, band, bar
from restoration.drawings.hull.hull import Hull
from restoration.drawings.hull.pieces import Placed
from restoration.drawings.hull.profile import Shape


def across(low: float, high: float) -> Shape:
    """Across the hull, between two shares of the half breadth."""

    def shape(hull: Hull, placed: Placed) -> Outline:
        edge = hull.grid.deck(placed.middle_mm)
        return bar(placed.middle_mm, hull.sided(placed), low * edge, high * edge)

    return shape


def strake(hull: Hull, placed: Placed) -> Outline:
    low, high = hull.strake(placed)
    return between(low, high)(hull, placed)


def between(low: float, high: float) -> Shape:
    def shape(hull: Hull, placed: Placed) -> Outline:
        places = hull.grid.span(placed.start_mm, placed.end_mm)
        return band(
            places, lambda at: low * hull.grid.deck(at), lambda at: high * hull.grid.deck(at)
        )

    return shape


def inside_the_edge(near: float, far: float) -> Shape:
    """Along the deck edge, between two distances inside it in least sizes."""

    def shape(hull: Hull, placed: Placed) -> Outline:
        places = hull.grid.span(placed.start_mm, placed.end_mm)
        least, deck = hull.least_mm, hull.grid.deck
        return band(
            places,
            lambda at: max(deck(at) - far * least, 0.0),
            lambda at: max(deck(at) - near * least, 0.0),
        )

    return shape


def beside_the_centreline(width: float = 0.0) -> Shape:
    """A piece on the centreline, half as wide as it is sided, or so many least sizes if wider."""

    def shape(hull: Hull, placed: Placed) -> Outline:
        half = max(hull.sided(placed) / 2, width * hull.least_mm)
        start, end = placed.start_mm, max(placed.end_mm, placed.start_mm + hull.least_mm)
        return ((start, 0.0), (end, 0.0), (end, half), (start, half))

    return shape


def whole_end(hull: Hull, placed: Placed) -> Outline:
    places = hull.grid.span(placed.start_mm, placed.end_mm)
    return band(places, lambda at: 0.0, hull.grid.deck)


def corner(hull: Hull, placed: Placed) -> Outline:
    """A knee in the corner of side and transom, or of side and beam."""
    wide = max(placed.end_mm - placed.start_mm, 3 * hull.least_mm)
    end = placed.end_mm
    edge, fore = hull.grid.deck(end), hull.grid.deck(end - wide)
    return ((end - wide, fore), (end, edge), (end, max(edge - wide, 0.0)))


def lodging(hull: Hull, placed: Placed) -> Outline:
    at, wide = placed.middle_mm, 4 * hull.least_mm
    edge = hull.grid.deck(at)
    return ((at, edge), (at + wide, hull.grid.deck(at + wide)), (at, max(edge - wide, 0.0)))


def transom(hull: Hull, placed: Placed) -> Outline:
    at, thick = placed.end_mm, hull.sided(placed)
    return (
        (at - thick, 0.0),
        (at, 0.0),
        (at, hull.grid.deck(at)),
        (at - thick, hull.grid.deck(at)),
    )


DECK: dict[str, Shape] = {
    "shelf": inside_the_edge(1.7, 2.9), "clamp": inside_the_edge(0.9, 1.7),
    "deck_beam": across(0.0, 1.0), "beam_end": across(0.85, 1.0), "ledge": across(0.5, 1.0),
    "carlin": between(0.42, 0.5), "coachroof": between(0.0, 0.4), "coaming": between(0.5, 0.56),
    "mast_partners": beside_the_centreline(3.5), "breasthook": whole_end,
    "quarter_knee": corner, "lodging_knee": lodging, "hanging_knee": across(0.72, 0.97),
    "chainplate": across(0.96, 1.06), "rudder_trunk": beside_the_centreline(1.2),
    "covering_board": inside_the_edge(-0.5, 0.9), "toe_rail": inside_the_edge(-1.4, -0.5),
}  # fmt: skip

BOTTOM: dict[str, Shape] = {
    "planking": strake, "garboard": strake,
    "broad_strake": strake, "sheer_strake": strake, "binder": strake,
    "ceiling": between(0.12, 0.7),
    "rubbing_strake": inside_the_edge(-1.2, 0.0), "bulkhead": across(0.0, 1.0),
    "frame": across(0.0, 1.0), "frame_steamed": across(0.0, 1.0),
    "frame_sawn": across(0.0, 1.0), "frame_laminated": across(0.0, 1.0),
    "futtock": across(0.15, 0.6), "sister_frame": across(0.05, 0.55),
    "bilge_stringer": between(0.44, 0.49), "limber_board": between(0.05, 0.1),
    "counter_timber": across(0.1, 0.9), "hood_end": between(0.3, 0.7),
    "butt_block": across(0.5, 0.6), "bed_log": between(0.04, 0.09),
    "floor_timber": across(0.0, 0.4), "mast_step": beside_the_centreline(2.0),
    "mast_step_timber": between(0.1, 0.16), "transom": transom,
}  # fmt: skip
"""By kind, in the order in which they are drawn."""
