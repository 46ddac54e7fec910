"""The log to ask a mill for when there is none, and which of the yard's own serve a list best."""

import time
from dataclasses import dataclass

from django.shortcuts import get_object_or_404, render

from timber_stock.actions import keep_reckoning
from timber_stock.actions.log_choice import choose_logs
from timber_stock.drawings.log_wanted_plot import farthest_offset_mm, log_wanted_svg
from timber_stock.forms.log_wanted import LogChoiceForm, LogWantedForm
from timber_stock.measure import mm_from_inches
from timber_stock.models import CuttingList, LogReckoning
from timber_stock.models.plan_request import timbers_asked
from timber_stock.sawing import log_wanted as least
from timber_stock.sawing.request import Saw
from timber_stock.web.pages import own_units

SECONDS = 6.0
OFFSETS = (0.0, 0.5)  # of half the least clearance and depth: a heart in the middle, and one off it
FIRST = {
    "trim_mm": mm_from_inches(3),
    "kerf_mm": mm_from_inches(1 / 8),
    "crosscut_kerf_mm": mm_from_inches(3 / 8),
}


@dataclass(frozen=True)
class Asked:
    """What to ask of a mill."""

    length_mm: float
    alone: list[tuple]  # item, least diameter, whether the closed form is the whole answer
    sought: list[least.Sought]
    svg: str

    def ask_mm(self) -> float | None:
        """For a heart in the middle, the safe thing to ask for."""
        return self.sought[0].diameter_mm if self.sought else None


def log_wanted(request, pk):
    listed = get_object_or_404(CuttingList, pk=pk)
    items, units = list(listed.items.all()), own_units(request)
    form = LogWantedForm(
        request.GET if "kerf_mm" in request.GET else None, units=units, initial=FIRST
    )
    asked = None
    if items and form.is_valid():
        try:
            asked = _ask(items, form.cleaned_data, form.saw(), units)
        except ValueError as error:
            form.add_error(None, str(error))
        else:
            keep_reckoning(
                cutting_list=listed, items=items, said=form.cleaned_data, sought=asked.sought
            )
    context = {
        "list": listed, "items": items, "form": form, "asked": asked,
        "closed_form": least.CLOSED_FORM, "said": form.cleaned_data if asked else None,
        "kept": None if asked else _kept(listed, items), "seconds": SECONDS,
    }  # fmt: skip
    status = 422 if form.is_bound and form.errors else 200
    return render(request, "timber_stock/log_wanted.html", context, status=status)


def _kept(listed: CuttingList, items) -> dict | None:
    """What was reckoned before, and whether the list still asks for the same."""
    kept = LogReckoning.objects.filter(cutting_list=listed).first()
    if kept is None:
        return None
    first = kept.sought()[0] if kept.found else None
    return {
        "on": kept.reckoned_at, "holds": kept.is_of(items),
        "small_end_mm": first.diameter_mm if first else None,
    }  # fmt: skip


def _ask(items, said, saw: Saw, units: str) -> Asked:
    wanted = timbers_asked(items, saw)
    longest = max(timber.length_mm for timber in wanted)
    inside, sapwood = longest, said["sapwood_mm"]
    if said["length_mm"]:
        inside = said["length_mm"] - 2 * said["trim_mm"]
    if inside <= 0:
        raise ValueError("The trim at both ends takes the whole log.")
    sought = _seek(wanted, saw, inside, sapwood)
    alone = [
        (item, least.least_for_timber_mm(timber, sapwood), least.closed_form_decides(timber))
        for item, timber in zip(items, wanted, strict=True)
    ]
    return Asked(
        inside + 2 * said["trim_mm"],
        alone,
        sought,
        log_wanted_svg(wanted, inside, sapwood, sought, units),
    )


def _seek(wanted, saw: Saw, length_mm: float, sapwood_mm: float) -> list:
    """For each place of the heart, in its share of the time that is left."""
    until, far = time.monotonic() + SECONDS, farthest_offset_mm(wanted)
    sought = []
    for number, share in enumerate(OFFSETS):
        left = until - time.monotonic()
        sought.append(
            least.seek_diameter(
                wanted, saw, length_mm=length_mm, sapwood_mm=sapwood_mm,
                heart_offset_mm=share * far,
                until=time.monotonic() + left / (len(OFFSETS) - number),
            )
        )  # fmt: skip
    return sought


def log_choice(request, pk):
    listed = get_object_or_404(CuttingList, pk=pk)
    items = list(listed.items.all())
    bound = request.GET if "kerf_mm" in request.GET else None
    form = LogChoiceForm(bound, units=own_units(request), initial=FIRST)
    choice = None
    if items and form.is_valid():
        choice = choose_logs(
            list(form.logs()), items, form.saw(),
            steps=float(form.cleaned_data["steps"]), until=time.monotonic() + SECONDS,
        )  # fmt: skip
    context = {
        "list": listed, "items": items, "form": form, "choice": choice, "seconds": SECONDS,
        "pieces": sum(item.quantity for item in items),
    }  # fmt: skip
    status = 422 if form.is_bound and form.errors else 200
    return render(request, "timber_stock/log_choice.html", context, status=status)
