"""What readings mean: laws that hold whatever was read, and that cautions always come along."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc import bolt_loss, ph, section_loss
from restoration.calc.reading_meaning import (
    PARTED,
    Figure,
    of_bolt,
    of_drill,
    of_moisture,
    of_ph,
    of_probe,
)
from timber_stock.wood import meter

size = st.floats(20, 400)


@settings(max_examples=40)
@given(size, size, st.sampled_from(sorted(section_loss.FACES)), st.floats(0, 1), st.floats(0, 1))
def test_a_deeper_probe_never_leaves_more(sided, moulded, face, one, other):
    behind = moulded if section_loss.FACES[face][0] == "y" else sided
    shallow, deep = (of_probe(f * behind, sided, moulded, face) for f in sorted((one, other)))
    for before, after in zip(shallow.figures, deep.figures, strict=True):
        assert after.value <= before.value * (1 + 1e-6) + 1e-3
        assert 0 <= after.percent <= 100.001


@given(size, size, st.floats(0.05, 0.95))
def test_a_strip_off_one_face_leaves_what_a_smaller_timber_would_have(sided, moulded, share):
    left = (1 - share) * moulded
    area, in_depth, in_siding = of_probe(share * moulded, sided, moulded, "bottom").figures
    assert area.value == pytest.approx(sided * left, rel=1e-3, abs=0.5)
    assert in_depth.value == pytest.approx(sided * left**2 / 6, rel=1e-3, abs=5)
    assert in_siding.value == pytest.approx(left * sided**2 / 6, rel=1e-3, abs=5)


@given(st.floats(5, 60), st.floats(0.01, 1))
def test_strength_goes_as_the_square_of_what_is_left_of_a_bolt(original, share):
    area = of_bolt(share * original, original).figures[0]
    assert area.value == pytest.approx(math.pi / 4 * (share * original) ** 2)
    assert area.percent == pytest.approx(100 * share**2)


def test_a_named_metal_gives_a_breaking_load_and_the_caution_that_it_is_one():
    bare = of_bolt(11, 16)
    assert not any(figure.unit == "N" for figure in bare.figures)
    assert "Name its metal" in bare.sentence
    named = of_bolt(11, 16, "steel_8_8")
    (load,) = (figure for figure in named.figures if figure.unit == "N")
    strength = bolt_loss.fastening_metals()["steel_8_8"].tensile_mpa
    assert load.value == pytest.approx(math.pi / 4 * 11**2 * strength)
    assert any("never one it may be given" in caution for caution in named.cautions)


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: of_probe(130, 60, 120, "outboard"), "deeper than the timber"),
        (lambda: of_probe(10, 60, 120, "upside"), "no face named"),
        (lambda: of_probe(math.nan, 60, 120, "outboard"), "must be a number"),
        (lambda: of_bolt(17, 16), "cannot have wasted"),
        (lambda: of_bolt(9, 16, "unobtainium"), "no metal in the tables"),
        (lambda: of_bolt(9, 16, "", "M1000"), "no thread in the tables"),
        (lambda: of_moisture(44, None, None), "measures nothing"),
        (lambda: of_moisture(15, None, 90), "°C"),
        (lambda: of_ph(15, None, False), "between 0 and 14"),
    ],
)
def test_what_cannot_be_is_refused_with_a_sentence(make, said):
    with pytest.raises(ValueError, match=said):
        make()


def test_every_meaning_carries_its_caution():
    assert section_loss.CAUTION in of_probe(10, 60, 120, "outboard").cautions
    assert bolt_loss.CAUTION in of_bolt(9, 16).cautions
    assert meter.SALT_CAUTION in of_moisture(15, "teak", 20).cautions
    assert ph.CAUTION in of_ph(5, None, True).cautions


@pytest.mark.parametrize(
    ("figure", "said"),
    [
        (Figure("area", 645.16, "mm²"), "1.00 in²"),
        (Figure("area", 71.2, "mm²"), "0.110 in²"),
        (Figure("modulus", 116_681, "mm³"), "7.12 in³"),
        (Figure("load", 30_324.7, "N"), "6,817 lbf"),
        (Figure("area", 0, "mm²"), "0 in²"),
        (Figure("tension", 36, "%"), ""),
    ],
)
def test_figures_are_said_in_inches_to_three_places(figure, said):
    assert figure.in_inches == said


@settings(max_examples=60)
@given(
    sided=st.floats(20, 300), moulded=st.floats(20, 300), share=st.floats(0.01, 0.95),
    face=st.sampled_from(list(section_loss.FACES)),
)  # fmt: skip
def test_a_drill_that_is_soft_from_the_face_and_right_across_says_what_a_probe_says(
    sided, moulded, share, face
):
    wide = section_loss.face_width(sided, moulded, face)
    depth = share * (sided if wide == moulded else moulded)
    drilled, probed = (
        of_drill(0, depth, wide, sided, moulded, face), of_probe(depth, sided, moulded, face)
    )  # fmt: skip
    assert [f.value for f in drilled.figures] == pytest.approx([f.value for f in probed.figures])
    assert drilled.cautions[0] != probed.cautions[0]


def test_soft_wood_inside_is_cut_out_as_a_hole():
    """A heart of 24 x 60 out of 70 x 120: (b d**3 - b1 d1**3) / 6 d, as tables print it."""
    meaning = of_drill(30, 90, 24, 70, 120, "outboard")
    area, moulded, _ = meaning.figures
    assert area.value == pytest.approx(70 * 120 - 24 * 60)
    assert moulded.value == pytest.approx((70 * 120**3 - 24 * 60**3) / (6 * 120))
    assert PARTED not in meaning.cautions


def test_a_seam_right_through_parts_the_timber_and_says_so():
    meaning = of_drill(30, 50, 70, 70, 120, "inboard")
    assert PARTED in meaning.cautions
    assert meaning.figures[1].value == pytest.approx(70 * 70**2 / 6)


@pytest.mark.parametrize(
    ("from_mm", "to_mm", "width", "said"),
    [
        (30, 121, 20, "deeper than the timber"),
        (40, 40, 20, "has no thickness"),
        (50, 40, 20, "has no thickness"),
        (10, 40, 0, "must be more than 0"),
        (-1, 40, 20, "cannot be below 0"),
        (10, math.nan, 20, "must be a number"),
    ],
)
def test_a_drilling_that_cannot_be_is_refused_with_a_sentence(from_mm, to_mm, width, said):
    with pytest.raises(ValueError, match=said):
        of_drill(from_mm, to_mm, width, 70, 120, "top")
