"""A hull potential read with a reference cell, against the metal's own free potential.

Published figures are in `fixtures/protection_potentials.csv` with how each is known. The band for
wooden hulls in the standard on cathodic protection was not read and is not held: a surveyor who
has the standard types it in.
"""

from dataclasses import dataclass

from restoration.calc.checks import finite
from restoration.calc.galvanic import metals, potential

PROTECTED_V = (0.200, 0.400)
"""A reading this much more negative than the metal's own free potential shows it protected. For
metals in general, not for wood. Source: The galvanic series (chart), Westlawn Institute, The
Masthead, December 2010."""

CAUTION = (
    "What protects the metal can destroy the wood: a metal driven far below its own potential "
    "makes alkali, and wood turns to pulp beside bright metal. Cell, salt, temperature, time "
    "afloat and shore power change the reading."
)
CONFLICT = (
    "Sources differ: several practitioners advise no anodes and no common bonding on wooden hulls "
    "(opinion); a published standard exists for cathodic protection. Neither is decided here."
)
ZINC_CELL_DOUBT = (
    "A chart says to add 100 mV to a reading taken with a zinc reference. That is physically "
    "doubtful (zinc itself sits near −1.03 V) and is not used: enter readings against silver "
    "chloride or calomel."
)


@dataclass(frozen=True)
class PotentialReading:
    """How far a reading lies below the metal's free potential, V, and what is said of that.

    state: "unprotected", "between", "protected" or "over". `typed_band` says where the reading
    lies in a band that the surveyor typed: "", "inside", "above" (less negative) or "below".
    """

    least_shift_v: float
    greatest_shift_v: float
    state: str
    sentence: str
    notes: tuple[str, ...]
    typed_band: str


def judge_reading(
    metal: str, reading_v: float, series: str, typed_band_v: tuple[float, float] | None = None
) -> PotentialReading:
    """Compare a reading with the metal's free potential in a named series.

    reading_v: V against the electrode of that series, negative for all boat metals but the
    noblest, -2 to +1. typed_band_v: both ends of a band from a standard the surveyor has at hand.
    SCE and silver chloride are within about 10 mV of each other (from memory). Raises ValueError
    for a reading outside these limits (mV typed as V), and a metal the series does not hold.
    """
    reading = _reading(reading_v)
    free = potential(metal, series)
    if free is None:
        raise ValueError(f"The series {series} gives no value for {metals()[metal].name}.")
    least = round(free.less_noble_v - reading, 6)
    greatest = round(free.more_noble_v - reading, 6)
    state = _state((least + greatest) / 2)
    return PotentialReading(
        least,
        greatest,
        state,
        _SENTENCES[state].format(metal=metals()[metal].name),
        tuple(_notes(metal, reading, series, state)),
        _in_band(reading, typed_band_v),
    )


def _reading(reading_v: float) -> float:
    reading = finite(reading_v, "potential")
    if not -2 <= reading <= 1:
        raise ValueError(f"A potential of {reading:g} V is no hull reading; is it in millivolts?")
    return reading


def _state(shift_v: float) -> str:
    low, high = PROTECTED_V
    if shift_v <= 0:
        return "unprotected"
    if shift_v < low:
        return "between"
    return "protected" if shift_v <= high else "over"


_SENTENCES = {
    "unprotected": "{metal} is not driven below its own potential: nothing protects it.",
    "between": "{metal} is driven somewhat below its own potential, short of the 0.2 V that shows "
    "it protected.",
    "protected": "{metal} is 0.2 to 0.4 V below its own potential: protected, by the general "
    "criterion for metals.",
    "over": "{metal} is more than 0.4 V below its own potential: more than it needs, and the wood "
    "beside it is at risk of alkali.",
}


_AS_BASE_AS_ZINC = frozenset({"zinc", "magnesium", "galvanised_steel"})


def _notes(metal: str, reading: float, series: str, state: str) -> list[str]:
    notes = []
    zinc = potential("zinc", series)
    if zinc and reading <= zinc.more_noble_v and metal not in _AS_BASE_AS_ZINC:
        notes.append(
            "The reading is down at zinc's own potential: heavily over-protected (worked out "
            "here from the series)."
        )
    if state in ("protected", "over"):
        notes.append(
            "One surveyor reports alkali attack on wood from 0.35 to 0.40 V; electrode and datum "
            "not given: an observation only (Surveyor notes on galvanic damage, 2008)."
        )
        notes.append(CONFLICT)
    return notes


def _in_band(reading: float, band: tuple[float, float] | None) -> str:
    if band is None:
        return ""
    low, high = sorted(_reading(end) for end in band)
    if reading > high:
        return "above"
    return "inside" if reading >= low else "below"
