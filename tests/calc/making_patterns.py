"""Shapes of timbers for the tests: floors, knees, arcs, and any star of corners."""

import math

from hypothesis import strategies as st

FLOOR = ((0, 0), (310, -40), (655, 5), (640, 120), (330, 85), (12, 131))
KNEE = ((0, 0), (600, 0), (600, 90), (160, 100), (100, 160), (90, 700), (0, 700))


def arc(radius, from_deg, to_deg, width, pieces=40):
    """A timber bent to one circle, the radius to its middle."""
    turns = [math.radians(from_deg + (to_deg - from_deg) * n / pieces) for n in range(pieces + 1)]
    outer = [
        ((radius + width / 2) * math.sin(a), (radius + width / 2) * math.cos(a)) for a in turns
    ]
    inner = [
        ((radius - width / 2) * math.sin(a), (radius - width / 2) * math.cos(a)) for a in turns
    ]
    return (*outer, *inner[::-1])


def turned(points, degrees, shift=(0.0, 0.0)):
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return tuple((x * c - y * s + shift[0], x * s + y * c + shift[1]) for x, y in points)


def mirrored(points):
    return tuple((x, -y) for x, y in points)


@st.composite
def stars(draw):
    """Corners round a middle at lopsided distances: never crossing, seldom convex."""
    count = draw(st.integers(3, 12))
    reach = draw(st.lists(st.floats(40, 900), min_size=count, max_size=count))
    return tuple(
        (
            r * math.cos(2 * math.pi * n / count + 0.3),
            0.6 * r * math.sin(2 * math.pi * n / count + 0.3),
        )
        for n, r in enumerate(reach)
    )
