"""The smallest rectangle round a pattern, against shapely's own, which shares no line with ours."""

import math

import pytest
import shapely
from hypothesis import given, settings

from restoration.calc.pattern_needs_sizes import smallest_rectangle
from tests.calc.making_patterns import FLOOR, KNEE, arc, stars, turned

FEW = settings(max_examples=80, deadline=None)


def sides_by_shapely(points):
    """shapely.minimum_rotated_rectangle (2.x)."""
    corners = list(shapely.minimum_rotated_rectangle(shapely.Polygon(points)).exterior.coords)
    return sorted(math.dist(a, b) for a, b in ((corners[0], corners[1]), (corners[1], corners[2])))


@pytest.mark.parametrize("points", [FLOOR, KNEE, arc(1900, -28, 35, 115), turned(FLOOR, 33)])
def test_the_rectangle_of_a_timber_is_as_shapely_has_it(points):
    found = smallest_rectangle(points)
    assert [found.width_mm, found.length_mm] == pytest.approx(sides_by_shapely(points), rel=1e-9)


@FEW
@given(stars())
def test_no_rectangle_of_shapely_is_smaller(points):
    width, length = sides_by_shapely(points)
    assert smallest_rectangle(points).area_mm2 == pytest.approx(width * length, rel=1e-6)
