"""The group action factor of the NDS against its own printed table, both from memory.

National Design Specification for Wood Construction, group action factors for bolted connections
with wood side members: worked there for bolts of 1 in, 4 in apart, and a modulus of elasticity of
1,400,000 psi. Rows by the ratio of the areas and the area of the side members in square inches; of
2 to 12 fastenings. The table gives hundredths; the equation must give every one of them.
"""

import pytest

from restoration.calc.dowel_bearing import MPA_PER_PSI
from restoration.calc.group_action import group_action_factor
from timber_stock.measure import MM_PER_INCH

TABLE = {
    (0.5, 5): "0.98 0.92 0.84 0.75 0.68 0.61 0.55 0.50 0.45 0.41 0.38",
    (0.5, 12): "0.99 0.96 0.92 0.87 0.81 0.76 0.70 0.65 0.61 0.57 0.53",
    (0.5, 20): "0.99 0.98 0.95 0.91 0.87 0.83 0.78 0.74 0.70 0.66 0.62",
    (0.5, 28): "1.00 0.98 0.96 0.93 0.90 0.87 0.83 0.79 0.76 0.72 0.69",
    (0.5, 40): "1.00 0.99 0.97 0.95 0.93 0.90 0.87 0.84 0.81 0.78 0.75",
    (0.5, 64): "1.00 0.99 0.98 0.97 0.95 0.93 0.91 0.89 0.87 0.84 0.82",
    (1.0, 5): "1.00 0.97 0.91 0.85 0.78 0.71 0.64 0.59 0.54 0.49 0.45",
}


@pytest.mark.parametrize(("ratio", "area"), TABLE)
def test_the_printed_factors_to_the_hundredth(ratio, area):
    stiff = 1_400_000 * MPA_PER_PSI * MM_PER_INCH**2
    found = [
        group_action_factor(n, 4 * MM_PER_INCH, MM_PER_INCH, stiff * area / ratio, stiff * area)
        for n in range(2, 13)
    ]
    assert found == pytest.approx([float(word) for word in TABLE[ratio, area].split()], abs=0.0051)
