"""Least log diameters by geometry alone, derived: the far corners of a timber lie at
sqrt((a/2)^2 + (b + c)^2) from a pith in the middle. Inches, worked by hand and checked."""

import pytest

from timber_stock.sawing.log_wanted import clear_of_heart_mm, four_about_heart_mm

INCH = 25.4


@pytest.mark.parametrize(
    ("a", "b", "by_clearance"),
    [
        (8, 8, {0: 17.89, 1: 19.70, 1.5: 20.62}),
        (10, 10, {0: 22.36, 1: 24.17, 1.5: 25.08}),
        (12, 12, {0: 26.83, 1: 28.64, 1.5: 29.55}),
        (12, 8, {0: 20.00, 1: 21.63, 1.5: 22.47}),
        (8, 12, {0: 25.30, 1: 27.20, 1.5: 28.16}),
    ],
)
def test_least_diameter_of_a_timber_clear_of_a_centred_heart(a, b, by_clearance):
    for c, diameter in by_clearance.items():
        found = clear_of_heart_mm(a * INCH, b * INCH, c * INCH) / INCH
        assert found == pytest.approx(diameter, abs=0.005)


def test_an_offset_heart_lets_a_smaller_log_serve():
    found = [clear_of_heart_mm(254, 254, 25.4, e * INCH) / INCH for e in range(5)]
    assert found == pytest.approx([24.17, 22.36, 20.59, 18.87, 17.20], abs=0.006)


def test_at_the_best_offset_the_log_is_that_of_a_boxed_heart():
    boxed = {(8, 8): 11.31, (10, 10): 14.14, (12, 12): 16.97, (12, 8): 14.42}
    for (a, b), diameter in boxed.items():
        best = clear_of_heart_mm(a * INCH, b * INCH, INCH, (1 + b / 2) * INCH)
        assert best / INCH == pytest.approx(diameter, abs=0.005)
        more = clear_of_heart_mm(a * INCH, b * INCH, INCH, (3 + b / 2) * INCH)
        assert more == best


def test_four_timbers_about_the_heart():
    for a, b, c, diameter in [(8, 8, 0, 22.63), (10, 10, 1, 31.11), (12, 8, 1, 31.62)]:
        found = four_about_heart_mm(a * INCH, b * INCH, c * INCH) / INCH
        assert found == pytest.approx(diameter, abs=0.005)
