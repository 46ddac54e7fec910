"""The moisture to expect of a timber in its place in the boat: assumptions, shown as such."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class ServiceMoisture:
    """Expected moisture content in service, percent, with the range to reckon with.

    `standing` is A: assumed. `basis` says what it rests on; a yard's own measurements go before it.
    """

    place: str
    expected_percent: float
    least_percent: float
    greatest_percent: float
    basis: str
    standing: str = "A"


PLANKING = (
    "Assumed in service; FPL R1606 (Peck, 1945; read) asks planking and decking to be put in at an "
    "average of 15 %, not under 12 nor over 18."
)
WET = (
    "Assumed: always wet wood stays near fibre saturation; FPL R1423 (Teesdale, 1942; read) asks "
    "no seasoning of keels and bottom planking for that reason."
)

PLACES: dict[str, ServiceMoisture] = {
    "bilge": ServiceMoisture("bilge", 28, 22, 35, WET),
    "below_waterline": ServiceMoisture("below the waterline", 30, 25, 40, WET),
    "wind_and_water": ServiceMoisture(
        "between wind and water", 22, 16, 30,
        "Assumed: halfway between the topsides and the wood below the waterline.",
    ),
    "topsides": ServiceMoisture("topsides", 15, 12, 18, PLANKING),
    "deck": ServiceMoisture("deck", 15, 11, 20, PLANKING + " A deck in the sun swings more."),
    "inside_dry": ServiceMoisture(
        "dry inside, above the sole", 13, 9, 16,
        "Assumed: sheltered wood in outdoor air; compare the outdoor year of the place.",
    ),
    "spars": ServiceMoisture(
        "spars and deckhouse", 13, 10, 16,
        "Assumed: painted or varnished wood in outdoor air; compare the outdoor year of the place.",
    ),
}  # fmt: skip
