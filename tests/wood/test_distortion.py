"""The dried section: laws that any section must keep, and the awkward places for the pith."""

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from timber_stock.wood.distortion import closure_gap_deg, dry_section, over_green_mm
from timber_stock.wood.outline import rectangle_mm

OAK_TO_12 = (3.36, 6.30)
HORSESHOE = [(100, 20), (300, 20), (300, 200), (-300, 200), (-300, -180), (300, -180)]
HORSESHOE += [(300, -40), (100, -40), (100, -80), (-150, -80), (-150, 110), (100, 110)]

coordinate = st.floats(-400, 400)
side = st.floats(30, 350)
percent = st.floats(0, 12)


def distance(a, b):
    return math.dist(a, b)


def turned(points, degrees, about=(0.0, 0.0)):
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    px, py = about
    return [(px + c * (x - px) - s * (y - py), py + s * (x - px) + c * (y - py)) for x, y in points]


def area(points):
    ring = [*points, points[0]]
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise(ring))) / 2


@st.composite
def rectangles(draw):
    low = (draw(coordinate), draw(coordinate))
    return rectangle_mm(low, draw(side), draw(side), draw(st.floats(-180, 180)))


@given(rectangles(), coordinate, coordinate)
@settings(max_examples=60)
def test_no_shrinkage_gives_the_same_outline(section, x, y):
    dried = dry_section(section, (x, y), 0, 0)
    for before, after in zip(section, dried.corners_mm, strict=True):
        assert distance(before, after) < 1e-6  # a pith a hair from an edge is taken to lie on it
    for before, after in zip(dried.green_outline_mm, dried.outline_mm, strict=True):
        assert distance(before, after) < 1e-6
    assert dried.check_opening_mm == 0
    assert area(dried.outline_mm) == pytest.approx(area(section), rel=1e-6)


@given(rectangles(), coordinate, coordinate, percent, percent)
@settings(max_examples=100)
def test_the_area_shrinks_by_the_product_of_both_shrinkages(section, x, y, radial, tangential):
    dried = dry_section(section, (x, y), radial, tangential)
    kept = (1 - radial / 100) * (1 - tangential / 100)
    assert area(dried.outline_mm) == pytest.approx(kept * area(section), rel=2e-4)


@given(st.floats(-179, 179), st.floats(20, 200), st.floats(20, 200), percent, percent)
@settings(max_examples=80)
def test_far_from_the_pith_the_map_is_the_straight_grain_formula(bearing, a, b, radial, tangential):
    far = 1e7
    pith = (-far * math.cos(math.radians(bearing)), -far * math.sin(math.radians(bearing)))
    dried = dry_section(rectangle_mm((0, 0), a, b), pith, radial, tangential)
    e_r, e_t = radial / 100, tangential / 100
    for face, along in zip(dried.faces, (0, 90, 0, 90), strict=True):
        off = math.radians(bearing - along)
        straight = math.hypot((1 - e_r) * math.cos(off), (1 - e_t) * math.sin(off))
        assert face.dried_length_mm == pytest.approx(face.green_length_mm * straight, rel=1e-5)
        assert abs(face.cup_mm) < 1e-3


@given(rectangles(), st.floats(-360, 360), coordinate, coordinate)
@settings(max_examples=80)
def test_turning_the_log_turns_the_answer_and_changes_nothing_else(section, degrees, x, y):
    pith, about = (x, y), (17.0, -90.0)
    before = dry_section(section, pith, *OAK_TO_12)
    assume(min(distance(p, pith) for p in before.green_outline_mm) > 1e-3)
    after = dry_section(
        turned(section, degrees, about), turned([pith], degrees, about)[0], *OAK_TO_12
    )
    for a, b in zip(turned(before.outline_mm, degrees, about), after.outline_mm, strict=True):
        assert distance(a, b) < 1e-4
    assert after.corner_angles_deg == pytest.approx(before.corner_angles_deg, abs=1e-5)
    assert after.check_opening_mm == pytest.approx(before.check_opening_mm, abs=1e-6)
    assert after.check_face == before.check_face


@given(
    st.floats(60, 200), st.floats(20, 50), st.floats(300, 3000), st.floats(1, 8), st.floats(0.5, 4)
)
@settings(max_examples=60)
def test_quarter_sawn_keeps_its_corners_squarer_than_rift(wide, thick, away, radial, more):
    board = rectangle_mm((-wide / 2, -thick / 2), wide, thick)

    def out_of_square(pith):
        angles = dry_section(board, pith, radial, radial + more).corner_angles_deg
        return max(abs(a - 90) for a in angles)

    rift = (-away / math.sqrt(2), -away / math.sqrt(2))
    assert out_of_square((-away, 0)) < out_of_square(rift)


