"""Cautions that go with a wood: its dust, and the controls on trading it.

All of it is from memory and shown so. Whoever buys or machines the wood checks the lists and the
local rules of the day.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Caution:
    """One caution: kind is dust or trade; standing M, from memory."""

    kind: str
    text: str
    standing: str = "M"


ALL_DUST = Caution(
    "dust",
    "Dust of any wood can harm nose and lungs, and wood dust is counted among the causes of cancer "
    "(IARC). Extract it, wear a fitting mask, and keep to the local exposure limits.",
)
ALL_TRADE = Caution(
    "trade",
    "Ask for proof of where and how the wood was felled: many import rules require it.",
)

ASTHMA = "A known cause of asthma and skin trouble in woodworkers."
IRRITANT = "Dust irritates nose, throat or skin."
NASAL = (
    "Long exposure to its dust is linked with cancer of the nose; limits for hardwood dust apply."
)
SPLINTERS = "Dust irritates and splinters fester."

DUST: dict[str, str] = {
    **dict.fromkeys(
        ("oak_white", "oak_swamp_white", "oak_live", "oak_northern_red", "oak_european",
         "beech_american", "beech_european"), NASAL),
    **dict.fromkeys(
        ("cedar_western_red", "iroko", "redwood_old_growth", "spanish_cedar"), ASTHMA),
    **dict.fromkeys(
        ("cedar_northern_white", "cedar_atlantic_white", "cedar_yellow", "cedar_port_orford",
         "cedar_eastern_red", "mahogany_true", "mahogany_african", "teak", "ipe", "jarrah",
         "afzelia", "lignumvitae", "locust_black", "walnut_black", "chestnut_american",
         "chestnut_sweet", "ash_white", "ash_european"), IRRITANT),
    **dict.fromkeys(("afrormosia", "greenheart", "angelique"), SPLINTERS),
}  # fmt: skip

LISTED = "Listed in Appendix II of the convention on trade in endangered species (CITES)"
TRADE: dict[str, str] = {
    "mahogany_true": f"{LISTED}: populations of the Neotropics, logs, sawn wood, veneer, plywood.",
    "spanish_cedar": f"{LISTED}: populations of the Neotropics.",
    "afrormosia": f"{LISTED}.",
    "lignumvitae": f"{LISTED}: the whole genus.",
    "afzelia": f"{LISTED}: African populations.",
    "mahogany_african": f"{LISTED}: African populations.",
    "ipe": f"{LISTED}: the whole group of genera, since 2024.",
}


def cautions(species_key: str) -> tuple[Caution, ...]:
    """Every caution for a wood by its key; a wood unknown here gets the general ones."""
    found = [ALL_DUST]
    if species_key in DUST:
        found.append(Caution("dust", DUST[species_key]))
    found.append(ALL_TRADE)
    if species_key in TRADE:
        found.append(Caution("trade", TRADE[species_key]))
    return tuple(found)


def trade_controlled(species_key: str) -> bool:
    """Whether the wood is on the list above: papers are needed before it is bought or moved."""
    return species_key in TRADE
