"""The log to ask a mill for when there is none, and which of the yard's own serve a list best."""

import time
from dataclasses import dataclass

from django.shortcuts import get_object_or_404, render

from timber_stock.actions.log_choice import choose_logs
from timber_stock.drawings.line_plot import Axis, Dots, Line, line_plot_svg, round_axis
from timber_stock.forms.log_wanted import LogChoiceForm, LogWantedForm
from timber_stock.measure import mm_from_inches
from timber_stock.models import CuttingList
from timber_stock.models.plan_request import timber_as_asked
from timber_stock.sawing import log_wanted as least
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.request import Saw, Wanted
from timber_stock.templatetags.measures import length
from timber_stock.web.pages import own_units

SECONDS = 6.0
OFFSETS = (0.0, 0.5)  # of half the least clearance and depth: a heart in the middle, and one off it
CURVE_POINTS = 25
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
    context = {
        "list": listed, "items": items, "form": form, "asked": asked,
        "closed_form": least.CLOSED_FORM, "said": form.cleaned_data if asked else None,
    }  # fmt: skip
    status = 422 if form.is_bound and form.errors else 200
    return render(request, "timber_stock/log_wanted.html", context, status=status)


def _ask(items, said, saw: Saw, units: str) -> Asked:
    wanted = as_wanted(items, saw)
    longest = max(timber.length_mm for timber in wanted)
    inside, sapwood = longest, said["sapwood_mm"]
    if said["length_mm"]:
        inside = said["length_mm"] - 2 * said["trim_mm"]
    if inside <= 0:
        raise ValueError("The trim at both ends takes the whole log.")
    until = time.monotonic() + SECONDS
    far = _farthest_offset(wanted)
    sought = []
    for number, share in enumerate(OFFSETS, 1):
        left = until - time.monotonic()
        stop = time.monotonic() + left / (len(OFFSETS) - number + 1)
        sought.append(
            least.seek_diameter(
                wanted, saw, length_mm=inside, sapwood_mm=sapwood,
                heart_offset_mm=share * far, until=stop,
            )
        )  # fmt: skip
    alone = [
        (item, least.least_for_timber_mm(timber, sapwood), least.closed_form_decides(timber))
        for item, timber in zip(items, wanted, strict=True)
    ]
    return Asked(
        inside + 2 * said["trim_mm"],
        alone,
        sought,
        _chart(wanted, inside, sapwood, far, sought, units),
    )


def as_wanted(items, saw: Saw) -> tuple[Wanted, ...]:
    """The lines as the planner reads them, checked as it checks them."""
    asked = parse_request(
        {
            "log": {
                "length_mm": 1e5, "butt_diameter_mm": [9e5, 9e5], "top_diameter_mm": [9e5, 9e5],
                "butt_pith_mm": [0, 0], "top_pith_mm": [0, 0],
            },
            "saw": {"kerf_mm": saw.kerf_mm, "crosscut_kerf_mm": saw.crosscut_kerf_mm},
            "wanted": [timber_as_asked(item) for item in items],
        }
    )  # fmt: skip
    return asked.wanted


def _farthest_offset(wanted) -> float:
    """Past this no timber gains by a heart further over."""
    gains = [
        t.heart_clearance_mm + t.width_mm / 2 for t in wanted if t.heart_clearance_mm is not None
    ]
    return max(gains, default=50.0)


def _chart(wanted, inside_mm, sapwood_mm, far_mm, sought, units) -> str:
    """Diameter against heart offset: what no log may be under, and what a search filled."""
    metric = units == "metric"
    unit, one = ("mm", 1.0) if metric else ("in", mm_from_inches(1))
    offsets = [far_mm * n / (CURVE_POINTS - 1) for n in range(CURVE_POINTS)]
    curve = [
        (e / one, least.least_for_list_mm(wanted, inside_mm, sapwood_mm, e) / one) for e in offsets
    ]
    found = [
        (s.heart_offset_mm / one, s.diameter_mm / one) for s in sought if s.diameter_mm is not None
    ]
    heights = [y for _, y in [*curve, *found]]
    y_axis = round_axis(f"diameter, {unit}", max(heights), least=min(heights) * 0.9)
    x_axis: Axis = round_axis(f"heart off the middle, {unit}", far_mm / one)
    words = "; ".join(
        f"heart {length(s.heart_offset_mm, units)} off: {length(s.diameter_mm, units)}"
        for s in sought
    )
    return line_plot_svg(
        f"Least diameter of a log against how far its heart is off the middle. {words}.",
        x_axis,
        y_axis,
        [
            Line("no log under this line holds the list", curve, dash="6 4"),
            Dots("a search filled this log with all of it", found),
        ],
    )


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