@given(rectangles(), coordinate, coordinate)
@settings(max_examples=60)
def test_giving_the_corners_the_other_way_round_changes_nothing(section, x, y):
    one = dry_section(section, (x, y), *OAK_TO_12)
    other = dry_section(section[::-1], (x, y), *OAK_TO_12)
    assume(one.check_face is None or one.check_opening_mm > 0)
    angles = other.corner_angles_deg[::-1]
    assume(not one.boxed_heart or abs(one.check_opening_mm - other.check_opening_mm) < 1e-9)
    if not one.boxed_heart:
        assert angles == pytest.approx(one.corner_angles_deg, abs=1e-7)
        assert [f.cup_mm for f in other.faces[2::-1]] == pytest.approx(
            [f.cup_mm for f in one.faces[:3]], abs=1e-3
        )
    assert area(other.outline_mm) == pytest.approx(area(one.outline_mm), rel=1e-6)


def test_a_pith_at_the_dead_centre_opens_the_same_face_however_the_log_is_turned():
    box = rectangle_mm((-80, -80), 160, 160)
    opened = {
        dry_section(
            turned(box, degrees, (3, -7)), turned([(0, 0)], degrees, (3, -7))[0], 3, 6
        ).check_face
        for degrees in range(0, 360, 7)
    }
    assert opened == {0}


@given(st.floats(-180, 180), st.floats(20, 200), st.floats(20, 200), st.floats(1, 500))
@settings(max_examples=50)
def test_the_wood_as_a_whole_does_not_turn(degrees, a, b, away):
    """A timber centred on a ray from the pith stays centred on it: its cross faces do not turn."""
    dried = dry_section(turned(rectangle_mm((-a / 2, away), a, b), degrees), (0, 0), *OAK_TO_12)
    near, right, far, left = (face.turned_deg for face in dried.faces)
    assert (near, far) == pytest.approx((0, 0), abs=1e-7)
    assert right == pytest.approx(-left, abs=1e-7)


def test_every_point_comes_nearer_the_pith_by_the_radial_shrinkage():
    dried = dry_section(rectangle_mm((40, -25), 210, 90), (0, 0), *OAK_TO_12)
    for green, dry in zip(dried.green_outline_mm, dried.outline_mm, strict=True):
        assert math.hypot(*dry) == pytest.approx((1 - 0.0336) * math.hypot(*green), rel=1e-12)


def test_a_section_straddling_the_cut_of_the_angle_dries_like_its_mirror():
    right = dry_section(rectangle_mm((40, -25), 210, 90), (0, 0), *OAK_TO_12)
    left = dry_section([(-x, y) for x, y in rectangle_mm((40, -25), 210, 90)], (0, 0), *OAK_TO_12)
    for (x, y), (u, v) in zip(right.corners_mm, left.corners_mm, strict=True):
        assert (-x, y) == pytest.approx((u, v), abs=1e-9)


def test_a_boxed_heart_opens_towards_the_nearest_face_by_the_missing_ring_there():
    dried = dry_section(rectangle_mm((-100, -120), 200, 200), (0, 0), *OAK_TO_12)
    gap = 2 * math.pi * (1 - (1 - 0.063) / (1 - 0.0336))
    assert dried.boxed_heart
    assert dried.check_face == 2  # the top face, 80 mm from the pith; the others 100 or more
    assert math.radians(dried.gap_deg) == pytest.approx(gap)
    assert dried.check_opening_mm == pytest.approx(2 * 80 * (1 - 0.0336) * math.sin(gap / 2))
    assert (0, 0) in dried.outline_mm


def test_the_lips_of_the_check_stand_the_opening_apart_in_the_outline():
    dried = dry_section(rectangle_mm((-70, -155), 230, 200), (0, 0), *OAK_TO_12)
    apex = dried.outline_mm.index((0, 0))
    lips = dried.outline_mm[apex - 1], dried.outline_mm[(apex + 1) % len(dried.outline_mm)]
    assert distance(*lips) == pytest.approx(dried.check_opening_mm)
    assert dried.check_opening_mm > 7


