"""Pieces sawn already that may be sawn thinner: how they come back into a plan, and out of it."""

from collections.abc import Iterable
from typing import Any

from django.core.exceptions import ValidationError

from timber_stock.models import Board, Log, PieceSawn, SawingPlan

HAIR_MM = 0.005  # a piece holds the very timber it was sawn to


def may_be_sawn_again(log: Log):
    """Boards sawn to a plan of this log that are in stock and held for nobody."""
    return (
        Board.objects.in_stock()
        .free()
        .filter(sawn_as__plan__log=log)
        .select_related("sawn_as")
        .order_by("pk")
    )


def bolts_of(boards: Iterable[Board], length_mm: float) -> list[dict[str, Any]]:
    """Each board as a piece of the log with four sawn faces, where it lay in it."""
    pieces = PieceSawn.objects.filter(board__in=list(boards)).order_by("pk")
    return [_bolt(piece, length_mm) for piece in pieces]


def _bolt(piece: PieceSawn, length_mm: float) -> dict[str, Any]:
    (x0, x1), (y0, y1), (z0, z1) = piece.spans_mm
    return {
        "from_mm": max(0.0, z0 - HAIR_MM), "to_mm": min(length_mm, z1 + HAIR_MM),
        "roll_deg": piece.roll_deg, "roll_settled": True, "timbers": [], "board": piece.board_id,
        "faces": [x0 - HAIR_MM, x1 + HAIR_MM, y0 - HAIR_MM, y1 + HAIR_MM],
    }  # fmt: skip


def waiting_boards(plan: SawingPlan) -> list[dict[str, Any]]:
    """Boards that a plan would saw again and that still lie uncut, as bolts without timbers."""
    made = set(plan.cuts_made.values_list("step", flat=True))
    waiting = []
    for number, bolt in enumerate(plan.plan["bolts"]):
        steps = {cut["step"] for cut in plan.cuts() if cut["bolt"] == number}
        if not bolt.get("board") or (steps and steps <= made):
            continue
        if steps & made:
            tag = Board.objects.get(pk=bolt["board"]).tag
            raise ValidationError(
                f"{tag} is on the saw: make its cuts first, then plan the rest again."
            )
        waiting.append(bolt | {"timbers": []})
    return waiting


def with_boards(bolts: list[dict], like: list[dict]) -> list[dict]:
    """The bolts, each told which board it is where `like` says so of the same piece."""
    known = {_key(bolt): bolt["board"] for bolt in like if bolt.get("board")}
    return [bolt | ({"board": known[_key(bolt)]} if _key(bolt) in known else {}) for bolt in bolts]


def _key(bolt: dict) -> tuple:
    return bolt["from_mm"], bolt["to_mm"], *(bolt.get("faces") or ())
