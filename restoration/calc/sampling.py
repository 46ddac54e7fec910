"""How many fastenings to draw, and what the ones drawn say about the ones left in.

The group is finite (so many screws in the underwater planking), the sample is drawn without
putting any back, so the count of bad ones in it follows the hypergeometric distribution. All
sums are done in whole numbers and fractions: no answer hangs on rounding.

Method: exact one-sided upper confidence bound of the hypergeometric distribution, textbook
statistics; the procedure of raising the number of bad ones until the sample would be too
unlikely is described in a Sandia National Laboratories report on sampling a finite stockpile.
"""

import math
from dataclasses import dataclass
from fractions import Fraction

from restoration.calc.checks import whole_number

LARGEST_POPULATION = 100_000
"""More fastenings than any wooden hull holds; keeps the whole-number sums quick."""

CAUTION = (
    "A count does not replace judgement. The figure holds only if the fastenings were chosen by "
    "lot from one group of the same metal, age and place, and if a bad one is always seen to be "
    "bad. Hidden joints must be in the group. Where people's safety hangs on it, a surveyor "
    "decides what to draw and what follows."
)

ZONES = ("underwater", "wind-and-water", "stem", "stern")
"""Zones from which planking fastenings are drawn at random at each docking. Source: US Army
TB 55-1900-201-45/1, marine condition survey, paragraph 2-8 (which gives no number to draw)."""


def _confidence(confidence: float | Fraction) -> Fraction:
    """The confidence as the decimal that was typed: 0.95 is 19/20, not the nearest binary."""
    try:
        fraction = Fraction(str(confidence))
    except (ValueError, ZeroDivisionError):
        raise ValueError(f"The confidence must be a number; {confidence!r} is not.") from None
    if not 0 < fraction < 1:
        raise ValueError(
            f"The confidence is a fraction between 0 and 1 (0.95 for 95 %); {confidence} is not."
        )
    return fraction


def _population(population: int) -> int:
    count = whole_number(population, "number of fastenings in the group")
    if not 1 <= count <= LARGEST_POPULATION:
        raise ValueError(
            f"The group must hold from 1 to {LARGEST_POPULATION} fastenings; {count} is outside."
        )
    return count


def _sample(population: int, drawn: int, defective: int) -> tuple[int, int]:
    drawn = whole_number(drawn, "number drawn")
    defective = whole_number(defective, "number found bad")
    if not 0 <= drawn <= population:
        raise ValueError(f"{drawn} cannot be drawn from a group of {population}.")
    if not 0 <= defective <= drawn:
        raise ValueError(f"{defective} bad ones cannot be among {drawn} drawn.")
    return drawn, defective


def _ways(population: int, bad: int, drawn: int, at_most: int) -> int:
    """In how many ways a sample of `drawn` holds no more than `at_most` of the `bad` ones.

    Each term follows from the one before by one multiplication and one exact division.
    """
    sound = population - bad
    first = max(0, drawn - sound)
    term = math.comb(bad, first) * math.comb(sound, drawn - first)
    total = 0
    for found in range(first, min(at_most, bad, drawn) + 1):
        total += term
        term = term * (bad - found) * (drawn - found)
        term //= (found + 1) * (sound - drawn + found + 1)
    return total


def chance_of_at_most(population: int, bad: int, drawn: int, defective: int) -> Fraction:
    """Chance of finding no more than `defective` bad ones, if `bad` of the group are bad.

    Counts; exact hypergeometric: sum over k <= defective of C(bad, k) C(N - bad, n - k) / C(N, n).
    Raises ValueError for a sample larger than the group, or more bad ones than the group holds.
    """
    population = _population(population)
    drawn, defective = _sample(population, drawn, defective)
    bad = whole_number(bad, "number bad in the group")
    if not 0 <= bad <= population:
        raise ValueError(f"{bad} bad ones cannot be in a group of {population}.")
    return Fraction(_ways(population, bad, drawn, defective), math.comb(population, drawn))


