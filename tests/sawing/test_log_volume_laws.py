"""What must hold of any log's volume, and the refusals."""

import csv
import math
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from timber_stock.measure import mm_from_inches
from timber_stock.sawing import log_volume as lv

CELLS_CSV = Path(__file__).parents[2] / "fixtures" / "published" / "log_rules_check.csv"
FOOT_MM = mm_from_inches(12)

DIAMETER = st.floats(1.0, 2500.0)
LENGTH = st.floats(100.0, 20_000.0)
SCALED_LENGTH = st.floats(2 * FOOT_MM, 20 * FOOT_MM)
SMALL_END = st.floats(mm_from_inches(6), mm_from_inches(40))


def end(diameter_mm: float) -> float:
    return lv.ellipse_area_mm2(diameter_mm, diameter_mm)


def no_less(large: float, small: float) -> bool:
    return large >= small * (1 - 1e-12)


@given(DIAMETER, DIAMETER, LENGTH)
def test_for_an_even_taper_smalian_is_most_then_cone_then_huber(one, other, length):
    cone = lv.cone_frustum_mm3(end(one), end(other), length)
    assert no_less(lv.smalian_mm3(end(one), end(other), length), cone)
    assert no_less(cone, lv.huber_mm3(end((one + other) / 2), length))
    assert no_less(cone, lv.neiloid_frustum_mm3(end(one), end(other), length))


@given(DIAMETER, DIAMETER, LENGTH)
def test_smalian_is_over_the_cone_by_twice_what_huber_is_under(one, other, length):
    cone = lv.cone_frustum_mm3(end(one), end(other), length)
    over = lv.smalian_mm3(end(one), end(other), length) - cone
    under = cone - lv.huber_mm3(end((one + other) / 2), length)
    assert over == pytest.approx(2 * under, abs=cone * 1e-9)
    assert over == pytest.approx(math.pi * length * (one - other) ** 2 / 24, abs=cone * 1e-9)


@given(DIAMETER, DIAMETER, LENGTH)
def test_newton_is_exact_for_cone_paraboloid_and_neiloid(one, other, length):
    small, large = end(one), end(other)
    cone_middle = end((one + other) / 2)
    neiloid_middle = ((math.cbrt(small) + math.cbrt(large)) / 2) ** 3
    paraboloid_middle = (small + large) / 2
    for middle, exact in (
        (cone_middle, lv.cone_frustum_mm3(small, large, length)),
        (neiloid_middle, lv.neiloid_frustum_mm3(small, large, length)),
        (paraboloid_middle, lv.smalian_mm3(small, large, length)),
        (paraboloid_middle, lv.huber_mm3(paraboloid_middle, length)),
    ):
        assert lv.newton_mm3(small, middle, large, length) == pytest.approx(exact)


@given(DIAMETER, DIAMETER, LENGTH)
def test_an_oval_cylinder_has_one_volume_by_every_formula(one, other, length):
    area = lv.ellipse_area_mm2(one, other)
    volumes = (
        lv.smalian_mm3(area, area, length),
        lv.huber_mm3(area, length),
        lv.newton_mm3(area, area, area, length),
        lv.cone_frustum_mm3(area, area, length),
        lv.neiloid_frustum_mm3(area, area, length),
    )
    assert volumes == pytest.approx([math.pi / 4 * one * other * length] * 5)


@given(DIAMETER, DIAMETER, st.floats(0.0, 1.0), LENGTH)
def test_a_cone_sawn_across_holds_what_it_held_whole(one, other, part, length):
    cut = end(one + (other - one) * part)
    whole = lv.cone_frustum_mm3(end(one), end(other), length)
    pieces = lv.cone_frustum_mm3(end(one), cut, length * part)
    pieces += lv.cone_frustum_mm3(cut, end(other), length * (1 - part))
    assert pieces == pytest.approx(whole)


BOARD_FOOT_RULES = [
    lv.doyle_bf,
    lv.scribner_bf,
    lv.international_eighth_inch_bf,
    lv.international_quarter_inch_bf,
]


@pytest.mark.parametrize("rule", BOARD_FOOT_RULES)
@given(small=SMALL_END, more=st.floats(0.1, 300.0), length=SCALED_LENGTH)
def test_a_thicker_log_scales_more_and_never_all_of_its_wood(rule, small, more, length):
    scaled = rule(small, length)
    assert rule(small + more, length) > scaled > 0
    if rule is not lv.doyle_bf:  # Doyle overscales large logs, past the cylinder of their top.
        butt = end(small + mm_from_inches(0.125) * length / FOOT_MM)
        assert scaled < lv.smalian_mm3(end(small), butt, length) / mm_from_inches(12) ** 3 * 12


@pytest.mark.parametrize("rule", [*BOARD_FOOT_RULES, lv.scribner_decimal_c_bf])
@given(small=st.floats(mm_from_inches(13), mm_from_inches(37)), length=SCALED_LENGTH)
def test_a_shorter_log_never_scales_more(rule, small, length):
    assert rule(small, length * 0.7) <= rule(small, length)


def test_decimal_c_rises_from_row_to_row_and_drops_an_exact_half_inch():
    assert len(lv.DECIMAL_C_BF_PER_FT) == 37 - 12 + 1
    assert all(thinner < thicker for thinner, thicker in pairwise(lv.DECIMAL_C_BF_PER_FT))
    for inches in range(12, 37):
        whole, half, over = (
            lv.scribner_decimal_c_bf(mm_from_inches(inches + part), 20 * FOOT_MM)
            for part in (0, 0.5, 0.51)
        )
        assert whole == half < over


