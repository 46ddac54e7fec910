"""What a log or a board of the stock weighs, green and dry, and what that was reckoned from.

A log, and a board sawn here, was measured green: drying takes water off it and no wood. A board
bought dry is as it measures now.
"""

from collections.abc import Callable
from dataclasses import dataclass

from timber_stock.wood.heaviness import (
    DRY_PERCENT,
    green_moisture,
    green_volume_density_kg_m3,
    present_density_kg_m3,
)
from timber_stock.wood.species import Species as Wood
from timber_stock.wood.weights import balance_from_small_end_mm, board_weight_kg, log_weight_kg

from .board import Board, State
from .log import Log

Density = Callable[[Wood, float], float]


@dataclass(frozen=True)
class Weight:
    """One state: its moisture in words, and the kilograms or why there are none."""

    state: str
    moisture: str
    kg: float | None
    why_not: str = ""


def weights_of_log(log: Log, wood: Wood) -> list[Weight]:
    """What is left of the log, green and dried; none of a log that is sawn up."""
    if log.is_sawn_up:
        return []
    heart, sap = green_moisture(wood), green_moisture(wood, sapwood=True)
    green = heart.words
    if log.sapwood_mm and sap.percent != heart.percent:
        green += f"; sapwood {sap.words}"
    return [
        _weight("green", green, lambda: _log_kg(log, wood, heart.percent, sap.percent)),
        _weight("dry", f"{DRY_PERCENT:g} %", lambda: _log_kg(log, wood, DRY_PERCENT, DRY_PERCENT)),
    ]


def weights_of_board(board: Board, wood: Wood, last_percent: float | None) -> list[Weight]:
    """Green where it was measured green, at its last reading, and dry."""
    was_green = bool(board.sawing_id) or board.state == State.GREEN
    density = green_volume_density_kg_m3 if was_green else present_density_kg_m3
    states = []
    if was_green:
        wet = max(
            (green_moisture(wood, sapwood=sap) for sap in {False, board.has_sapwood}),
            key=lambda held: held.percent,
        )
        states.append(("green", wet.words, wet.percent))
    if last_percent is not None:
        states.append(("now", f"{last_percent:g} %, its last reading", last_percent))
    states.append(("dry", f"{DRY_PERCENT:g} %", DRY_PERCENT))
    return [
        _weight(state, words, lambda m=moisture: board_kg(board, density(wood, m)))
        for state, words, moisture in states
    ]


def board_kg(board: Board, kg_m3: float) -> float:
    return board_weight_kg(board.width_mm, board.thickness_mm, board.length_mm, kg_m3)


def _log_kg(log: Log, wood: Wood, heart_percent: float, sap_percent: float) -> float:
    """The whole log as a straight taper, and of that the share not sawn out of it yet.

    Oval ends are taken as round ones of the same area.
    """
    small, large = sorted([log.round_as("top"), log.round_as("butt")])
    whole = log_weight_kg(
        small,
        large,
        log.length_mm,
        green_volume_density_kg_m3(wood, heart_percent),
        green_volume_density_kg_m3(wood, sap_percent),
        log.sapwood_mm or 0.0,
    )
    return whole * log.unsawn_mm3() / log.solid_mm3


def log_kg_at(log: Log, wood: Wood, moisture_percent: float | None) -> float:
    """What is left of a log at one moisture throughout, or green where that is None."""
    if moisture_percent is not None:
        return _log_kg(log, wood, moisture_percent, moisture_percent)
    heart, sap = green_moisture(wood), green_moisture(wood, sapwood=True)
    return _log_kg(log, wood, heart.percent, sap.percent)


def balance_of_log_mm(log: Log) -> tuple[float, str]:
    """How far from its thinner end a log balances, and which end that is."""
    small, large = sorted([log.round_as("top"), log.round_as("butt")])
    end = "top" if log.round_as("top") <= log.round_as("butt") else "butt"
    return balance_from_small_end_mm(small, large, log.length_mm), end


def _weight(state: str, words: str, reckon: Callable[[], float]) -> Weight:
    try:
        return Weight(state, words, reckon())
    except ValueError as error:
        return Weight(state, words, None, str(error))
