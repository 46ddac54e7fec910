"""Every write to the stock that touches more than one row."""

from .boards import correct_board, enter_board, set_holder
from .climate import keep_climate
from .logs import keep_log
from .pieces import Balance, Piece, board_balance, kerf_volume_mm3, log_balance
from .sawing import resaw_board, saw_log

__all__ = [
    "Balance",
    "Piece",
    "board_balance",
    "correct_board",
    "enter_board",
    "keep_climate",
    "keep_log",
    "kerf_volume_mm3",
    "log_balance",
    "resaw_board",
    "saw_log",
    "set_holder",
]
