"""Keeping a plan of a log, and ticking its cuts off as they are made."""

from collections.abc import Mapping
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from timber_stock.models import (
    Board,
    CutMade,
    CuttingList,
    Log,
    PieceSawn,
    PlanState,
    Sawing,
    SawingPlan,
)
from timber_stock.models.board import State
from timber_stock.models.plan_state import Told, as_it_stands, over_mm_of
from timber_stock.models.tag_series import child_tags, give_tags
from timber_stock.sawing.as_cut import Part, replay

from .piece_facts import heart_and_rings, hearts_of
from .pieces import Piece
from .sawing import resaw_board, saw_log
from .tag_book import hold_tag_book

FURTHEST_OVER_MM = 100.0


@transaction.atomic
def keep_plan(
    *,
    log: Log,
    cutting_list: CuttingList | None,
    request: dict[str, Any],
    plan: dict[str, Any],
    made_by: str,
    why: str,
    supersedes: SawingPlan | None = None,
    cuts_known: int | None = None,
) -> SawingPlan:
    """Keep a new version. `cuts_known` is how many cuts of the old one it was planned after."""
    log = Log.objects.select_for_update().get(pk=log.pk)
    if log.is_sawn_up:
        raise ValidationError(f"{log.tag} is sawn up: there is nothing left of it to plan.")
    if supersedes:
        supersedes = SawingPlan.objects.select_for_update().get(pk=supersedes.pk)
        _check_still_stands(supersedes)
        if cuts_known is not None and supersedes.cuts_made.count() != cuts_known:
            raise ValidationError("Cuts were made while the rest was being planned: plan it again.")
    last = log.plans.order_by("-number").values_list("number", flat=True).first()
    kept = SawingPlan(
        log=log, cutting_list=cutting_list, number=(last or 0) + 1, request=request, plan=plan,
        made_by=made_by, why=why, supersedes=supersedes,
        state=PlanState.PLANNED,
    )  # fmt: skip
    kept.full_clean()
    kept.save()
    return kept


@transaction.atomic
def tick_cut(
    *,
    plan: SawingPlan,
    step: int,
    made_by: str,
    over_mm: float = 0.0,
    sizes_mm: Mapping[int, tuple[float, float, float]] | None = None,
) -> list[Board]:
    """Record a cut as it came; the timbers it frees become boards, which are returned.

    `over_mm` is how much higher than planned it came. `sizes_mm` gives the thickness, width and
    length of a freed timber as measured, by its place among those freed; the others are taken as
    the cuts left them.
    """
    hold_tag_book()
    plan = SawingPlan.objects.select_for_update().select_related("log").get(pk=plan.pk)
    _check_still_stands(plan)
    _check_is_next(plan, step)
    if not abs(over_mm) <= FURTHEST_OVER_MM:
        raise ValidationError(
            "A cut that far from its place is not the cut of this plan: say what was met and plan "
            "the rest again."
        )
    CutMade.objects.create(plan=plan, step=step, made_by=made_by, over_mm=over_mm)
    boards = _take_off(plan, step, made_by, sizes_mm or {})
    plan.state = PlanState.SAWN if plan.next_step() is None else PlanState.BEING_SAWN
    plan.save(update_fields=["state"])
    return boards


@transaction.atomic
def untick_cut(*, plan: SawingPlan, step: int) -> None:
    """Take back the last tick, made by mistake; not once it has put boards into stock."""
    plan = SawingPlan.objects.select_for_update().get(pk=plan.pk)
    _check_still_stands(plan)
    last = plan.cuts_made.order_by("-step").first()
    if last is None or last.step != step:
        raise ValidationError("Only the last cut ticked can be taken back.")
    if plan.pieces_sawn.filter(step=step).exists():
        raise ValidationError(
            "That cut put timber into stock, so it stays: correct the boards themselves."
        )
    last.delete()
    plan.state = PlanState.BEING_SAWN if plan.cuts_made.exists() else PlanState.PLANNED
    plan.save(update_fields=["state"])


def _check_still_stands(plan: SawingPlan) -> None:
    if plan.is_superseded():
        raise ValidationError(
            f"Plan {plan.superseded_by.number} of {plan.log.tag} has taken the place of this one: "
            "work from that."
        )


