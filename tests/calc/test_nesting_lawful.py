"""What is said of a piece that is laid where it must not be."""

from dataclasses import replace

import pytest

from restoration.calc.nesting_cases import cases
from restoration.calc.nesting_lawful import faults_of, own_faults
from restoration.calc.nesting_pieces import (
    centred,
    check_gap_mm,
    check_grain_deg,
    checked_pieces,
    copies,
    from_pattern,
    rectangle,
)
from restoration.calc.nesting_places import Place, off_grain_deg
from restoration.calc.nesting_search import lay_out
from restoration.calc.nesting_sheet import Defect, Sheet, box, tapered
from restoration.calc.pattern import Bevel, Pattern

BOARD = Sheet(
    2400, 60, tapered(2400, 300, 260), butt_check_mm=100, top_check_mm=50, sapwood_left_mm=30,
    defects=(Defect("shake", box(1600, -60, 400, 10), 8),),
)  # fmt: skip
PIECE = rectangle("A", "bearer A", long_mm=600, wide_mm=90, sided_mm=55)
OTHER = rectangle("B", "bearer B", long_mm=500, wide_mm=80, sided_mm=55)


@pytest.mark.parametrize(
    ("place", "says"),
    [
        (Place("A", 600, -200), "bearer A would lie 102 mm off the face"),
        (Place("A", 380, 0), "run into the checks at the end"),
        (Place("A", 1500, -40), "would have defect 1, the shake, in it"),
        (Place("A", 1500, -4), "would come within 6 mm of defect 1, the shake"),
        (Place("A", 600, 95), "would have sapwood in it"),
        (Place("A", 900, 0, 9), "would lie 9.0° off the grain: 5° is the limit"),
        (Place("A", 900, 0, 171), "would lie 9.0° off the grain: 5° is the limit"),
        (Place("A", 900, 0, 0, True), "wanted as drawn"),
        (Place("A", float("inf"), 0), "plain numbers"),
    ],
)
def test_a_move_that_is_not_allowed_is_refused_with_its_reason(place, says):
    said = own_faults(BOARD, PIECE, place)
    assert any(says in each for each in said), said


@pytest.mark.parametrize("place", [Place("A", 600, 0), Place("A", 600, 0, 184.9)])
def test_a_place_that_is_clear_is_not_complained_of(place):
    assert own_faults(BOARD, PIECE, place) == ()


def test_a_piece_that_may_have_sapwood_may_lie_in_it():
    assert own_faults(BOARD, replace(PIECE, sapwood_allowed=True), Place("A", 600, 95)) == ()


def test_pieces_that_overlap_or_leave_the_saw_no_room_are_told_apart():
    def said(x):
        places = (Place("A", 500, 0), Place("B", x, 0))
        return [fault.says for fault in faults_of(BOARD, (PIECE, OTHER), places, 6)]

    assert said(900) == ["bearer A and bearer B would overlap."]
    assert said(1054) == [
        "bearer A and bearer B would lie 4.0 mm apart: the saw needs 6.0 mm between them."
    ]
    assert said(1055.6) == [
        "bearer A and bearer B would lie a little nearer to each other than the 6.0 mm that the "
        "saw needs between them."
    ]
    assert said(1056) == []


@pytest.mark.parametrize("case", cases(), ids=lambda case: case.name)
def test_what_the_search_lays_out_is_not_complained_of(case):
    request = case.request
    places = lay_out(request, steps=4).places
    assert faults_of(request.sheet, request.pieces, places, request.gap_mm) == ()


def test_turned_end_for_end_is_not_off_the_grain():
    assert [off_grain_deg(a) for a in (0, 180, -180, 177, 90)] == [0, 0, 0, 3, 90]


def test_a_pattern_is_laid_by_its_grain_and_not_by_its_length():
    across = Pattern(((0, 0), (0, 500), (-90, 500), (-120, 0)), 60, grain_deg=90)
    piece = from_pattern("P", "pattern", across)
    xs, ys = zip(*piece.outline_mm, strict=True)
    assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((500, 120))
    assert piece.hand == "either"
    assert max(xs) == pytest.approx(-min(xs))


def test_a_bevelled_pattern_keeps_its_face_up_and_its_other_side_is_mirrored():
    bevelled = Pattern(((0, 0), (500, 0), (430, 80), (0, 90)), 60, bevels=(Bevel(100, 12),))
    piece = from_pattern("P", "futtock", bevelled)
    made = copies(piece, 1, other_side=1)
    assert [each.hand for each in made] == ["drawn", "mirrored"]
    assert [each.label for each in made] == ["futtock (1)", "futtock (2)"]
    assert len({each.key for each in made}) == 2


@pytest.mark.parametrize("degrees", [-0.1, 45.1, float("nan")])
def test_a_grain_angle_beyond_reason_is_refused(degrees):
    with pytest.raises(ValueError, match="from 0 to 45 degrees"):
        check_grain_deg(degrees)


@pytest.mark.parametrize("gap", [-1, 101, float("inf")])
def test_a_gap_beyond_reason_is_refused(gap):
    with pytest.raises(ValueError, match="nothing to 100 mm"):
        check_gap_mm(gap)


@pytest.mark.parametrize(
    ("pieces", "says"),
    [
        ([], "at least one"),
        ([PIECE] * 2, "same key"),
        ([replace(PIECE, key=str(n)) for n in range(61)], "60 pieces"),
        ([replace(PIECE, sided_mm=0)], "siding"),
        ([replace(PIECE, outline_mm=((0, 0), (9, 9)))], "three corners"),
        (
            [replace(PIECE, outline_mm=centred([(0, 0), (90, 90), (90, 0), (0, 90)]))],
            "crosses itself",
        ),
        ([replace(PIECE, worth=-1.0)], "nothing or more"),
        ([replace(PIECE, hand="left")], "no hand"),
    ],
)
def test_pieces_that_cannot_be_laid_out_are_refused(pieces, says):
    with pytest.raises(ValueError, match=says):
        checked_pieces(pieces)
