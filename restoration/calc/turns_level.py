"""An order evened out: no more members out at once than needs be, and no turn empty in vain."""

from collections.abc import Sequence

from restoration.calc.turns_search import Board
from restoration.calc.turns_units import Units, bits


def levelled(units: Units, turns: Sequence[int], count: int) -> tuple[int, ...]:
    """The same number of turns; units go from fuller turns to emptier ones while that evens."""
    board = Board(units, count)
    for unit, turn in enumerate(turns):
        board.put(unit, turn)
    while _one_step(board):
        pass
    return tuple(turn for turn in board.turn_of if turn is not None)


def _one_step(board: Board) -> bool:
    """Ends of itself: each step makes the sum of the squares of the turns' sizes smaller."""
    sizes = range(len(board.used))
    for full in sorted(sizes, key=lambda turn: (-board.used[turn], turn)):
        for empty in sorted(sizes, key=lambda turn: (board.used[turn], turn)):
            for unit in bits(board.held[full]):
                if _evens(board, unit, full, empty):
                    board.take(unit)
                    board.put(unit, empty)
                    return True
    return False


def _evens(board: Board, unit: int, full: int, empty: int) -> bool:
    weight = board.units.weights[unit]
    if board.used[empty] + weight >= board.used[full] or board.units.pins[unit] is not None:
        return False
    return empty in board.window(unit) and not board.in_the_way(unit, empty)
