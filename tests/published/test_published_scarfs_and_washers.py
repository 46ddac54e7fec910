"""Scarf slopes, washers and keel-bolt conditions as their sources print them."""

import pytest

from restoration.calc.keel_bolts import LEAST_DIAMETER_MM, conditions, two_for_one_mm
from restoration.calc.scarf import scarf_checks, scarf_rules
from restoration.calc.washers import washer_rules
from timber_stock.measure import MM_PER_INCH

SLOPES = [
    # Tredgold's rules for scarfs, in Notes on Building Construction: depths without bolts, with
    # bolts, with bolts and indents.
    ("hardwood", "plain", 6), ("hardwood", "bolted", 3), ("hardwood", "bolted and indented", 2),
    ("fir", "plain", 12), ("fir", "bolted", 6), ("fir", "bolted and indented", 4),
    # Fiji shipping legislation, section 5.7: keel and hog, five times the moulded depth.
    ("hog", "bolted", 5),
    # Scarf dimensions, a small-craft designer: 12 to 1 for spars.
    ("spar", "glued", 12),
]  # fmt: skip


@pytest.mark.parametrize(("use", "fastened", "ratio"), SLOPES)
def test_scarf_slopes_as_published(use, fastened, ratio):
    assert ratio in {r.least_ratio for r in scarf_rules(use) if r.fastened == fastened}


def test_a_keel_scarf_of_five_depths_meets_one_rule_and_not_the_other():
    """Fiji law 5 : 1; old Lloyd's yacht rules, second-hand, 6 : 1."""
    checks = {each.rule.least_ratio: each for each in scarf_checks(1125, 225, "keel")}
    assert checks[5].is_met
    assert not checks[6].is_met
    assert checks[6].short_mm == pytest.approx(225)
    assert checks[5].rule.source.known == "read"
    assert checks[6].rule.source.known == "read second-hand"


def test_plate_washers_of_keel_bolts():
    """Lloyd's Register, Special Service Craft 2022, Pt 4 Ch 3 s 6.3: 4 x and 0.25 x the bolt,
    thickness need not pass 8 mm."""
    small, large = washer_rules(20)[0], washer_rules(40)[0]
    assert (small.diameter_mm, small.thickness_mm) == (80, 5)
    assert (large.diameter_mm, large.thickness_mm) == (160, 8)


def test_a_keel_bolt_is_never_under_14_mm():
    """The same section, and 1.2 times the area for two bolts in place of one."""
    assert LEAST_DIAMETER_MM == 14
    assert conditions(14, None, None, ())[0].met is True
    half_inch = conditions(MM_PER_INCH / 2, None, None, ())[0]
    assert half_inch.met is False
    assert 2 * two_for_one_mm(20) ** 2 == pytest.approx(1.2 * 20**2)
