"""Section moduli of plain shapes, as tables in engineering handbooks print them."""

import math

import pytest

from restoration.calc.section_loss import rectangle, remaining_section, soft_pocket


def moduli(outline, soft=()):
    left = remaining_section(outline, soft).left
    return left.modulus_moulded_mm3, left.modulus_sided_mm3


def test_a_rectangle():
    """b d**2 / 6."""
    assert moduli(rectangle(70, 120)) == pytest.approx((70 * 120**2 / 6, 120 * 70**2 / 6))


def test_a_hollow_rectangle():
    """(b d**3 - b1 d1**3) / 6 d."""
    heart = soft_pocket(70, 120, "outboard", 35, 30, 90, 24)
    assert moduli(rectangle(70, 120), [heart]) == pytest.approx(
        ((70 * 120**3 - 24 * 60**3) / (6 * 120), (120 * 70**3 - 60 * 24**3) / (6 * 70))
    )


def test_a_triangle():
    """b h**2 / 24 at the point; the base is less stressed."""
    outline = ((0.0, 0.0), (90.0, 0.0), (45.0, 60.0))
    assert moduli(outline)[0] == pytest.approx(90 * 60**2 / 24, rel=1e-4)


def test_a_square_on_its_corner():
    """0.1179 a**3, less than the 0.1667 a**3 of the same square lying flat."""
    half = 100 / math.sqrt(2)
    outline = ((half, 0.0), (2 * half, half), (half, 2 * half), (0.0, half))
    assert moduli(outline)[0] == pytest.approx(0.1179 * 100**3, rel=5e-4)


def test_a_round_spar():
    """pi d**3 / 32, the round being drawn with 720 sides."""
    turns = [2 * math.pi * step / 720 for step in range(720)]
    outline = tuple((60 * math.cos(turn), 60 * math.sin(turn)) for turn in turns)
    assert moduli(outline) == pytest.approx((math.pi * 120**3 / 32,) * 2, rel=1e-4)


def test_a_hollow_round_spar():
    """pi (d**4 - d1**4) / 32 d."""
    turns = [2 * math.pi * step / 720 for step in range(720)]
    outer, inner = (
        tuple((r * math.cos(turn), r * math.sin(turn)) for turn in turns) for r in (60, 40)
    )
    assert moduli(outer, [inner])[0] == pytest.approx(
        math.pi * (120**4 - 80**4) / (32 * 120), rel=1e-4
    )
