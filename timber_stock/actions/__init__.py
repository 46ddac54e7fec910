"""Every write to the stock that touches more than one row."""

from .boards import correct_board, enter_board, set_holder
from .climate import delete_climate, keep_climate
from .log_reckoning import keep_reckoning
from .logs import keep_log
from .pieces import Balance, Piece, board_balance, kerf_volume_mm3, log_balance
from .plan_search import ask_to_stop, begin_search
from .plans import keep_plan, tick_cut, untick_cut
from .replan import changes_since, plan_rest_again
from .sawing import resaw_board, saw_log
from .sawn_again import may_be_sawn_again, with_boards

__all__ = [
    "Balance",
    "Piece",
    "ask_to_stop",
    "begin_search",
    "board_balance",
    "changes_since",
    "correct_board",
    "delete_climate",
    "enter_board",
    "keep_climate",
    "keep_log",
    "keep_plan",
    "keep_reckoning",
    "kerf_volume_mm3",
    "log_balance",
    "may_be_sawn_again",
    "plan_rest_again",
    "resaw_board",
    "saw_log",
    "set_holder",
    "tick_cut",
    "untick_cut",
    "with_boards",
]
