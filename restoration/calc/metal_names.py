"""From the metal a yard writes down to the metal of the galvanic tables, where that is plain.

Only words that say which metal it is are taken: a "bronze" alone may be any of five and is left
open. The first rule that fits holds; the rules and what a bare "iron" or "steel" is taken for are
our own choice.
"""

import re

_RULES = (
    (r"galvani[sz]ed|hot.dip", "galvanised_steel"),
    (r"\b(30[24]l?|a2)\b", "stainless_304_passive"),
    (r"stainless|\b(316l?|a4)\b", "stainless_316_passive"),
    (r"silicon.bronze", "silicon_bronze"),
    (r"manganese.bronze", "manganese_bronze"),
    (r"nickel.alumin(iu|u)m.bronze", "nickel_aluminium_bronze"),
    (r"alumin(iu|u)m.bronze", "aluminium_bronze"),
    (r"(tin|phosphor).bronze|gun.?metal", "tin_bronze"),
    (r"\bbronze", ""),
    (r"\bbrass", "brass"),
    (r"nickel.copper", "nickel_copper"),
    (r"copper.nickel.*70.30|70.30.*copper.nickel", "copper_nickel_70_30"),
    (r"copper.nickel.*90.10|90.10.*copper.nickel", "copper_nickel_90_10"),
    (r"copper.nickel", ""),
    (r"\bcopper", "copper"),
    (r"wrought.iron", "wrought_iron"),
    (r"cast.iron", "cast_iron"),
    (r"\b(iron|steel)\b", "mild_steel"),
    (r"\blead\b", "lead"),
    (r"\bzinc\b", "zinc"),
    (r"\balumin(iu|u)m\b", "aluminium"),
    (r"\bcadmium", "cadmium"),
    (r"\btitanium\b", "titanium"),
    (r"\bmagnesium\b", "magnesium"),
    (r"\b(graphite|carbon fibre)\b", "graphite"),
)
_IRONS = frozenset({"wrought_iron", "cast_iron", "mild_steel", "galvanised_steel"})
_HIGH_ZINC = frozenset({"brass", "manganese_bronze"})


def metal_named(words: str) -> str:
    """The code in `galvanic.metals` of the metal that the words name, "" where they leave it open.

    Of several metals named, the one whose rule stands first is taken.
    """
    plain = words.casefold()
    return next((code for rule, code in _RULES if re.search(rule, plain)), "")


def signs_of_metals(metals: set[str]) -> set[str]:
    """The signs of the evidence table that the metals found in a member tick by themselves."""
    found = set()
    if metals & _IRONS:
        found.add("iron_fastening")
    if metals & _HIGH_ZINC:
        found.add("brass_present")
    if any(metal.startswith("stainless") for metal in metals):
        found.add("stainless_present")
    return found
