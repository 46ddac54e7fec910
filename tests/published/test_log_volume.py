"""Log volumes against what the sources print, cell by cell.

`fixtures/published/log_rules_check.csv` names the source of each row beside it. A row whose
basis begins with READ was read in that source; the others were reckoned from the formula and
are checked with the laws of log volume, not here.
"""

import csv
import math
from pathlib import Path

import pytest

from timber_stock.measure import mm_from_inches
from timber_stock.sawing import log_volume as lv

CELLS_CSV = Path(__file__).parents[2] / "fixtures" / "published" / "log_rules_check.csv"
MM_PER_FOOT = mm_from_inches(12)
MM3_PER_CUBIC_FOOT = MM_PER_FOOT**3


def cells_read(rule: str) -> list[tuple[str, str, float]]:
    with CELLS_CSV.open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))[1:]
    return [
        (diameter, length, float(value))
        for name, diameter, length, value, _unit, _exact, basis, _source in rows
        if name == rule and basis.startswith("READ")
    ]


def board_feet(rule, diameter: str, length: str) -> float:
    return rule(mm_from_inches(float(diameter)), float(length) * MM_PER_FOOT)


def round_end(diameter_mm: float) -> float:
    return lv.ellipse_area_mm2(diameter_mm, diameter_mm)


def test_every_kind_of_cell_that_was_read_is_here():
    counts = {
        rule: len(cells_read(rule))
        for rule in ("doyle", "scribner_table", "scribner_decimal_c", "international_quarter_inch")
    }
    assert counts == {
        "doyle": 105,
        "scribner_table": 63,
        "scribner_decimal_c": 4,
        "international_quarter_inch": 2,
    }


@pytest.mark.parametrize(("diameter", "length", "printed"), cells_read("doyle"))
def test_doyle_gives_the_published_table_rounded_half_up(diameter, length, printed):
    # A published Doyle table of a hardwood log buyer, even diameters 8-36 in, 8-20 ft.
    assert lv.tabled(board_feet(lv.doyle_bf, diameter, length)) == printed


def test_scribner_formula_gives_59_of_the_63_published_cells_and_the_rest_within_one():
    # Clemson Extension, guide on small timber volumes, table 1 (Scribner).
    off = {
        (diameter, length): lv.tabled(board_feet(lv.scribner_bf, diameter, length)) - printed
        for diameter, length, printed in cells_read("scribner_table")
    }
    assert {cell: by for cell, by in off.items() if by} == {
        ("7", "8"): -1,
        ("14", "8"): -1,
        ("11", "10"): -1,
        ("17", "10"): 1,
    }


@pytest.mark.parametrize(("diameter", "length", "printed"), cells_read("scribner_decimal_c"))
def test_decimal_c_gives_the_published_cells_within_its_table(diameter, length, printed):
    # Farm and Garden Rule-Book (6 x 8 and 30 x 16); a Virginia extension table (12 and 16 x 16).
    if float(diameter) < 12:
        with pytest.raises(ValueError, match="12 to 37"):
            board_feet(lv.scribner_decimal_c_bf, diameter, length)
    else:
        assert board_feet(lv.scribner_decimal_c_bf, diameter, length) == printed


def test_decimal_c_works_from_the_factors_as_listed():
    # The agency's list of board feet to the foot, 12-37 in, in a public copy.
    listed = """
        4.900 6.043 7.140 8.880 10.000 11.528 13.290 14.990 17.499 18.990 20.880 23.510 25.218
        28.677 31.249 34.220 36.376 38.040 41.060 44.376 45.975 48.990 50.000 54.688 57.660 64.319
    """
    assert list(lv.DECIMAL_C_BF_PER_FT) == [float(factor) for factor in listed.split()]


@pytest.mark.parametrize(
    ("diameter", "length", "printed"), cells_read("international_quarter_inch")
)
def test_international_quarter_inch_gives_the_published_cells_to_the_nearest_5(
    diameter, length, printed
):
    # A comparison of three rules from a Virginia extension table.
    assert lv.tabled(board_feet(lv.international_quarter_inch_bf, diameter, length), 5) == printed