def _check_is_next(plan: SawingPlan, step: int) -> None:
    following = plan.next_step()
    if following is None:
        raise ValidationError("Every cut of this plan has been ticked.")
    if step < following:
        raise ValidationError(f"Cut {step} has been ticked already.")
    if step != following:
        raise ValidationError(f"The next cut is {following}: tick the cuts in their order.")


def _take_off(
    plan: SawingPlan, step: int, made_by: str, sizes_mm: Mapping[int, tuple[float, float, float]]
) -> list[Board]:
    """Put the timbers that this cut set free into stock."""
    told = as_it_stands(plan)
    cuts = [cut for cut in plan.cuts() if cut["step"] <= step]
    cutting = replay(told.request, told.layout, cuts, over_mm_of(plan))[-1]
    sizes = {part: sizes_mm[i] for i, part in enumerate(cutting.freed) if i in sizes_mm}
    number = cutting.before.bolt
    source = _source(plan, number)
    freed = cutting.freed
    if isinstance(source, Board):
        # A board goes through the saw once: all that came of it is entered with its last cut.
        last = max(cut["step"] for cut in plan.cuts() if cut["bolt"] == number)
        here = [part for part in cutting.after if part.bolt == number and part.freed]
        freed = tuple(here) if step == last else ()
    if not freed:
        return []
    tags = _tags(source, len(freed))
    state = source.state if isinstance(source, Board) else State.GREEN
    pieces = [
        Piece(tag, *(sizes.get(part) or _as_cut(part)), **heart_and_rings(told, part), state=state)
        for tag, part in zip(tags, freed, strict=True)
    ]
    sawing = _through_the_saw(source, pieces, made_by, told, f"Cut {step} of plan {plan.number}.")
    boards = {board.tag: board for board in sawing.pieces.all()}
    return [
        _as_sawn(plan, step, told, part, boards[tag]) for tag, part in zip(tags, freed, strict=True)
    ]


def _source(plan: SawingPlan, number: int) -> Log | Board:
    """What the bolt is a piece of: the log, or a board sawn from it before."""
    board_id = plan.plan["bolts"][number].get("board")
    return Board.objects.get(pk=board_id) if board_id else plan.log


def _through_the_saw(source, pieces, made_by: str, told: Told, note: str) -> Sawing:
    about = {
        "pieces": pieces, "sawn_on": timezone.localdate(), "sawn_by": made_by,
        "kerf_mm": told.request.saw.kerf_mm, "note": note,
    }  # fmt: skip
    if isinstance(source, Board):
        return resaw_board(board=source, **about)
    return saw_log(log=source, **about)


def _as_sawn(plan, step, told: Told, part: Part, board: Board) -> Board:
    """Remember which timber of the plan the board is, and where in the section it lay."""
    placed = told.placed(part)
    row = told.wanted_row(placed.line)
    PieceSawn.objects.create(
        plan=plan, step=step, label=row["id"], for_whom=row.get("for", ""),
        bolt=part.bolt, timber=part.timbers[0],
        roll_deg=told.layout[part.bolt].roll_deg, spans_mm=[list(s) for s in part.sawn],
        wide_x=placed.wide_x, board=board,
    )  # fmt: skip
    hearts = hearts_of(told, part)
    for name, value in hearts.items():
        setattr(board, name, value)
    note = f"{row['id']}, for {row['for']}" if row.get("for") else row["id"]
    board.note = f"Sawn as {note} (plan {plan.number}, cut {step})."
    board.save(update_fields=["note", *hearts])
    return board


def _as_cut(part: Part) -> tuple[float, float, float]:
    across = sorted(high - low for low, high in part.sawn[:2])
    return across[0], across[1], part.sawn[2][1] - part.sawn[2][0]


def _tags(source: Log | Board, count: int) -> list[str]:
    taken = [
        tag
        for kind in (Log, Board)
        for tag in kind.objects.filter(tag__istartswith=source.tag).values_list("tag", flat=True)
    ]
    is_log = isinstance(source, Log)
    rows = give_tags([("", count)], lambda: child_tags(source.tag, is_log=is_log), taken)
    return rows[0]
