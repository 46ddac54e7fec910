"""What wet and drying wood takes off the allowable loads (NDS), and what else is known of it."""

from restoration.calc.fastening_sources import HANDBOOK, MEMORY, NDS, READ, Published

STATES = {
    "dry": "dry when fastened and in service (19 % or less)",
    "wet": "wet in service, or in and out of the water",
    "drying": "green when fastened, dries in place",
}
SOURCE = Published(f"{NDS}, wet service factors", MEMORY)
LATERAL = {"dry": 1.0, "wet": 0.7, "drying": 0.4}
"""Of bolts, drift bolts, lag and wood screws. Drying: 1.0 where there is one fastening, or one row
along the grain, that the wood can shrink round; 0.7 for wood screws, rivets and nails."""
WITHDRAWAL = {"dry": 1.0, "wet": 0.7, "drying": 0.7}
NAIL_WITHDRAWAL = {"dry": 1.0, "wet": 1.0, "drying": 0.25}
NAILS = frozenset({"nail", "spike"})
SLIGHT = NAILS | {"annular", "screw", "rivet"}
GREEN_NAILS = (
    "A nail driven into green wood that then dries loses much of its hold.",
    Published(f"{HANDBOOK}", READ),
)


def lateral_factor(kind: str, state: str, one_row: bool = False) -> float:
    """Factor on the NDS lateral load. state: a key of STATES, else ValueError.

    one_row: a single fastening, or a single row along the grain of both timbers.
    """
    factor = LATERAL[_known(state)]
    if state != "drying":
        return factor
    if kind in SLIGHT:
        return 0.7
    return 1.0 if one_row else factor


def withdrawal_factor(kind: str, state: str) -> float:
    """Factor on the NDS withdrawal load. state: a key of STATES, else ValueError."""
    return (NAIL_WITHDRAWAL if kind in NAILS else WITHDRAWAL)[_known(state)]


def _known(state: str) -> str:
    if state not in STATES:
        raise ValueError(f"“{state}” is no state of moisture: {', '.join(STATES)}.")
    return state
