"""Searching for a plan without keeping anybody waiting.

A search is a row that says how far it has come, and a thread that carries it. The thread alone
touches the database; the sawing code runs beside it in a thread of its own, and is told to stop
through an event. When the process dies the row gives no more signs of life and is said to be lost.
"""

import logging
import threading
from typing import Any

from django.core.exceptions import ValidationError
from django.db import connections, transaction
from django.utils import timezone

from timber_stock.models import CuttingList, Log, PlanSearch, SawingPlan
from timber_stock.models.search_state import running_searches
from timber_stock.sawing.read_layout import parse_layout
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.request import Wanted
from timber_stock.sawing.ways_to_saw import plan_beside_ways, plan_from

from .plans import keep_plan
from .sawn_again import with_boards

logger = logging.getLogger(__name__)

MOST_AT_ONCE = 2
LEAST_SECONDS, MOST_SECONDS = 0.5, 120.0
BEAT_S = 0.5
GRACE_S = 20.0  # beyond the time allowed, for writing the plan down


@transaction.atomic
def begin_search(
    *,
    log: Log,
    cutting_list: CuttingList | None,
    request: dict[str, Any],
    seconds: float,
    why: str,
    made_by: str,
    supersedes: SawingPlan | None = None,
    start: dict[str, Any] | None = None,
) -> PlanSearch:
    """Write the search down and set it going once that is kept.

    `start` gives the bolts (and pinned timbers) to keep to, what else the new plan is to carry,
    and how many cuts of the old plan were made when it was drawn up.
    """
    log = Log.objects.select_for_update().get(pk=log.pk)
    if log.is_sawn_up:
        raise ValidationError(f"{log.tag} is sawn up: there is nothing left of it to plan.")
    _check_asked(request, seconds, start)
    if running_searches().count() >= MOST_AT_ONCE:
        raise ValidationError(
            "Two searches are going already, as many as this machine carries. Stop one, or wait."
        )
    search = PlanSearch(
        log=log, cutting_list=cutting_list, supersedes=supersedes, request=request, start=start,
        seconds=seconds, why=why, made_by=made_by, beat_at=timezone.now(),
    )  # fmt: skip
    search.full_clean()
    search.save()
    transaction.on_commit(lambda: _set_going(search.pk))
    return search


def _check_asked(request: dict[str, Any], seconds: float, start: dict[str, Any] | None) -> None:
    if not LEAST_SECONDS <= seconds <= MOST_SECONDS:
        raise ValidationError(
            f"Allow the search between {LEAST_SECONDS:g} and {MOST_SECONDS:g} seconds."
        )
    try:
        asked = parse_request(request)
        if start is not None:
            parse_layout(asked, start["bolts"])
    except ValueError as error:
        raise ValidationError(str(error)) from error
    if not any(timber.quantity for timber in asked.wanted):
        raise ValidationError("Nothing is wanted: there is nothing to plan.")


def ask_to_stop(*, search: PlanSearch) -> None:
    """The search ends within a second or so, with the best it has so far."""
    PlanSearch.objects.filter(pk=search.pk).update(stop_asked=True)


def _set_going(search_id: int) -> None:
    threading.Thread(
        target=carry_in_thread, args=(search_id,), name=f"plan-search-{search_id}", daemon=True
    ).start()


def carry_in_thread(search_id: int) -> None:
    try:
        carry(search_id)
    finally:
        connections.close_all()


def carry(search_id: int) -> None:
    """Carry a search to its end and keep its plan; whatever goes wrong is written on the row."""
    search = PlanSearch.objects.select_related("log", "cutting_list", "supersedes").get(
        pk=search_id
    )
    work = _Work(search)
    try:
        plan = work.await_plan()
        kept = _keep(search, plan)
    except (ValueError, TimeoutError) as error:
        _end(search_id, state=PlanSearch.State.FAILED, ended_why=str(error))
    except ValidationError as error:
        _end(search_id, state=PlanSearch.State.FAILED, ended_why=" ".join(error.messages))
    except Exception:
        logger.exception("The search for a plan of %s failed", search.log)
        said = "The search ended by a fault of the program, which is noted in the site's log."
        _end(search_id, state=PlanSearch.State.FAILED, ended_why=said)
    else:
        _end(search_id, state=PlanSearch.State.DONE, plan=kept, share=1.0)


