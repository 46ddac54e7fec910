"""What rots, when, and how well a heartwood stands up to it.

Natural resistance lies in the heartwood alone; sapwood of practically every wood has little (FPL
Technical Note 229, 1961; read). Classes are rough averages: one tree's pieces vary widely (ibid.).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from timber_stock.wood.checked import between, moisture
from timber_stock.wood.species import Species

EN350_WORDS = {
    1: "very durable",
    2: "durable",
    3: "moderately durable",
    4: "slightly durable",
    5: "not durable",
}
SAPWOOD_CAUTION = (
    "Sapwood counts as not durable in every wood (EN 350 class 5, as quoted; FPL Technical Note "
    "229, 1961): cut it away or treat the piece as perishable."
)
STRENGTH_CAUTION = (
    "Decay takes more than the eye sees: toughness is nearly gone before a tenth of the weight is "
    "lost, hardness last of all, so a spike test misses early decay. Where strength matters, "
    "refuse any piece with even a little (Wood Handbook ch. 5; Wilcox 1978; read)."
)


@dataclass(frozen=True)
class Durability:
    """How durable a heartwood is said to be: best and worst class, in words, and by group."""

    best_class: int | None
    worst_class: int | None
    words: str
    american_group: str
    cautions: tuple[str, ...]


def durability(wood: Species) -> Durability:
    """Natural durability of a wood's heartwood as its figures have it, with standing cautions.

    The class figure is a number 1 to 5 or a range such as 2-3; raises ValueError for another form.
    """
    figure, group = wood.figure("durability_class"), wood.figure("decay_class")
    best: int | None = None
    worst: int | None = None
    words = "no class known"
    if figure is not None:
        best, worst = _class_range(str(figure.value))
        words = EN350_WORDS[best]
        if worst != best:
            words += f" to {EN350_WORDS[worst]}"
    said = [SAPWOOD_CAUTION]
    for known in (figure, group):
        if known is not None and known.to_be_checked:
            said.append(f"{known.label.capitalize()}: {known.standing_words}.")
    return Durability(best, worst, words, "" if group is None else str(group.value), tuple(said))


def _class_range(text: str) -> tuple[int, int]:
    parts = text.split("-")
    if len(parts) > 2 or not all(p in {"1", "2", "3", "4", "5"} for p in parts):
        raise ValueError(f"A durability class is 1 to 5 or a range such as 2-3, not {text!r}.")
    return int(parts[0]), int(parts[-1])


@dataclass(frozen=True)
class DecayRisk:
    """What a moisture content (and temperature) means for decay, in words with the source."""

    word: str
    why: str


def decay_risk(moisture_percent: float, temperature_c: float | None = None) -> DecayRisk:
    """Whether decay can start or go on at this moisture, and at this temperature if given.

    Below 20 %: none. 20 to 30 %: watch. Above 30 %: serious. At or below 2 C, or from 38 C, it
    stands still without dying; below 10 C or above 35 C it is slow. Continuously submerged wood is
    no matter for this rule. moisture_percent: nought or more; temperature_c: -60 to 100.
    Source: Wood Handbook ch. 5 and 14 (read); the watch band between the two limits is practice.
    """
    content = moisture(moisture_percent)
    if temperature_c is not None:
        between(temperature_c, -60, 100, "The temperature", " °C")
    if content < 20:
        return DecayRisk(
            "none", "Kept below 20 % decay neither starts nor goes on (Wood Handbook ch. 5)."
        )
    if temperature_c is not None:
        if temperature_c <= 2 or temperature_c >= 38:
            return DecayRisk(
                "at rest",
                "At this temperature decay stops, and wakes again (Wood Handbook ch. 14).",
            )
        if temperature_c < 10 or temperature_c > 35:
            return DecayRisk("slow", "Decay is slow at this temperature (Wood Handbook ch. 14).")
    if content <= 30:
        return DecayRisk("watch", "Between the safe 20 % and fibre saturation: a band to watch.")
    return DecayRisk(
        "serious", "Above fibre saturation, where serious decay happens (Wood Handbook ch. 14)."
    )


def scheffer_index_c(monthly_mean_c: Sequence[float], monthly_wet_days: Sequence[float]) -> float:
    """Climate index for decay above ground: the sum over twelve months of (T - 2)(D - 3)/16.7.

    T mean temperature in C, D days with 0.25 mm of rain or more; a month with T under 2 or D under
    3 counts nought. Source: Scheffer (1971), the formula from memory. Below 35 low, to 65 moderate,
    above high (Whole Building Design Guide; read). Afloat or in the ground: high whatever it says.
    """
    return _scheffer(monthly_mean_c, monthly_wet_days, 2.0, 16.7)


def scheffer_index_f(monthly_mean_f: Sequence[float], monthly_wet_days: Sequence[float]) -> float:
    """The same in Fahrenheit: the sum of (T - 35)(D - 3)/30. The two can differ by some percent."""
    return _scheffer(monthly_mean_f, monthly_wet_days, 35.0, 30.0)


def _scheffer(
    temperatures: Sequence[float], wet_days: Sequence[float], base: float, divisor: float
) -> float:
    if len(temperatures) != 12 or len(wet_days) != 12:
        raise ValueError(
            "The index needs twelve monthly temperatures and twelve counts of wet days."
        )
    total = 0.0
    for warm, wet in zip(temperatures, wet_days, strict=True):
        t = between(warm, -100, 150, "A monthly temperature", " degrees")
        d = between(wet, 0, 31, "The wet days of a month")
        total += max(0.0, t - base) * max(0.0, d - 3.0)
    return total / divisor


def scheffer_word(index: float) -> str:
    """low, moderate or high, by the limits 35 and 65."""
    value = between(index, 0, 1000, "The climate index")
    return "low" if value < 35 else "moderate" if value <= 65 else "high"
