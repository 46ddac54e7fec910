"""What is left of a timber: laws of the cut-out section, and refusals."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.section_loss import (
    rectangle,
    remaining_section,
    soft_face,
    soft_pocket,
)

SIDED, MOULDED = 72.0, 110.0


def loss(*soft):
    return remaining_section(rectangle(SIDED, MOULDED), soft)


@pytest.mark.parametrize(
    ("face", "depth", "sided", "moulded"),
    [
        ("inboard", 30.0, 72.0, 80.0),
        ("outboard", 30.0, 72.0, 80.0),
        ("top", 12.5, 72.0, 97.5),
        ("bottom", 12.5, 72.0, 97.5),
        ("forward", 20.0, 52.0, 110.0),
        ("after", 20.0, 52.0, 110.0),
        ("port", 71.0, 1.0, 110.0),
        ("starboard", 71.0, 1.0, 110.0),
    ],
)
def test_a_face_soft_all_over_leaves_a_smaller_rectangle(face, depth, sided, moulded):
    left = loss(*soft_face(SIDED, MOULDED, face, [(9.0, depth)])).left
    assert left.area_mm2 == pytest.approx(sided * moulded)
    assert left.modulus_moulded_mm3 == pytest.approx(sided * moulded**2 / 6)
    assert left.modulus_sided_mm3 == pytest.approx(moulded * sided**2 / 6)


@pytest.mark.parametrize(
    ("face", "moved"),
    [
        ("outboard", (0, 5)),
        ("bottom", (0, 5)),
        ("inboard", (0, -5)),
        ("top", (0, -5)),
        ("after", (5, 0)),
        ("port", (5, 0)),
        ("forward", (-5, 0)),
        ("starboard", (-5, 0)),
    ],
)
def test_each_face_is_cut_on_its_own_side(face, moved):
    left = loss(*soft_face(SIDED, MOULDED, face, [(30.0, 10.0)])).left
    middle = (SIDED / 2 + moved[0], MOULDED / 2 + moved[1])
    assert left.centroid_mm == pytest.approx(middle)


def test_the_fractions_are_of_the_whole_timber():
    found = loss(*soft_face(SIDED, MOULDED, "port", [(30.0, 18.0)]))
    assert found.area_fraction == pytest.approx(0.75)
    assert found.modulus_moulded_fraction == pytest.approx(0.75)
    assert found.modulus_sided_fraction == pytest.approx(0.75**2)
    assert not found.parted


def test_probings_across_a_face_are_joined_by_straight_lines():
    soft = soft_face(SIDED, MOULDED, "inboard", [(0.0, 0.0), (20.0, 30.0), (60.0, 0.0)])
    assert loss(*soft).left.area_mm2 == pytest.approx(SIDED * MOULDED - 60 * 30 / 2)


def test_the_outermost_probings_hold_to_the_edges_of_the_face():
    soft = soft_face(SIDED, MOULDED, "inboard", [(20.0, 10.0), (40.0, 30.0)])
    gone = 20 * 10 + 20 * 20 + (SIDED - 40) * 30
    assert loss(*soft).left.area_mm2 == pytest.approx(SIDED * MOULDED - gone)


def test_a_sound_face_loses_nothing():
    assert soft_face(SIDED, MOULDED, "port", [(50.0, 0.0), (60.0, 0.0)]) == ()
    assert loss().area_fraction == 1


def test_rot_from_both_sides_that_meets_leaves_nothing():
    soft = [
        *soft_face(SIDED, MOULDED, "inboard", [(5.0, 60.0)]),
        *soft_face(SIDED, MOULDED, "outboard", [(5.0, 60.0)]),
    ]
    found = loss(*soft)
    assert found.left.pieces == ()
    assert found.area_fraction == found.modulus_moulded_fraction == 0
    assert not found.parted


def test_a_rotten_heart_leaves_a_box():
    pocket = soft_pocket(SIDED, MOULDED, "inboard", SIDED / 2, 40.0, 80.0, 30.0)
    left = loss(pocket).left
    assert left.area_mm2 == pytest.approx(SIDED * MOULDED - 30 * 40)
    assert len(left.pieces[0]) == 2, "an outline and one hole"
    # Box about its own centroid, by the parallel axis theorem.
    area, hole = SIDED * MOULDED, 30 * 40.0
    middle = (area * MOULDED / 2 - hole * (MOULDED - 60)) / (area - hole)
    inertia = SIDED * MOULDED**3 / 12 + area * (MOULDED / 2 - middle) ** 2
    inertia -= 30 * 40**3 / 12 + hole * (MOULDED - 60 - middle) ** 2
    assert left.modulus_moulded_mm3 == pytest.approx(inertia / max(middle, MOULDED - middle))


def test_rot_right_through_the_middle_parts_the_timber():
    across = soft_pocket(SIDED, MOULDED, "outboard", 10.0, 30.0, 50.0, 500.0)
    found = loss(across)
    assert found.parted
    assert found.left.area_mm2 == pytest.approx(SIDED * 90)
    assert found.left.modulus_moulded_mm3 == pytest.approx(SIDED * 60**2 / 6)


def test_a_pocket_is_measured_from_the_face_it_was_drilled_from():
    near = loss(soft_pocket(SIDED, MOULDED, "forward", 55.0, 5.0, 20.0, 110.0)).left
    assert near.centroid_mm[0] < SIDED / 2
    assert near.centroid_mm[1] == pytest.approx(MOULDED / 2)


def test_a_lost_corner_weakens_more_than_its_depth_alone_tells():
    # Half the width soft to 40 mm. Leaving the sideways bending out would give 98 910 mm3.
    soft = ((0.0, 70.0), (36.0, 70.0), (36.0, 110.0), (0.0, 110.0))
    points = _grid(lambda x, y: not (x < 36 and y > 70))
    assert loss(soft).left.modulus_moulded_mm3 == pytest.approx(_by_grid(points), rel=0.01)
    assert loss(soft).left.modulus_moulded_mm3 < 98_000


def _grid(inside, step=0.5):
    across = [step * (i + 0.5) for i in range(int(SIDED / step))]
    deep = [step * (i + 0.5) for i in range(int(MOULDED / step))]
    return [(x, y) for x in across for y in deep if inside(x, y)], step


def _by_grid(points_and_step):
    """Least-squares plane of stress for unit moment about x: an independent road to the modulus."""
    points, step = points_and_step
    cx = math.fsum(x for x, _ in points) / len(points)
    cy = math.fsum(y for _, y in points) / len(points)
    xx = math.fsum((x - cx) ** 2 for x, _ in points) * step**2
    yy = math.fsum((y - cy) ** 2 for _, y in points) * step**2
    xy = math.fsum((x - cx) * (y - cy) for x, y in points) * step**2
    # stress = a x + b y with no moment about y and a moment of 1 about x
    a, b = -xy / (xx * yy - xy * xy), xx / (xx * yy - xy * xy)
    return 1 / max(abs(a * (x - cx) + b * (y - cy)) for x, y in points)


@st.composite
def boxes(draw):
    x, y = draw(st.integers(-20, 70)), draw(st.integers(-20, 100))
    width, height = draw(st.integers(1, 60)), draw(st.integers(1, 60))
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


@settings(max_examples=60, deadline=None)
@given(st.lists(boxes(), max_size=4), boxes())
def test_more_rot_never_leaves_more_wood(soft, another):
    before, after = loss(*soft), loss(*soft, another)
    assert after.left.area_mm2 <= before.left.area_mm2 + 1e-6
    assert 0 <= after.area_fraction <= 1


@settings(max_examples=60, deadline=None)
@given(st.lists(boxes(), max_size=3), st.sampled_from([0.25, 0.5, 2, 8]))
def test_a_timber_drawn_larger_scales_as_its_powers(soft, scale):
    def larger(outline):
        return tuple((x * scale, y * scale) for x, y in outline)

    small = loss(*soft).left
    big = remaining_section(larger(rectangle(SIDED, MOULDED)), [larger(area) for area in soft]).left
    if len(small.pieces) == 1:
        assert big.area_mm2 == pytest.approx(small.area_mm2 * scale**2, rel=1e-9)
        assert big.modulus_sided_mm3 == pytest.approx(small.modulus_sided_mm3 * scale**3, rel=1e-9)


@settings(max_examples=60, deadline=None)
@given(st.lists(boxes(), max_size=3))
def test_turning_a_timber_over_changes_no_figure(soft):
    def turned(outline):
        return tuple((SIDED - x, MOULDED - y) for x, y in outline)

    one, other = loss(*soft).left, loss(*[turned(area) for area in soft]).left
    assert other.area_mm2 == pytest.approx(one.area_mm2, abs=1e-6)
    if len(one.pieces) == 1:
        assert other.modulus_moulded_mm3 == pytest.approx(one.modulus_moulded_mm3, rel=1e-6)


@settings(max_examples=60, deadline=None)
@given(st.lists(boxes(), max_size=3))
def test_turning_a_timber_on_its_side_swaps_the_two_ways(soft):
    def on_its_side(outline):
        return tuple((y, x) for x, y in outline)

    upright = loss(*soft).left
    lying = remaining_section(rectangle(MOULDED, SIDED), [on_its_side(area) for area in soft]).left
    if len(upright.pieces) == 1:
        assert lying.modulus_sided_mm3 == pytest.approx(upright.modulus_moulded_mm3, rel=1e-6)


@pytest.mark.parametrize(
    ("face", "readings", "says"),
    [
        ("inboard", [(10.0, 110.1)], "110.1 mm is deeper than the timber, which is 110 mm"),
        ("port", [(10.0, 72.5)], "deeper than the timber, which is 72 mm"),
        ("inboard", [(73.0, 5.0)], "off the timber"),
        ("inboard", [(-1.0, 5.0)], "off the timber"),
        ("inboard", [(10.0, -5.0)], "cannot be below 0"),
        ("inboard", [(10.0, float("nan"))], "must be a number"),
        ("inboard", [(30.0, 5.0), (10.0, 5.0)], "in order"),
        ("inboard", [(30.0, 5.0), (30.0, 8.0)], "in order"),
        ("inboard", [], "at least one"),
        ("lee", [(10.0, 5.0)], "no face named 'lee'"),
    ],
)
def test_an_impossible_probing_is_refused_with_a_sentence(face, readings, says):
    with pytest.raises(ValueError, match=says):
        soft_face(SIDED, MOULDED, face, readings)


@pytest.mark.parametrize(
    ("at", "start", "end", "width", "says"),
    [
        (10.0, 20.0, 111.0, 10.0, "deeper than the timber"),
        (10.0, 20.0, 20.0, 10.0, "no thickness"),
        (10.0, 30.0, 20.0, 10.0, "no thickness"),
        (10.0, 20.0, 30.0, 0.0, "more than 0"),
        (100.0, 20.0, 30.0, 5.0, "off the timber"),
    ],
)
def test_an_impossible_drilling_is_refused_with_a_sentence(at, start, end, width, says):
    with pytest.raises(ValueError, match=says):
        soft_pocket(SIDED, MOULDED, "inboard", at, start, end, width)


@pytest.mark.parametrize(
    "outline",
    [
        (),
        ((0.0, 0.0), (1.0, 1.0)),
        ((0.0, 0.0), (10.0, 10.0), (10.0, 0.0), (0.0, 6.0)),
        ((0.0, 0.0), (5.0, 0.0), (10.0, 0.0)),
        ((0.0, 0.0), (5.0, 0.0), (float("inf"), 9.0)),
    ],
)
def test_an_outline_that_is_no_section_is_refused(outline):
    with pytest.raises(ValueError, match=r"outline"):
        remaining_section(outline, [])
    with pytest.raises(ValueError, match=r"soft area"):
        remaining_section(rectangle(SIDED, MOULDED), [outline])


@pytest.mark.parametrize("sizes", [(0, 50), (50, -1), (float("inf"), 50)])
def test_a_timber_without_size_is_refused(sizes):
    with pytest.raises(ValueError, match=r"dimension must be"):
        rectangle(*sizes)


def test_sizes_finer_than_a_thousandth_leave_no_more_than_there_was():
    loss = remaining_section(rectangle(20, 20.4375), [])
    assert loss.area_fraction == pytest.approx(1, abs=1e-7)
    assert loss.modulus_moulded_fraction == pytest.approx(1, abs=1e-7)
