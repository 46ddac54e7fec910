"""The saw sheet: what the sawyer works from, ticked off as each cut is made."""

from dataclasses import dataclass

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from timber_stock.actions import tick_cut, untick_cut
from timber_stock.drawings.sheet_sections import StageDrawn, stage_drawn
from timber_stock.forms.cut import CutForm
from timber_stock.models import SawingPlan
from timber_stock.models.plan_state import Told, as_it_stands, over_mm_of, tags_sawn_again
from timber_stock.sawing.saw_sheet import SheetCut, Stage
from timber_stock.sawing.saw_sheet import saw_sheet as sheet_of
from timber_stock.web.pages import own_units, signed_by


@dataclass(frozen=True)
class StageShown:
    number: int
    stage: Stage
    drawn: list[StageDrawn]
    done: bool


def saw_sheet(request, pk):
    plan = _plan(pk)
    return render(request, "timber_stock/saw_sheet.html", _sheet(request, plan))


@require_POST
def cut_done(request, pk, step):
    """Tick a cut, with how it came; or take the last tick back."""
    plan = _plan(pk)
    try:
        if "undo" in request.POST:
            untick_cut(plan=plan, step=step)
        elif not _tick(request, plan, step):
            context = _sheet(request, plan, request.POST)
            return render(request, "timber_stock/saw_sheet.html", context, status=422)
    except ValidationError as error:
        messages.error(request, " ".join(error.messages))
    return redirect(f"{_address(plan)}#next")


def _address(plan: SawingPlan) -> str:
    return reverse("timber_stock:saw_sheet", args=[plan.pk])


def _plan(pk) -> SawingPlan:
    return get_object_or_404(SawingPlan.objects.for_list(), pk=pk)


def _stages(plan: SawingPlan, told: Told) -> list[Stage]:
    return sheet_of(told.request, told.layout, plan.cuts(), over_mm_of(plan))


def _cut(stages: list[Stage], step: int | None) -> SheetCut | None:
    return next((cut for stage in stages for cut in stage.cuts if cut.step == step), None)


def _tick(request, plan, step) -> bool:
    """Tick the cut as the form says it came; False when the form cannot be read."""
    cut = _cut(_stages(plan, as_it_stands(plan)), step)
    if cut is None:
        raise ValidationError("This plan has no such cut.")
    form = CutForm(cut, request.POST, units=own_units(request))
    if not form.is_valid():
        return False
    boards = tick_cut(
        plan=plan, step=step, made_by=signed_by(request), over_mm=form.over_mm(),
        sizes_mm=form.sizes_mm(),
    )  # fmt: skip
    for board in boards:
        messages.success(request, f"{board.tag} is in stock: {board.sawn_as.label}.")
    return True


def _shown(told: Told, stage: Stage, number: int, made: dict) -> StageShown:
    done = all(cut.step in made for cut in stage.cuts)
    return StageShown(number, stage, stage_drawn(told, stage, number), done)


def _boxed(plan: SawingPlan) -> list[str]:
    """The timbers that hold the heart."""
    timbers = [timber for bolt in plan.plan["bolts"] for timber in bolt["timbers"]]
    return sorted({t["id"] for t in timbers if t["heart_clearance_mm"] <= 0})


def _sheet(request, plan, data=None) -> dict:
    told = as_it_stands(plan)
    stages, made = _stages(plan, told), over_mm_of(plan)
    following = plan.next_step()
    cut = _cut(stages, following)
    can_tick = cut is not None and not plan.is_superseded()
    return {
        "plan": plan, "log": plan.log, "made": made, "next_step": following,
        "stages": [
            _shown(told, stage, n, made) for n, stage in enumerate(stages, start=1)
        ],
        "form": CutForm(cut, data, units=own_units(request)) if can_tick else None,
        "last_made": max(made, default=None), "boxed": _boxed(plan),
        "board_tags": tags_sawn_again(plan),
        "freed_whom": {line["id"]: line.get("for", "") for line in plan.request["wanted"]},
        "can_tick": can_tick,
    }  # fmt: skip
