"""One figure held against one published rule, with the rule's source and standing."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Rule:
    """A limit as published.

    comparison: "at least", "at most" or "equal to". unit: "mm", or what is
    counted ("frame spaces"). standing: how the rule is known, and for what it was written.
    """

    text: str
    comparison: str
    limit: float
    unit: str
    source: str
    standing: str


@dataclass(frozen=True)
class RuleCheck:
    """What was found against a rule. kept is None where sources differ on the answer."""

    rule: Rule
    about: str
    found: float
    kept: bool | None


@dataclass(frozen=True)
class Conflict:
    """Two sources that do not agree, and which of them the checks go by."""

    topic: str
    one: str
    other: str
    used: str


def check(rule: Rule, about: str, found: float) -> RuleCheck:
    """Hold a figure against a rule; a figure at the limit keeps it."""
    kept = {
        "at least": found >= rule.limit - _TOLERANCE,
        "at most": found <= rule.limit + _TOLERANCE,
        "equal to": abs(found - rule.limit) <= _TOLERANCE,
    }[rule.comparison]
    return RuleCheck(rule, about, found, kept)


_TOLERANCE = 1e-6
"""A length that was typed in inches may miss the same length in mm by a rounding."""


def broken(checks: tuple[RuleCheck, ...]) -> tuple[RuleCheck, ...]:
    """Those that are not kept; those on which sources differ are not among them."""
    return tuple(each for each in checks if each.kept is False)