def most_defective(
    population: int, drawn: int, defective: int, confidence: float | Fraction
) -> int:
    """The largest number of bad ones in the whole group that the result does not rule out.

    population: fastenings in the group, 1 to 100 000. drawn: how many of them were drawn, 0 to
    population. defective: how many of those were bad. confidence: a fraction between 0 and 1.
    Returns the largest D with P(X <= defective | population, D, drawn) > 1 - confidence; the bad
    ones already drawn are counted in it. With nothing drawn nothing is ruled out. "At most D"
    and "fewer than D + 1" are the same statement. Raises ValueError outside these limits.
    """
    population = _population(population)
    drawn, defective = _sample(population, drawn, defective)
    doubt = 1 - _confidence(confidence)
    samples = math.comb(population, drawn)
    possible, ruled_out = defective, population - drawn + defective + 1
    while ruled_out - possible > 1:
        middle = (possible + ruled_out) // 2
        ways = _ways(population, middle, drawn, defective)
        if ways * doubt.denominator > doubt.numerator * samples:
            possible = middle
        else:
            ruled_out = middle
    return possible


def sample_size(population: int, tolerated_defective: int, confidence: float | Fraction) -> int:
    """The smallest sample that, with none bad, brings `most_defective` down to what is tolerated.

    population: fastenings in the group, 1 to 100 000. tolerated_defective: 0 to population.
    confidence: a fraction between 0 and 1. 45 of 100 must be drawn, all sound, to be 95 % sure
    that at most 4 are bad. Raises ValueError outside these limits.
    """
    population = _population(population)
    tolerated = whole_number(tolerated_defective, "number of bad ones tolerated")
    if not 0 <= tolerated <= population:
        raise ValueError(f"{tolerated} bad ones cannot be tolerated in a group of {population}.")
    doubt = 1 - _confidence(confidence)
    too_few, enough = 0, population - tolerated
    while enough - too_few > 1:
        middle = (too_few + enough) // 2
        ways = math.comb(population - tolerated - 1, middle)
        if ways * doubt.denominator > doubt.numerator * math.comb(population, middle):
            too_few = middle
        else:
            enough = middle
    return enough


def all_hold(confidence: float | Fraction, groups: int) -> float:
    """Chance that the bounds of several groups, sampled apart, all hold: confidence ** groups.

    Ten groups at 95 % each give about 60 %. Raises ValueError below one group.
    """
    groups = whole_number(groups, "number of groups")
    if groups < 1:
        raise ValueError("At least one group must be sampled.")
    return float(_confidence(confidence)) ** groups


@dataclass(frozen=True)
class SamplePicture:
    """What a client is shown: every fastening of the group in one of four states (counts)."""

    drawn_sound: int
    drawn_bad: int
    left_may_be_bad: int
    left_not_suspected: int
    confidence: float
    sentence: str


def picture(population: int, drawn: int, defective: int, confidence: float) -> SamplePicture:
    """The result of a sample as counts to draw one mark each for, and a sentence to put under.

    Arguments and limits as for `most_defective`. `left_may_be_bad` is the largest number among
    those left in the hull that the result does not rule out: not a forecast of that many.
    """
    most = most_defective(population, drawn, defective, confidence)
    hidden = most - defective
    return SamplePicture(
        drawn_sound=drawn - defective,
        drawn_bad=defective,
        left_may_be_bad=hidden,
        left_not_suspected=population - drawn - hidden,
        confidence=float(_confidence(confidence)),
        sentence=_sentence(population, drawn, defective, hidden, confidence),
    )


def _sentence(population: int, drawn: int, bad: int, hidden: int, confidence: float) -> str:
    if drawn == 0:
        return f"None of the {population} fastenings was drawn: nothing is known about them."
    found = "none was bad" if bad == 0 else f"{bad} {'was' if bad == 1 else 'were'} bad"
    return (
        f"{drawn} of {population} fastenings were drawn by lot and {found}. With "
        f"{float(confidence) * 100:g} % confidence, at most {hidden} of the "
        f"{population - drawn} left in the hull are bad."
    )
