"""Planning the rest of a log again, with what is cut left alone."""

from collections.abc import Sequence
from typing import Any

from timber_stock.models import Board, PlanSearch, SawingPlan
from timber_stock.models.plan_state import Told, as_it_stands, parts_now
from timber_stock.sawing.as_cut import Part
from timber_stock.sawing.read_layout import layout_data, parse_layout
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.request import Request
from timber_stock.sawing.rest import changes, faults_now, rest_of_log
from timber_stock.sawing.ways_to_saw import placed_ids

from .plan_search import begin_search
from .sawn_again import bolts_of, waiting_boards


def plan_rest_again(
    *,
    plan: SawingPlan,
    log_as_met: dict[str, Any],
    seconds: float,
    why: str,
    made_by: str,
    again: Sequence[Board] = (),
) -> PlanSearch:
    """Search for the best use of every piece not sawn to its timber yet.

    `log_as_met` is the log of the request, with what was met in it. Timbers freed already keep
    their places and are judged again against the log as it is known now; those named in `again`
    may be sawn thinner where that serves better.
    """
    told = as_it_stands(plan)
    waiting = waiting_boards(plan)
    parts = [part for part in parts_now(plan, told) if not _board_of(plan, part)]
    freed = [told.id_of(part) for part in parts if part.freed]
    back = [board.sawn_as.label for board in again]
    request = _rest_request(plan, log_as_met, freed, back)
    start = None
    if plan.cuts_made.exists() or "sawn" in plan.plan or plan.plan.get("rest"):
        left = parse_request(request)
        pieces = layout_data(left, rest_of_log(left, told.layout, parts))
        boards = [*waiting, *bolts_of(again, left.log.length_mm)]
        sawn = sawn_before(plan, told, log_as_met)
        kept = [row for row in sawn if row["board"] not in _ids_of(again)]
        start = {
            "bolts": [*pieces, *boards],
            "apart": True,
            "cuts_known": plan.cuts_made.count(),
            "carry": {"rest": True, "sawn": kept},
        }
    return begin_search(
        log=plan.log, cutting_list=plan.cutting_list, request=request, seconds=seconds, why=why,
        made_by=made_by, supersedes=plan, start=start,
    )  # fmt: skip


def _board_of(plan: SawingPlan, part: Part) -> int | None:
    return plan.plan["bolts"][part.bolt].get("board")


def _ids_of(boards: Sequence[Board]) -> set[int]:
    return {board.pk for board in boards}


def _rest_request(
    plan: SawingPlan, log_as_met: dict[str, Any], freed: list[str], back: list[str]
) -> dict[str, Any]:
    """What is still wanted: less what was freed, and again what may be sawn into something else."""
    rows = []
    for line in plan.request["wanted"]:
        line = dict(line)
        asked = line.pop("asked", line["quantity"])
        had = freed.count(line["id"]) - back.count(line["id"])
        line["quantity"] = max(0, asked - had)
        rows.append(line)
    return plan.request | {"log": log_as_met, "wanted": rows}


def sawn_before(plan: SawingPlan, told: Told, log_as_met: dict[str, Any]) -> list[dict[str, Any]]:
    """What has been sawn so far, each with the faults it has in the log as now known."""
    known = parse_request(plan.request | {"log": log_as_met})
    before = [dict(row) for row in plan.plan.get("sawn", [])]
    now = [
        _sawn_row(piece, plan, told, known) for piece in plan.pieces_sawn.select_related("board")
    ]
    return before + now


def _sawn_row(piece, plan: SawingPlan, told: Told, known: Request) -> dict[str, Any]:
    placed = told.layout[piece.bolt].timbers[piece.timber]
    faults = faults_now(known, piece.roll_deg, placed)
    return {
        "id": piece.label, "for": piece.for_whom, "plan": plan.number, "step": piece.step,
        "board": piece.board_id, "tag": piece.board.tag if piece.board else "",
        "faults": list(faults),
    }  # fmt: skip


def changes_since(plan: SawingPlan) -> list[dict[str, Any]]:
    """Each timber of which this version gives more or fewer than the version before it, with whom
    it is for. Timbers sawn already count in both."""
    old = plan.supersedes
    if old is None:
        return []
    had = _ids(old) + [row["id"] for row in old.plan.get("sawn", [])]
    has = _ids(plan) + [row["id"] for row in plan.plan.get("sawn", [])]
    whom = {line["id"]: line.get("for", "") for line in plan.request["wanted"]}
    return [
        {"id": name, "for": whom.get(name, ""), "before": before, "now": now}
        for name, before, now in changes(had, has)
    ]


def _ids(plan: SawingPlan) -> list[str]:
    request = parse_request(plan.request)
    return placed_ids(request, parse_layout(request, plan.plan["bolts"]))