@pytest.mark.parametrize(("diameter", "length", "printed"), cells_read("international_eighth_inch"))
def test_international_eighth_inch_gives_the_published_figures(diameter, length, printed):
    # University teaching page on the International rule (headed 1/4 in, printing the 1/8 in rule).
    assert board_feet(lv.international_eighth_inch_bf, diameter, length) == pytest.approx(printed)


@pytest.mark.parametrize(
    ("length_ft", "square", "plain", "constant"),
    [
        (4, 0.22, 0.71, 0),
        (8, 0.44, 1.20, 0.30),
        (12, 0.66, 1.47, 0.79),
        (16, 0.88, 1.52, 1.36),
        (20, 1.10, 1.35, 1.90),
    ],
)
@pytest.mark.parametrize("inches", [5, 9.5, 13, 28, 41])
def test_the_sum_of_sections_is_the_published_whole_log_formula(
    length_ft, square, plain, constant, inches
):
    # Whole-log formulas of the 1/8 in rule, as a university teaching page prints them.
    printed = square * inches**2 - plain * inches - constant
    summed = board_feet(lv.international_eighth_inch_bf, str(inches), str(length_ft))
    assert summed == pytest.approx(printed)


def test_three_rules_at_once_give_the_published_comparison():
    # Comparison of a 16 ft log by International, Scribner Decimal C and Doyle, Virginia extension.
    def scaled(inches):
        quarter = lv.tabled(board_feet(lv.international_quarter_inch_bf, inches, "16"), 5)
        decimal_c = board_feet(lv.scribner_decimal_c_bf, inches, "16")
        return quarter, decimal_c, lv.tabled(board_feet(lv.doyle_bf, inches, "16"))

    assert scaled("12") == (95, 80, 64)
    assert scaled("16") == (180, 160, 144)


@pytest.mark.parametrize(
    ("formula", "cubic_feet", "cubic_metres"),
    [
        (lv.smalian_mm3, 10.647, 0.287848),
        (lv.cone_frustum_mm3, 10.588, 0.286801),
        # Printed 10.568, the figure cut off after three decimals.
        (lv.neiloid_frustum_mm3, 10.5685, 0.286452),
    ],
)
def test_true_volumes_are_those_of_the_teaching_page(formula, cubic_feet, cubic_metres):
    # University teaching page on cubic log volume: 10 and 12 in x 16 ft; 25 and 29 cm x 5 m.
    small, large = (round_end(mm_from_inches(inches)) for inches in (10, 12))
    volume_ft3 = formula(small, large, 16 * MM_PER_FOOT) / MM3_PER_CUBIC_FOOT
    assert volume_ft3 == pytest.approx(cubic_feet, abs=0.00051)
    volume_m3 = formula(round_end(250.0), round_end(290.0), 5000.0) / 1e9
    assert volume_m3 == pytest.approx(cubic_metres, abs=5.1e-7)


def test_hoppus_conversions_are_those_published():
    # Encyclopaedia and woodland pages: 1 hoppus foot = 1.2732 cubic feet = 0.036054 m3.
    girth_mm, length_mm = 1234.0, 5678.0
    hoppus = lv.hoppus_feet(girth_mm, length_mm)
    true_mm3 = lv.huber_mm3(round_end(girth_mm / math.pi), length_mm)
    assert true_mm3 / MM3_PER_CUBIC_FOOT / hoppus == pytest.approx(1.2732, abs=5e-5)
    assert true_mm3 / 1e9 / hoppus == pytest.approx(0.036054, abs=5e-7)


def test_the_quarter_inch_factor_is_what_its_kerf_comes_to():
    # Michigan Compiled Laws 290.401 and Massachusetts General Laws ch. 96 s. 11A print 0.904762.
    assert pytest.approx((1 + 1 / 16 + 1 / 8) / (1 + 1 / 16 + 1 / 4), abs=5e-7) == 0.904762
    assert lv.QUARTER_INCH_KERF == 0.904762
