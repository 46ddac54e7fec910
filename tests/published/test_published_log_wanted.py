"""The least log for a timber free of heart, against figures worked out apart, in inches.

They are computed from the geometry of the section (the far corners of the timber touch the bark),
not printed by a publisher; they were worked to two decimals independently of this code.
"""

import pytest

from timber_stock.sawing.log_wanted import beside_heart_mm, boxed_heart_mm

INCH = 25.4
# along the face, away from it: boxed heart, then clear of the heart by 0, 1 and 1 1/2 in.
WORKED = [
    (8, 8, 11.31, (17.89, 19.70, 20.62)),
    (10, 10, 14.14, (22.36, 24.17, 25.08)),
    (12, 12, 16.97, (26.83, 28.64, 29.55)),
    (12, 8, 14.42, (20.00, 21.63, 22.47)),
    (8, 12, 14.42, (25.30, 27.20, 28.16)),
]


@pytest.mark.parametrize(("along", "deep", "boxed", "clear"), WORKED)
def test_the_closed_form_gives_the_worked_diameters(along, deep, boxed, clear):
    assert boxed_heart_mm(along * INCH, deep * INCH) / INCH == pytest.approx(boxed, abs=0.005)
    found = [beside_heart_mm(along * INCH, deep * INCH, c * INCH) / INCH for c in (0, 1, 1.5)]
    assert found == pytest.approx(clear, abs=0.0051)


# A timber 10 x 10 in, 1 in clear, the heart 0 to 4 in off the middle.
@pytest.mark.parametrize(
    ("offset", "diameter"), [(0, 24.17), (1, 22.36), (2, 20.59), (3, 18.87), (4, 17.20)]
)
def test_a_heart_off_the_middle_lets_the_log_be_smaller(offset, diameter):
    found = beside_heart_mm(10 * INCH, 10 * INCH, 1 * INCH, offset * INCH) / INCH
    assert found == pytest.approx(diameter, abs=0.005)
