"""pH of the wood beside a metal, against what wood has by nature.

Why it is taken: corroding steel alone in wet wood makes acid in the crevice round it; a metal
under cathodic protection makes alkali; of a galvanic pair one metal does each. Source: A. J.
Baker, Degradation of wood by products of metal corrosion, Research Paper FPL 229, 1974 (abstract
read, not the figures). No published pH for the attacked zone was read: every figure here is from
memory or worked out, says so, and serves as a prompt only.
"""

from dataclasses import dataclass

from restoration.calc.checks import finite

CAUTION = (
    "A prompt, not a verdict: no published pH for attacked wood was read. Take it from wetted "
    "wood, not from sea water; note the distance from the metal, and test sound wood 150 mm away. "
    "Residue may be caustic or acid: protect eyes and skin."
)


@dataclass(frozen=True)
class PhFigure:
    """A range of pH and how it is known. One figure alone has both ends equal."""

    what: str
    low: float
    high: float
    evidence: str


SEA_WATER = PhFigure("sea water", 8.1, 8.1, "MEMORY")
SOUND_WOOD = PhFigure("most sound woods, wet", 3.5, 6.0, "MEMORY")
SOUND_OAK = PhFigure("sound oak, wet", 3.3, 4.5, "MEMORY")
SEA_WET_LIMIT = PhFigure("upper bound of wood wet with sea water", 8.0, 8.0, "DERIVED")
BEYOND_SEA_WET = PhFigure("what sea-wet wood cannot reach by itself", 8.5, 9.0, "DERIVED")

FIGURES = (SEA_WATER, SOUND_WOOD, SOUND_OAK, SEA_WET_LIMIT, BEYOND_SEA_WET)


@dataclass(frozen=True)
class PhReading:
    """Where a reading lies, a prompt, and the figures it was held against.

    place: "acid", "natural", "raised" or "alkaline". above_sound: how far the damaged wood reads
    above the sound wood, None where only one of them was tested.
    """

    place: str
    prompt: str
    against: tuple[PhFigure, ...]
    above_sound: float | None


_PROMPTS = {
    "acid": "Below the range of sound wood: look for corroding metal at the centre.",
    "natural": "Within the range of sound wood: pH speaks neither for acid nor for alkali.",
    "raised": "Above the range of sound wood, but no more than sea water can account for.",
    "alkaline": "More alkaline than sea-wet wood becomes by itself: points to a protected metal, "
    "bonding, too much anode or a stray current.",
}


def compare_ph(damaged: float, sound: float | None = None, oak: bool = False) -> PhReading:
    """Hold the pH of damaged wood against wood's natural range.

    damaged: pH on wetted wood beside the metal. sound: pH of sound wood of the same member, 150
    mm away. oak: whether the wood is an oak, which is more acid than most. "acid" is below the
    natural range, "raised" above it, "alkaline" above 8.5. Raises ValueError outside 0 to 14.
    """
    damaged = _on_scale(damaged)
    sound = None if sound is None else _on_scale(sound)
    natural = SOUND_OAK if oak else SOUND_WOOD
    place = _place(damaged, natural)
    prompt = _PROMPTS[place]
    if sound is None:
        prompt += " Test sound wood 150 mm away as well."
    return PhReading(
        place,
        prompt,
        (natural, BEYOND_SEA_WET if place == "alkaline" else SEA_WET_LIMIT),
        None if sound is None else round(damaged - sound, 2),
    )


def _place(ph: float, natural: PhFigure) -> str:
    if ph < natural.low:
        return "acid"
    if ph <= natural.high:
        return "natural"
    return "raised" if ph <= BEYOND_SEA_WET.low else "alkaline"


def _on_scale(ph: float) -> float:
    ph = finite(ph, "pH")
    if not 0 <= ph <= 14:
        raise ValueError(f"A pH lies between 0 and 14; {ph:g} does not.")
    return ph
