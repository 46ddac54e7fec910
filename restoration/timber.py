"""The one door to the timber stock: nothing else here imports its models or its actions."""

from collections.abc import Iterable

from django.db import connection
from django.db.models import QuerySet

from timber_stock.actions import set_holder
from timber_stock.models import Board, Log, Species, Supplier
from timber_stock.models.chain import CHAIN_CTE

__all__ = [
    "CHAIN_CTE",
    "Board",
    "Log",
    "Species",
    "Supplier",
    "boards_in_stock",
    "chain_rows",
    "lock_board",
    "set_holder",
    "woods",
]


def woods() -> QuerySet[Species]:
    return Species.objects.by_common_name()


def boards_in_stock() -> QuerySet[Board]:
    return Board.objects.in_stock().for_list()


def lock_board(board_id: int) -> Board:
    """The board, held still until this transaction ends: whoever comes second sees the first."""
    return Board.objects.select_for_update().get(pk=board_id)


def chain_rows(
    *, columns: str, joins: str, board_id: int | None = None, log_id: int | None = None
) -> Iterable[dict]:
    """One query over the whole chain: its recursive part, joined to what the caller asks for."""
    sql = f"{CHAIN_CTE} SELECT {columns} FROM chain {joins}"
    with connection.cursor() as cursor:
        cursor.execute(sql, {"board_id": board_id, "log_id": log_id})
        names = [column[0] for column in cursor.description]
        return [dict(zip(names, row, strict=True)) for row in cursor.fetchall()]
