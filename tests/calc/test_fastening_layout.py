"""Holes on the face of a joint: on the timber, clear of each other, far enough from what counts."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.fastening_face import Face, Hole
from restoration.calc.fastening_group import counted, effective_number
from restoration.calc.fastening_layout import (
    MOST_HOLES,
    check_hole,
    check_holes,
    distances,
    rows_of_holes,
)
from restoration.calc.fastening_rows import rows_along
from restoration.calc.fastening_spacing import (
    ACROSS,
    ALONG,
    EDGE,
    END,
    Placing,
    en_distances,
    nds_distances,
)
from restoration.calc.fastening_timbers import Timber, wood_figures
from timber_stock.wood.species import species

LAWS = settings(max_examples=60, deadline=None)
OAK = wood_figures(species("oak_white"))
FACE = Face(900, 180)
D = 20.0


def hole(x, y, number=1, diameter=D, kind="bolt"):
    return Hole(number, x, y, kind, diameter, 75)


def found(holes, *, head="", point="start finish left right", load=0.0, grain=(0.0, 0.0)):
    timbers = (
        Timber("A1", 75, grain[0], OAK, frozenset(head.split())),
        Timber("K1", 150, grain[1], OAK, frozenset(point.split())),
    )
    return distances(FACE, timbers, holes, load)


def of(rows, timber, what):
    return next(each for each in rows if (each.timber, each.what) == (timber, what))


@pytest.mark.parametrize(
    ("x", "y", "where"),
    [
        (5, 90, "before the start"), (895, 90, "beyond the far end"),
        (450, 5, "beyond the left edge"), (450, 175, "beyond the right edge"),
        (-40, 90, "before the start"), (1200, 90, "beyond the far end"),
    ],
)  # fmt: skip
def test_a_hole_outside_the_timber_is_refused_with_where_and_by_how_much(x, y, where):
    with pytest.raises(ValueError, match=where) as refused:
        check_hole(FACE, hole(x, y))
    assert "Nothing is changed." in str(refused.value)


def test_a_hole_that_just_touches_the_edge_is_on_the_timber():
    assert check_hole(FACE, hole(10, 10)) == hole(10, 10)


def test_two_holes_that_run_into_each_other_are_refused():
    with pytest.raises(ValueError, match="runs into"):
        check_holes(FACE, [hole(100, 90, 1), hole(112, 100, 2)])
    check_holes(FACE, [hole(100, 90, 1), hole(120, 90, 2)])


def test_a_layout_has_an_end():
    many = [hole(15 + 5 * n, 90, n, diameter=3) for n in range(MOST_HOLES + 1)]
    with pytest.raises(ValueError, match="at most"):
        check_holes(FACE, many)


@LAWS
@given(
    st.integers(1, 8), st.floats(1, 200), st.integers(1, 4), st.floats(1, 90), st.booleans(),
    st.floats(0, 300), st.floats(0, 100),
)  # fmt: skip
def test_rows_hold_as_many_as_were_asked_evenly_spaced(along, apart, rows, between, stagger, x, y):
    places = rows_of_holes((x, y), along, apart, rows, between, stagger)
    assert len(places) == along * rows
    assert places[0] == (x, y)
    for row in range(rows):
        in_row = places[row * along : (row + 1) * along]
        assert {round(p[1] - y - row * between, 6) for p in in_row} == {0}
        start = x + (apart / 2 if stagger and row % 2 else 0)
        assert [p[0] for p in in_row] == pytest.approx([start + n * apart for n in range(along)])


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        (((0, 0), 0, 10), "between 1"), (((0, 0), 500, 10), "between 1"),
        (((0, 0), 3, 0), "in a row"), (((0, 0), 1, 0, 2, 0), "between rows"),
        (((math.nan, 0), 1, 0), "must be a number"),
    ],
)  # fmt: skip
def test_rows_that_cannot_be_laid_are_refused(asked, says):
    with pytest.raises(ValueError, match=says):
        rows_of_holes(*asked)


@LAWS
@given(st.floats(6.5, 25), st.floats(0, 90), st.booleans(), st.floats(20, 300))
def test_every_distance_grows_with_the_size_and_the_least_never_passes_the_full(d, a, hard, long):
    for rules in (nds_distances, en_distances):
        one, two = (
            rules(Placing("bolt", d, hard, a, long)),
            rules(Placing("bolt", 2 * d, hard, a, 2 * long)),
        )
        for what in (END, EDGE, ALONG, ACROSS):
            assert 0 < one[what].least_mm <= one[what].full_mm
            assert two[what].full_mm >= one[what].full_mm


def test_bolts_in_oak_want_five_diameters_of_end_and_in_fir_seven():
    """National Design Specification, from memory; half of it counts half the load."""
    oak, fir = (nds_distances(Placing("bolt", D, hard, 0, 75)) for hard in (True, False))
    assert (oak[END].full_mm, oak[END].least_mm) == (100, 50)
    assert (fir[END].full_mm, fir[END].least_mm) == (140, 70)
    assert oak[EDGE].full_mm == 30
    assert oak[ALONG].full_mm == 80


def test_a_load_across_the_grain_wants_a_wider_edge():
    across = nds_distances(Placing("bolt", D, True, 90, 75))
    assert across[EDGE].full_mm == 80
    assert across[ALONG].full_mm == pytest.approx((5 * 75 + 10 * D) / 8)
    assert (across[ACROSS].full_mm, across[ACROSS].least_mm) == (80, 60)
    assert en_distances(Placing("bolt", D, True, 90, 75))[EDGE].full_mm == pytest.approx(80)


def test_a_load_at_an_angle_wants_the_stricter_of_both():
    along, across, between = (
        nds_distances(Placing("bolt", D, True, angle, 75)) for angle in (0, 90, 30)
    )
    for what in (EDGE, ALONG, ACROSS):
        stricter = max(along[what].full_mm, across[what].full_mm)
        assert between[what].full_mm == pytest.approx(stricter)


def test_an_end_too_short_says_what_counts_and_what_to_do():
    rows = found([hole(60, 90)])
    end = of(rows, "A1", END)
    assert end.actual_mm == 60
    assert end.share == pytest.approx(0.6)
    assert end.short_mm == pytest.approx(80)  # EN 1995-1-1 asks 7 d
    assert end.to_do == (
        "Move it 80.0 mm further from the near end, or take one of 12.0 mm or thinner (by the NDS)."
    )


def test_nothing_is_counted_below_the_least_distance():
    end = of(found([hole(45, 90)]), "A1", END)
    assert end.is_too_near
    assert end.share == 0


def test_where_only_en_1995_asks_for_more_it_is_said():
    end = of(found([hole(110, 90)]), "A1", END)
    assert not end.is_full
    assert end.share == 1
    assert end.to_do.endswith("for EN 1995-1-1; the NDS is satisfied.")


def test_where_a_timber_runs_on_there_is_no_end_to_be_near():
    rows = found([hole(60, 90)], head="start finish")
    assert not [each for each in rows if each.what == END]
    assert {each.timber for each in rows} == {"A1"}


def test_across_the_face_the_ends_of_a_timber_are_left_and_right():
    """A floor over a keel: its grain runs across the keel's face."""
    rows = found([hole(450, 25)], grain=(90, 0), load=90)
    assert of(rows, "A1", END).actual_mm == 25
    assert of(rows, "A1", EDGE).actual_mm == 450