def _end(search_id: int, **ended: Any) -> None:
    PlanSearch.objects.filter(pk=search_id).update(beat_at=timezone.now(), **ended)


def _keep(search: PlanSearch, plan: dict[str, Any]) -> SawingPlan:
    start = search.start or {}
    stopped = plan["search"]["cut_short"] and _is_stop_asked(search.pk)
    why = f"{search.why} The search was stopped early." if stopped else search.why
    return keep_plan(
        log=search.log, cutting_list=search.cutting_list, request=_with_extra(search, plan),
        plan=plan | start.get("carry", {}), made_by=search.made_by, why=why,
        supersedes=search.supersedes, cuts_known=start.get("cuts_known"),
    )  # fmt: skip


def _with_extra(search: PlanSearch, plan: dict[str, Any]) -> dict[str, Any]:
    """The request, with a line for each stock size that fits round what was asked."""
    extra = plan.get("extra", {})
    rows = [
        row | {"quantity": extra[row["id"]]}
        for row in search.request.get("stock_sizes", [])
        if row["id"] in extra
    ]
    return search.request | {"wanted": [*search.request["wanted"], *rows], "stock_sizes": []}


def _stock_sizes(request: dict[str, Any]) -> tuple[Wanted, ...]:
    rows = request.get("stock_sizes", [])
    return parse_request(request | {"wanted": rows}).wanted if rows else ()


def _is_stop_asked(search_id: int) -> bool:
    return PlanSearch.objects.filter(pk=search_id, stop_asked=True).exists()


class _Work:
    """The sawing code at work in a thread that knows no database."""

    def __init__(self, search: PlanSearch):
        self.search = search
        self.stop = threading.Event()
        self.share, self.best_mm3 = 0.0, 0.0
        self.plan: dict[str, Any] | None = None
        self.error: BaseException | None = None

    def await_plan(self) -> dict[str, Any]:
        worker = threading.Thread(target=self._work, daemon=True)
        worker.start()
        waited = 0.0
        while worker.is_alive() and waited < self.search.seconds + GRACE_S:
            worker.join(BEAT_S)
            waited += BEAT_S
            self._beat()
        if worker.is_alive():
            self.stop.set()
            raise TimeoutError("The search did not end in the time allowed and was given up.")
        if self.error is not None:
            raise self.error
        return self.plan or {}

    def _work(self) -> None:
        try:
            self.plan = self._planned()
        except BaseException as error:
            self.error = error

    def _planned(self) -> dict[str, Any]:
        request, seconds = parse_request(self.search.request), self.search.seconds
        if self.search.start is None:
            sizes = _stock_sizes(self.search.request)
            return plan_beside_ways(
                request, seconds, self.stop.is_set, self._told, stock_sizes=sizes
            )
        bolts = parse_layout(request, self.search.start["bolts"])
        if not bolts:
            raise ValueError("No piece is left that could hold a timber still wanted.")
        plan = plan_from(request, bolts, seconds, self.stop.is_set, self._told)
        plan["bolts"] = with_boards(plan["bolts"], self.search.start["bolts"])
        return plan | _without_bucking_again(self.search.start, plan)

    def _told(self, share: float, best_mm3: float) -> None:
        self.share, self.best_mm3 = share, max(self.best_mm3, best_mm3)

    def _beat(self) -> None:
        rows = PlanSearch.objects.filter(pk=self.search.pk)
        rows.update(beat_at=timezone.now(), share=self.share, best_mm3=self.best_mm3)
        if _is_stop_asked(self.search.pk):
            self.stop.set()


def _without_bucking_again(start: dict[str, Any], plan: dict[str, Any]) -> dict[str, Any]:
    """The pieces were crosscut apart already, so no cut is needed between them."""
    if not start.get("apart"):
        return {}
    cuts = [cut for cut in plan["cuts"] if cut["piece"] != "log"]
    return {"cuts": [cut | {"step": step} for step, cut in enumerate(cuts, start=1)]}