def reckoned_cells() -> list[tuple[str, float, float, float]]:
    """Rows of the check table reckoned apart from this program, by the rule's formula."""
    with CELLS_CSV.open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.reader(file) if row[6].startswith("computed only")]
    return [(row[0], float(row[1]), float(row[2]), float(row[5])) for row in rows]


def test_the_rules_agree_with_a_separate_reckoning_of_their_formulas():
    rules = {
        "doyle": lv.doyle_bf,
        "scribner_formula": lv.scribner_bf,
        "international_quarter_inch": lv.international_quarter_inch_bf,
    }
    cells = reckoned_cells()
    assert len(cells) == 328
    for rule, inches, feet, reckoned in cells:
        # That reckoning used the kerf factor rounded to 0.905.
        slack = 3e-4 if rule.startswith("international") else 1e-5
        assert rules[rule](mm_from_inches(inches), feet * FOOT_MM) == pytest.approx(
            reckoned, rel=slack, abs=6e-5
        )


def test_a_hoppus_foot_is_a_quarter_girth_squared():
    assert lv.hoppus_feet(mm_from_inches(48), 20 * FOOT_MM) == pytest.approx(20.0)
    assert lv.hoppus_feet(mm_from_inches(96), 16 * FOOT_MM) == pytest.approx(64.0)


def test_halves_are_tabled_upward():
    assert lv.tabled(22.5) == 23.0
    assert lv.tabled(122.5) == 123.0
    assert lv.tabled(97.5, 5) == 100.0
    assert lv.tabled(156.96, 10) == 160.0


@pytest.mark.parametrize(
    ("rule", "inches", "feet", "reason"),
    [
        (lv.doyle_bf, 3.9, 8, "begins at a small end of 4 in"),
        (lv.scribner_bf, 5.9, 8, "begins at a small end of 6 in"),
        (lv.international_quarter_inch_bf, 3.9, 8, "begins at a small end of 4 in"),
        (lv.scribner_decimal_c_bf, 11.5, 8, "12 to 37"),
        (lv.scribner_decimal_c_bf, 37.6, 8, "12 to 37"),
        (lv.doyle_bf, 20, 20.1, "up to 20 ft"),
        (lv.scribner_bf, 20, 20.1, "up to 20 ft"),
        (lv.international_eighth_inch_bf, 20, 20.1, "up to 20 ft"),
        (lv.scribner_decimal_c_bf, 20, 20.1, "up to 20 ft"),
    ],
)
def test_a_rule_is_not_stretched_past_its_table(rule, inches, feet, reason):
    with pytest.raises(ValueError, match=reason):
        rule(mm_from_inches(inches), feet * FOOT_MM)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0])
def test_a_missing_endless_or_negative_measure_is_refused(bad):
    for formula, figures in (
        (lv.ellipse_area_mm2, 2),
        (lv.smalian_mm3, 3),
        (lv.huber_mm3, 2),
        (lv.newton_mm3, 4),
        (lv.cone_frustum_mm3, 3),
        (lv.neiloid_frustum_mm3, 3),
        (lv.hoppus_feet, 2),
        *((rule, 2) for rule in (*BOARD_FOOT_RULES, lv.scribner_decimal_c_bf)),
    ):
        for place in range(figures):
            measures = [400.0] * figures
            measures[place] = bad
            with pytest.raises(ValueError, match="nought or more"):
                formula(*measures)


LOPSIDED = {"top_diameter_mm": 381.0, "butt_diameter_mm": 483.0, "length_mm": 3962.4}


def test_every_named_rule_gives_a_figure_its_unit_and_its_source():
    volumes = {
        name: lv.volume_by_rule(name, **LOPSIDED, middle_diameter_mm=427.0) for name in lv.RULES
    }
    assert volumes == pytest.approx(
        {
            "smalian": lv.smalian_mm3(end(381.0), end(483.0), 3962.4),
            "cone": lv.cone_frustum_mm3(end(381.0), end(483.0), 3962.4),
            "neiloid": lv.neiloid_frustum_mm3(end(381.0), end(483.0), 3962.4),
            "huber": end(427.0) * 3962.4,
            "newton": lv.newton_mm3(end(381.0), end(427.0), end(483.0), 3962.4),
            "doyle": 11**2 * 13 / 16,
            "scribner": (0.79 * 15**2 - 2 * 15 - 4) * 13 / 16,
            "scribner_decimal_c": 120.0,
            "international": lv.international_quarter_inch_bf(381.0, 3962.4),
            "hoppus": lv.hoppus_feet(math.pi * 427.0, 3962.4),
        }
    )
    assert {rule.unit for rule in lv.RULES.values()} == {"mm3", "bd ft", "hoppus ft"}
    assert all(rule.source.endswith(".") for rule in lv.RULES.values())
    assert len({rule.label for rule in lv.RULES.values()}) == len(lv.RULES)


def test_a_rule_that_needs_the_middle_asks_for_it():
    asking = {name for name, rule in lv.RULES.items() if rule.needs_middle}
    assert asking == {"huber", "newton", "hoppus"}
    for name in asking:
        with pytest.raises(ValueError, match="half way along"):
            lv.volume_by_rule(name, **LOPSIDED)
    with pytest.raises(ValueError, match="No log rule is called furlong"):
        lv.volume_by_rule("furlong", **LOPSIDED)