def test_neighbours_are_far_enough_when_they_are_so_along_or_across():
    staggered = found([hole(300, 60, 1), hole(400, 120, 2)])
    in_line = found([hole(300, 90, 1), hole(340, 90, 2)])
    near = next(each for each in in_line if each.what == ALONG and each.timber == "A1")
    assert near.actual_mm == 40
    assert near.is_too_near
    assert all(e.is_full for e in staggered if e.what in (ALONG, ACROSS))


@LAWS
@given(
    st.lists(st.tuples(st.floats(20, 880), st.floats(20, 160)), min_size=1, max_size=6),
    st.floats(-90, 90),
)
def test_what_is_short_is_short_by_what_moving_it_mends(places, load):
    holes = [hole(x, y, n) for n, (x, y) in enumerate(places, 1)]
    try:
        check_holes(FACE, holes)
    except ValueError:
        return
    for each in found(holes, load=load):
        assert 0 <= each.share <= 1
        wanted = max(each.nds.full_mm, each.en.full_mm)
        assert each.actual_mm + each.short_mm >= wanted - 1e-6
        assert bool(each.to_do) != each.is_full


@LAWS
@given(st.integers(1, 12), st.floats(20, 600), st.floats(5, 30))
def test_a_row_counts_for_no_more_than_it_has_and_for_more_when_it_is_longer(n, apart, d):
    here = effective_number(n, apart, d)
    assert 0 < here <= n
    assert effective_number(n + 1, apart, d) > here or here == 1 or apart < 4 * d


