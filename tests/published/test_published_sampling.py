"""Sampling figures that a source prints, or that a general-purpose statistics library computes."""

import pytest

from restoration.calc import acceptance, proportion
from restoration.calc.sampling import chance_of_at_most, most_defective, sample_size

# "Disease-freedom" tables of veterinary epidemiology, row for a herd of 100, from memory; the
# whole grid as computed by scipy.stats.hypergeom with D = ceil(share x N). The program's
# tolerated number is one less: "fewer than D" is "at most D - 1".
NONE_BAD_95 = {
    20: (19, 19, 19, 16, 12, 10),
    30: (29, 29, 23, 19, 13, 11),
    50: (48, 48, 31, 22, 15, 12),
    60: (57, 47, 38, 23, 16, 12),
    80: (76, 62, 42, 24, 17, 13),
    100: (95, 78, 45, 25, 17, 13),
    150: (117, 95, 46, 26, 17, 13),
    200: (155, 105, 51, 27, 18, 13),
    300: (189, 117, 54, 28, 18, 14),
    500: (225, 129, 56, 28, 19, 14),
    1000: (258, 138, 57, 29, 19, 14),
    2000: (277, 143, 58, 29, 19, 14),
}


@pytest.mark.parametrize("population", NONE_BAD_95)
def test_sample_sizes_with_none_bad(population):
    for percent, expected in zip((1, 2, 5, 10, 15, 20), NONE_BAD_95[population], strict=True):
        fewer_than = -(-percent * population // 100)
        assert sample_size(population, fewer_than - 1, 0.95) == expected, percent


def test_45_of_100_and_none_bad():
    """The entry for 5 % of 100 in the same tables."""
    assert sample_size(100, 4, 0.95) == 45
    assert most_defective(100, 45, 0, 0.95) == 4
    assert most_defective(100, 44, 0, 0.95) == 5


def test_15_of_60_and_none_bad_is_at_most_9():
    """A public worked note on this case; it raises the number until the chance falls to 5 %, and
    so states the same thing as "fewer than 10"."""
    assert most_defective(60, 15, 0, 0.95) == 9
    assert float(chance_of_at_most(60, 9, 15, 0)) == pytest.approx(0.0599, abs=0.00005)
    assert float(chance_of_at_most(60, 10, 15, 0)) == pytest.approx(0.0423, abs=0.00005)


@pytest.mark.parametrize(
    ("population", "drawn", "defective", "most", "endless"),
    [
        (40, 8, 0, 11, 0.312),
        (40, 8, 1, 17, 0.471),
        (60, 15, 0, 9, 0.181),
        (100, 20, 0, 12, 0.139),
        (100, 20, 1, 19, 0.216),
        (100, 20, 2, 26, 0.283),
        (100, 30, 0, 8, 0.095),
        (100, 45, 0, 4, 0.064),
        (200, 30, 0, 17, 0.095),
        (200, 30, 1, 28, 0.149),
        (500, 50, 0, 27, 0.058),
        (500, 50, 2, 58, 0.121),
    ],
)
def test_upper_bounds_at_95_percent(population, drawn, defective, most, endless):
    """Computed with scipy.stats: hypergeom for the counts, beta.ppf for the binomial bound."""
    assert most_defective(population, drawn, defective, 0.95) == most
    assert proportion.upper_bound(drawn, defective, 0.95) == pytest.approx(endless, abs=0.0005)


def test_the_handbook_interval_for_4_of_20():
    """NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.4.1: 90 % two-sided limits
    0.0714 and 0.4010 (recalled; scipy.stats.beta.ppf gives 0.071354 and 0.401028)."""
    low, high = proportion.two_sided_bounds(20, 4, 0.90)
    assert low == pytest.approx(0.071354, abs=5e-7)
    assert high == pytest.approx(0.401028, abs=5e-7)


@pytest.mark.parametrize(
    ("drawn", "defective", "low", "high", "one_sided"),
    [
        (10, 0, 0.0, 0.3085, 0.2589),
        (20, 0, 0.0, 0.1684, 0.1391),
        (20, 1, 0.0013, 0.2487, 0.2161),
        (20, 4, 0.0573, 0.4366, 0.4010),
        (30, 0, 0.0, 0.1157, 0.0950),
        (30, 2, 0.0082, 0.2207, 0.1953),
        (50, 0, 0.0, 0.0711, 0.0582),
        (100, 0, 0.0, 0.0362, 0.0295),
        (100, 3, 0.0062, 0.0852, 0.0757),
    ],
)
def test_clopper_pearson_intervals(drawn, defective, low, high, one_sided):
    """Computed with scipy.stats.beta.ppf."""
    bounds = proportion.two_sided_bounds(drawn, defective, 0.95)
    assert bounds == pytest.approx((low, high), abs=0.00005)
    assert proportion.upper_bound(drawn, defective, 0.95) == pytest.approx(one_sided, abs=0.00005)


@pytest.mark.parametrize(
    ("drawn", "accept", "percent_bad", "finite", "endless"),
    [(20, 2, 5, 0.9468, 0.9245), (15, 1, 5, 0.8391, None), (15, 1, 8, 0.6565, None)],
)
def test_a_textbook_exercise_in_acceptance(drawn, accept, percent_bad, finite, endless):
    """Textbook exercise on a lot of 100; answers computed with scipy.stats."""
    chance = chance_of_at_most(100, percent_bad, drawn, accept)
    assert float(chance) == pytest.approx(finite, abs=0.00005)
    if endless:
        chance = proportion.chance_of_at_most(drawn, accept, percent_bad / 100)
        assert chance == pytest.approx(endless, abs=0.00005)


def test_the_standards_plan_for_a_lot_of_51_to_90():
    """MIL-STD-105E, tables I and II-A, level II, normal: quality level 1.0, 13 drawn, none bad."""
    for lot in (51, 90):
        found = acceptance.plan(lot, 1.0)
        assert (found.letter, found.sample, found.accept) == ("E", 13, 0)


@pytest.mark.parametrize(
    ("letter", "lot", "level", "sample", "accept", "passes", "at_95", "at_10"),
    [
        ("D", 40, 1.5, 8, 0, 0.886, 0.64, 25.0),
        ("E", 70, 1.0, 13, 0, 0.878, 0.39, 16.2),
        ("E", 70, 4.0, 13, 1, 0.907, 2.81, 26.8),
        ("F", 120, 0.65, 20, 0, 0.878, 0.26, 10.9),
        ("F", 120, 2.5, 20, 1, 0.912, 1.81, 18.1),
        ("F", 120, 4.0, 20, 2, 0.956, 4.22, 24.5),
        ("G", 200, 1.5, 32, 1, 0.917, 1.12, 11.6),
        ("G", 200, 4.0, 32, 3, 0.962, 4.38, 19.7),
        ("H", 400, 1.0, 50, 1, 0.911, 0.72, 7.6),
        ("H", 400, 4.0, 50, 5, 0.986, 5.36, 17.8),
    ],
)
def test_what_a_plan_lets_through(letter, lot, level, sample, accept, passes, at_95, at_10):
    """Plans from MIL-STD-105E; chances computed with scipy.stats.binom. The last column rounds to
    the standard's table of limiting quality as remembered (25, 16, 27, 11, 18 ...)."""
    found = acceptance.plan(lot, level)
    assert (found.letter, found.sample, found.accept) == (letter, sample, accept)
    assert acceptance.chance_of_passing(found, level) == pytest.approx(passes, abs=0.0005)
    assert acceptance.percent_bad_passed(found, 0.95) == pytest.approx(at_95, abs=0.005)
    assert acceptance.percent_bad_passed(found, 0.10) == pytest.approx(at_10, abs=0.05)
