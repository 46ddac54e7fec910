"""What a sling leg carries when it leans, and what was read about lifting and chocking a log.

Reminders for whoever plans a lift, not a plan: see `weights.LIFTING_CAUTION`.
"""

from __future__ import annotations

import math

from timber_stock.wood.checked import between, positive

LEAST_ANGLE_DEG = 30.0
"""Below this from the horizontal a sling is not to be used: a sling-maker's note citing
29 CFR 1910.184 and ASME B30.9 (read there; the standard itself was not)."""

ANGLES_DEG = (90.0, 60.0, 45.0, 30.0)

SLING_ANGLE_WORDS = (
    "Angles are from the horizontal. Under 30° a sling is not used; 60° and more is best practice. "
    "It is 60° or more where the two places it takes hold are no further apart than one leg is "
    "long."
)
SLING_SOURCE = (
    "Tension by statics, W/(2 sin a), agreeing with a sling-maker's chart of the capacity left and "
    "a university rigging page; the limits from a sling-maker's note citing 29 CFR 1910.184 and "
    "ASME B30.9."
)
HANDLING_WORDS = (
    "A choker bent under 120° carries less still. Pad sharp arrises, land the log on blocking and "
    "not on the sling, chock both sides, and keep from under it and from the downhill side."
)
HANDLING_SOURCE = (
    "Sling-makers' charts; stored logs blocked or chocked against rolling, 29 CFR 1926.250(a)."
)


def leg_tension_kg(load_kg: float, angle_from_horizontal_deg: float, legs: int = 2) -> float:
    """What each of `legs` equal legs carries, in kilograms of load: W/(n sin a).

    load_kg above nought; the angle from the horizontal, 30 to 90 degrees: ValueError below, where
    no sling is to be used. A stiff load hangs on two legs however many there are, so `legs` is 1
    or 2 (from memory). Source: `SLING_SOURCE`.
    """
    load = positive(load_kg, "The load in kg")
    if legs not in (1, 2):
        raise ValueError("Count one leg or two: a stiff load does not share itself among more.")
    if angle_from_horizontal_deg < LEAST_ANGLE_DEG:
        raise ValueError(
            f"A sling leg at {angle_from_horizontal_deg:g}° from the horizontal is not to be used: "
            f"{LEAST_ANGLE_DEG:g}° is the least."
        )
    angle = between(angle_from_horizontal_deg, LEAST_ANGLE_DEG, 90, "The angle of the leg", "°")
    return load / (legs * math.sin(math.radians(angle)))