@given(st.floats(0, 149), st.floats(0, 99))
@settings(max_examples=40)
def test_the_check_is_widest_for_a_pith_in_the_middle_and_closes_towards_the_face(x, y):
    box = rectangle_mm((-150, -100), 300, 200)
    dried = dry_section(box, (x, y), *OAK_TO_12)
    near = min(150 - x, 100 - y)
    middle = dry_section(box, (0, 0), *OAK_TO_12).check_opening_mm
    assert dried.check_opening_mm == pytest.approx(middle * near / 100, rel=1e-7)


@pytest.mark.parametrize("pith", [(0, 0), (60, 0), (120, 80), (0, 31), (120, 0)])
def test_a_pith_on_the_edge_or_a_corner_is_not_boxed_and_needs_no_check(pith):
    dried = dry_section(rectangle_mm((0, 0), 120, 80), pith, *OAK_TO_12)
    assert dried.pith_on_face
    assert not dried.boxed_heart
    assert dried.check_opening_mm == 0
    assert area(dried.outline_mm) == pytest.approx(120 * 80 * 0.937 * 0.9664, rel=1e-4)


@pytest.mark.parametrize("step", [-1e-4, 1e-4])
def test_the_shape_hardly_changes_as_the_pith_slips_across_a_face(step):
    box = rectangle_mm((0, 0), 120, 80)
    on = dry_section(box, (45, 0), *OAK_TO_12)
    beside = dry_section(box, (45, step), *OAK_TO_12)
    assert beside.boxed_heart == (step > 0)
    assert beside.corner_angles_deg == pytest.approx(on.corner_angles_deg, abs=0.01)
    assert beside.check_opening_mm < 1e-4


@pytest.mark.parametrize("degrees", [0, 2, 90, 135, 180, -2])
def test_the_corner_at_the_pith_closes_by_the_ratio_of_the_shrinkages(degrees):
    dried = dry_section(rectangle_mm((0, 0), 120, 80, degrees), (0, 0), *OAK_TO_12)
    assert area(dried.outline_mm) == pytest.approx(120 * 80 * 0.937 * 0.9664, rel=1e-4)
    assert dried.corner_angles_deg[0] == pytest.approx(90 * 0.937 / 0.9664)


def test_a_section_bent_round_the_pith_follows_its_own_wood_through_the_opening():
    """A hollow horseshoe of 300 degrees: the opening of its mouth, not the wood, takes the gap."""
    dried = dry_section(HORSESHOE, (0, 0), *OAK_TO_12)
    assert not dried.boxed_heart
    assert area(dried.outline_mm) == pytest.approx(area(HORSESHOE) * 0.937 * 0.9664, rel=3e-4)
    mouth = distance(dried.corners_mm[0], dried.corners_mm[7])
    assert mouth > 60 + 8  # green 60 mm; by the plain small-strain rule it would have narrowed


def test_a_check_in_an_unsymmetrical_hollow_section_does_not_split_the_arm_beyond_it():
    """The ray through the check meets an arm of this section again; only the first wood opens."""
    hook = [(-50, -50), (200, -50), (200, 200), (-50, 200), (-50, 150), (150, 150), (150, 20)]
    hook += [(-50, 20)]
    dried = dry_section(hook, (0, 0), *OAK_TO_12)
    assert dried.boxed_heart
    assert dried.check_face == 6
    assert area(dried.outline_mm) == pytest.approx(area(hook) * 0.937 * 0.9664, rel=3e-4)
    steps = [distance(a, b) for a, b in pairwise(dried.outline_mm)]
    assert max(steps) < 22  # no jump across the arm: only the lips of the check reach the pith


def test_a_boxed_heart_that_would_close_up_is_held_and_says_so():
    dried = dry_section(rectangle_mm((-60, -50), 120, 100), (0, 0), 6, 4)
    assert dried.held_closed
    assert dried.gap_deg < 0
    assert dried.check_opening_mm == 0
    assert dried.corner_angles_deg == pytest.approx([90] * 4)


def test_equal_shrinkage_opens_no_check():
    dried = dry_section(rectangle_mm((-60, -50), 120, 100), (0, 0), 5, 5)
    assert (dried.check_opening_mm, dried.check_face, dried.held_closed) == (0, None, False)


def test_swelling_undoes_shrinking():
    green = rectangle_mm((30, -20), 150, 40)
    dry = dry_section(green, (0, 0), *OAK_TO_12)
    back = (100 * (1 - 1 / 0.9664), 100 * (1 - 1 / 0.937))
    again = dry_section(dry.outline_mm, (0, 0), *back)
    wanted = dry_section(green, (0, 0), 0, 0)
    assert again.green_area_mm2 < wanted.area_mm2
    assert area(again.outline_mm) == pytest.approx(area(wanted.outline_mm), rel=1e-4)
    assert distance(again.corners_mm[0], (0, 0)) == pytest.approx(distance(green[0], (0, 0)))


