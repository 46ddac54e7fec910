"""The one door to the timber stock: nothing else here imports its models or its actions."""

from django.db import connection
from django.db.models import QuerySet

from timber_stock.actions import (
    Piece,
    correct_board,
    keep_climate,
    resaw_board,
    saw_log,
    set_holder,
)
from timber_stock.models import (
    Board,
    Climate,
    CuttingItem,
    CuttingList,
    Log,
    MoistureReading,
    Species,
    Supplier,
    WoodFigure,
    figures_of,
    service_moistures,
    word_for,
)
from timber_stock.models.chain import chain_cte

__all__ = [
    "Board",
    "Climate",
    "CuttingItem",
    "CuttingList",
    "Log",
    "MoistureReading",
    "Piece",
    "Species",
    "Supplier",
    "WoodFigure",
    "boards_in_stock",
    "boards_with_readings",
    "chain_rows",
    "correct_board",
    "figures_of",
    "keep_climate",
    "lock_board",
    "logs_in_the_yard",
    "resaw_board",
    "saw_log",
    "service_moistures",
    "set_holder",
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


def logs_in_the_yard() -> QuerySet[Log]:
    return Log.objects.for_list().not_sawn_up()


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
