"""The one door to the timber stock: nothing else here imports its models or its actions."""

from collections.abc import Iterable

from django.db import connection
from django.db.models import QuerySet

from timber_stock.actions import (
    Piece,
    correct_board,
    keep_climate,
    keep_plan,
    keep_reckoning,
    resaw_board,
    saw_log,
    set_holder,
)
from timber_stock.actions.log_papers import keep_paper
from timber_stock.forms.filters import BoardFilter, LogFilter
from timber_stock.models import (
    Board,
    Climate,
    CuttingItem,
    CuttingList,
    Log,
    LogReckoning,
    MoistureReading,
    PieceSawn,
    SawingPlan,
    Species,
    Supplier,
    WoodFigure,
    figures_of,
    request_for,
    service_moistures,
    word_for,
)
from timber_stock.models.board import State
from timber_stock.models.chain import chain_cte
from timber_stock.models.plan_request import timbers_asked
from timber_stock.models.plan_state import Told as PlanTold
from timber_stock.models.plan_state import as_it_stands as plan_as_it_stands
from timber_stock.models.plan_state import over_mm_of as cuts_made_of
from timber_stock.models.plan_state import tags_sawn_again
from timber_stock.models.tag_series import natural_order

__all__ = [
    "Board",
    "BoardFilter",
    "Climate",
    "CuttingItem",
    "CuttingList",
    "Log",
    "LogFilter",
    "LogReckoning",
    "MoistureReading",
    "Piece",
    "PieceSawn",
    "PlanTold",
    "SawingPlan",
    "Species",
    "State",
    "Supplier",
    "WoodFigure",
    "boards_in_stock",
    "boards_of_any_state",
    "boards_with_readings",
    "chain_rows",
    "correct_board",
    "cuts_made_of",
    "figures_of",
    "keep_climate",
    "keep_paper",
    "keep_plan",
    "keep_reckoning",
    "lock_board",
    "log_reckoning_of",
    "logs_in_the_yard",
    "pieces_out_of",
    "plan_as_it_stands",
    "request_for",
    "resaw_board",
    "saw_log",
    "sawn_by_plan",
    "service_moistures",
    "set_holder",
    "tags_sawn_again",
    "timbers_asked",
    "woods",
    "word_for",
]


def woods() -> QuerySet[Species]:
    return Species.objects.by_common_name()


def boards_in_stock() -> QuerySet[Board]:
    return Board.objects.in_stock().for_list()


def boards_with_readings() -> QuerySet[Board]:
    """What is in stock with the last moisture reading of each, for weighing all of it at once."""
    return Board.objects.in_stock().with_last_reading()


def boards_of_any_state() -> QuerySet[Board]:
    """Also what is no longer there: resawn, used up, sold."""
    return Board.objects.with_last_reading().select_related("resawing")


def pieces_out_of(board: Board) -> list[Board]:
    """What came out when this board was resawn, in the order of their tags."""
    pieces = Board.objects.filter(sawing__source_board=board).for_list()
    return sorted(pieces, key=lambda piece: natural_order(piece.tag))


def logs_in_the_yard() -> QuerySet[Log]:
    return Log.objects.for_list().not_sawn_up()


def log_reckoning_of(cutting_list: CuttingList) -> LogReckoning | None:
    """What was last reckoned of the log to ask for; None while nothing was."""
    return LogReckoning.objects.filter(cutting_list=cutting_list).first()


def lock_board(board_id: int) -> Board:
    """The board, held still until this transaction ends: whoever comes second sees the first."""
    return Board.objects.select_for_update().get(pk=board_id)


def chain_rows(
    *, seed: str, columns: str, joins: str, parameters: dict[str, object] | None = None
) -> list[dict]:
    """One query over the whole chain: its recursive part, joined to what the caller asks for.

    `seed`, a SELECT of board_id and log_id, says where to start (see `chain_cte`); `joins`
    begins with FROM chain or FROM up; values go in as %(name)s.
    """
    sql = f"{chain_cte(seed)} SELECT {columns} {joins}"
    with connection.cursor() as cursor:
        cursor.execute(sql, parameters or {})
        names = [column[0] for column in cursor.description]
        return [dict(zip(names, row, strict=True)) for row in cursor.fetchall()]


def sawn_by_plan(tags: Iterable[str]) -> dict[str, PieceSawn]:
    """Of the boards of these tags, those that a kept plan set free, with the plan and its log."""
    pieces = PieceSawn.objects.filter(board__tag__in=list(tags))
    return {piece.board.tag: piece for piece in pieces.select_related("board", "plan__log")}