def test_the_outline_is_dense_enough_to_show_cup():
    dried = dry_section(rectangle_mm((-150, 5), 300, 25), (0, 0), *OAK_TO_12)
    assert len(dried.outline_mm) > 100
    assert dried.faces[0].cup_mm < -5  # the face 5 mm from the pith stands well proud of its chord
    assert dried.faces[2].cup_mm > 0


def test_cup_does_not_depend_on_how_the_face_was_stepped():
    plain = rectangle_mm((-150, 60), 300, 25)
    stepped = [plain[0], (-20, 60), (77, 60), *plain[1:]]
    whole = dry_section(plain, (0, 0), *OAK_TO_12)
    parts = dry_section(stepped, (0, 0), *OAK_TO_12)
    assert distance(whole.corners_mm[2], parts.corners_mm[4]) < 1e-9
    assert parts.faces[4].cup_mm == pytest.approx(whole.faces[2].cup_mm, rel=1e-3)


def test_exaggeration_moves_every_point_so_many_times_as_far():
    dried = dry_section(rectangle_mm((40, -25), 210, 90), (0, 0), *OAK_TO_12)
    green, true, five = dried.green_outline_mm, over_green_mm(dried), over_green_mm(dried, 5)
    assert max(distance(a, b) for a, b in zip(over_green_mm(dried, 0), green, strict=True)) < 1e-9
    for g, t, f in zip(green, true, five, strict=True):
        assert f == pytest.approx((g[0] + 5 * (t[0] - g[0]), g[1] + 5 * (t[1] - g[1])))
    assert distance(true[0], dried.outline_mm[0]) > 3  # laid over the green, not left at the pith


def test_a_repeated_closing_corner_counts_once():
    box = rectangle_mm((40, -25), 210, 90)
    assert dry_section([*box, box[0]], (0, 0), *OAK_TO_12) == dry_section(box, (0, 0), *OAK_TO_12)


def test_closure_gap_is_a_share_of_the_full_turn():
    assert closure_gap_deg(0, 10) == pytest.approx(36)
    assert closure_gap_deg(4, 4) == 0


NAN = float("nan")
BOX = [(0, 0), (100, 0), (100, 50), (0, 50)]


@pytest.mark.parametrize(
    ("outline", "pith", "radial", "tangential", "says"),
    [
        ([(0, 0), (NAN, 0), (100, 50)], (0, 9), 3, 6, r"Corner 2 of the outline \(x\)"),
        ([(0, 0), (100, 0), (100, float("inf"))], (0, 9), 3, 6, "finite"),
        (BOX, (NAN, 0), 3, 6, r"The pith \(x\)"),
        (BOX, (1e12, 0), 3, 6, "slip"),
        (BOX, None, 3, 6, "pair of numbers"),
        (BOX, (0, 0), NAN, 6, "Radial shrinkage"),
        (BOX, (0, 0), 3, 61, "Tangential shrinkage is 61 %"),
        (BOX, (0, 0), 3, "wet", "Tangential shrinkage must be a number"),
        (BOX[:2], (0, 9), 3, 6, "three different corners"),
        ([(5, 5)] * 4, (0, 9), 3, 6, "three different corners"),
        ([(0, 0), (50, 50), (100, 100)], (0, 9), 3, 6, "doubles back"),
        ([(0, 0), (100, 50), (100, 0), (0, 50)], (0, 9), 3, 6, "crosses or touches itself"),
        ([(0, 0), (100, 0), (40, 0), (40, 60)], (0, 9), 3, 6, "doubles back"),
        (
            [(0, 0), (100, 0), (100, 50), (50, 0), (0, 50)],
            (0, 9),
            3,
            6,
            "crosses or touches itself",
        ),
    ],
)
def test_a_section_that_makes_no_sense_is_refused_in_a_sentence(
    outline, pith, radial, tangential, says
):
    with pytest.raises(ValueError, match=says):
        dry_section(outline, pith, radial, tangential)


def test_an_exaggeration_below_nought_is_refused():
    with pytest.raises(ValueError, match="exaggeration"):
        over_green_mm(dry_section(BOX, (0, 0), 3, 6), -1)
