"""What a sample of fastenings says once its results are in, a fastening that will not come out
among them.

A fastening that was chosen and could not be drawn is counted as bad for the bound: leaving it out
would leave out the very ones that rust holds fast. That is on the safe side. Bounds: `sampling`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from restoration.calc.sampling import most_defective

RESULTS = {"good": "good", "bad": "bad", "not_drawn": "could not be drawn"}
STATES = {
    "good": "drawn and good",
    "bad": "drawn and bad",
    "waiting": "chosen, no result or not to be drawn",
    "may": "may be bad: not ruled out",
    "left": "left in, not suspected",
}
"""What a fastening of the group is known as once it is drawn in a picture, in this order."""


@dataclass(frozen=True)
class Outcome:
    """Counts of a sample's results, and the bound where every result is in.

    most_bad: the largest number of bad ones in the whole group that the results do not rule out,
    the ones found bad among them; None while results are still to come. may_be_bad: how many of
    those are still in the hull.
    """

    population: int
    chosen: int
    good: int
    bad: int
    not_drawn: int
    waiting: int
    confidence: float
    most_bad: int | None

    @property
    def left_in(self) -> int:
        """Fastenings still in the hull as they were: those not chosen and those not drawn."""
        return self.population - self.good - self.bad

    @property
    def may_be_bad(self) -> int | None:
        return None if self.most_bad is None else self.most_bad - self.bad

    @property
    def not_suspected(self) -> int | None:
        return None if self.may_be_bad is None else self.left_in - self.may_be_bad

    @property
    def sentence(self) -> str:
        if self.may_be_bad is None:
            return (
                f"{self.waiting} of the {self.chosen} chosen still have no result. The figure "
                "comes when all have one: looking at part of a sample and stopping breaks the sum."
            )
        stuck = f", {self.not_drawn} could not be drawn (counted as bad)" if self.not_drawn else ""
        return (
            f"{self.chosen} of {self.population} fastenings were chosen by lot: {self.good} good, "
            f"{self.bad} bad{stuck}. With {self.confidence * 100:g} % confidence, at most "
            f"{self.may_be_bad} of the {self.left_in} still in the hull are bad."
        )


def outcome(population: int, results: Sequence[str], confidence: float | Fraction) -> Outcome:
    """Count the results and bound the bad ones.

    population: fastenings in the group, 1 to 100 000. results: one for each chosen, a key of
    RESULTS or "" where it is still to come. confidence: a fraction between 0 and 1. Raises
    ValueError for an unknown result and for more chosen than there are.
    """
    for result in results:
        if result and result not in RESULTS:
            raise ValueError(f"“{result}” is no result; those are {', '.join(RESULTS.values())}.")
    good, bad, not_drawn, waiting = (
        sum(result == wanted for result in results) for wanted in ("good", "bad", "not_drawn", "")
    )
    most = most_defective(population, len(results), bad + not_drawn, confidence)
    return Outcome(
        population, len(results), good, bad, not_drawn, waiting, float(confidence),
        None if waiting else most,
    )  # fmt: skip