def test_holes_are_gathered_into_rows_along_the_grain():
    holes = [hole(100, 50, 1), hole(300, 51, 2), hole(200, 130, 3)]
    assert [len(row) for row in rows_along(holes, 0)] == [2, 1]
    assert [len(row) for row in rows_along(holes, 90)] == [1, 1, 1]
    assert counted(holes, 0, 90) == pytest.approx(3)
    assert counted(holes, 0, 0) < 3


def slender(x, y, number):
    """140 mm in the thinner timber: 7.37 of its diameters."""
    return Hole(number, x, y, "bolt", D, 140)


def test_slender_bolts_in_rows_along_the_load_want_half_their_distance_at_an_edge():
    pair = [slender(450, 40, 1), slender(450, 140, 2)]
    for each in (e for e in found(pair) if (e.timber, e.what) == ("A1", EDGE)):
        assert each.nds.full_mm == pytest.approx(50)
        assert each.nds.rule == "half the rows' distance"
        assert each.is_too_near
        assert "or set the rows closer together (by the NDS)" in each.to_do
    stout = [hole(450, 40, 1), hole(450, 140, 2)]
    one_row = [slender(300, 40, 1), slender(600, 40, 2)]
    across = found(pair, grain=(90.0, 0.0))
    for rows in (found(stout), found(one_row)):
        assert of(rows, "A1", EDGE).nds.full_mm == pytest.approx(1.5 * D)
    assert of(across, "A1", EDGE).nds.full_mm == pytest.approx(4 * D)
    assert of(found([slender(450, 70, 1), slender(450, 110, 2)]), "A1", EDGE).is_full


def test_no_move_is_advised_where_the_other_edge_stands_too_near_as_well():
    narrow = Face(900, 64)
    timber = Timber("F1", 75, 0, OAK, frozenset({"start", "finish"}))
    (edge,) = [e for e in distances(narrow, [timber], [hole(450, 30)], 0) if e.what == EDGE]
    assert edge.to_do == "The NDS is satisfied; nowhere on 64.0 mm is far enough for EN 1995-1-1."
    (edge,) = [e for e in distances(narrow, [timber], [hole(450, 24)], 0) if e.what == EDGE]
    assert edge.to_do == (
        "Move it 6.0 mm further from the left edge for the NDS; nowhere on 64.0 mm is far enough "
        "for EN 1995-1-1."
    )
    (edge,) = [e for e in distances(Face(900, 50), [timber], [hole(450, 25)], 0) if e.what == EDGE]
    assert edge.to_do == (
        "The timber, 50.0 mm from side to side, is too small for it: take one of 16.7 mm or "
        "thinner, in the middle (by the NDS)."
    )


def test_an_edge_with_room_over_against_it_is_moved_from():
    timber = Timber("K1", 75, 0, OAK, frozenset({"start", "finish", "right"}))
    (edge,) = [e for e in distances(Face(900, 64), [timber], [hole(450, 24)], 0) if e.what == EDGE]
    assert edge.to_do.startswith("Move it 36.0 mm further from the left edge, or take one")
