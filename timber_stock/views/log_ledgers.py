"""The yield of a log: as planned and as it was sawn, and what each piece of it cost."""

from dataclasses import dataclass

from django.shortcuts import get_object_or_404, render

from timber_stock.actions import kerf_volume_mm3
from timber_stock.models import Board, Log, SawingPlan
from timber_stock.models.tag_series import natural_order
from timber_stock.sawing.ledger import Yield, spread, trim_mm3
from timber_stock.sawing.read_layout import parse_layout
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.request import Log as Solid

ROWS = (
    ("timbers_mm3", "Timbers"),
    ("by_products_mm3", "By-products"),
    ("sawdust_mm3", "Sawdust"),
    ("trim_mm3", "Trimmed ends"),
    ("slabs_mm3", "Slabs, edgings and ends"),
    ("unsawn_mm3", "Not sawn yet"),
)


@dataclass(frozen=True)
class Row:
    name: str
    planned_mm3: float | None
    planned_percent: float | None
    sawn_mm3: float | None
    sawn_percent: float | None


@dataclass(frozen=True)
class Costed:
    board: Board
    coins: int | None

    def amount(self):
        return None if self.coins is None else self.coins / 100


def log_ledger(request, pk):
    log = get_object_or_404(Log.objects.for_list(), pk=pk)
    plan = _begun_with(log)
    pieces = sorted(
        Board.objects.filter(sawing__source_log=log).select_related("sawn_as"),
        key=lambda board: natural_order(board.tag),
    )
    trouble, planned, sawn = "", None, None
    try:
        planned = _as_planned(log, plan) if plan else None
        sawn = _as_sawn(log, pieces) if pieces else None
    except ValueError as error:
        trouble = str(error)
    context = {
        "log": log, "plan": plan, "planned": planned, "sawn": sawn, "trouble": trouble,
        "rows": _rows(planned, sawn), "costed": _costed(log, pieces),
    }  # fmt: skip
    return render(request, "timber_stock/log_ledger.html", context)


def _begun_with(log: Log) -> SawingPlan | None:
    """The plan as it stood before the saw: the standing one, back past what was planned again."""
    plan = SawingPlan.objects.filter(log=log).standing().order_by("-number").first()
    while plan and plan.plan.get("rest") and plan.supersedes:
        plan = plan.supersedes
    return plan


def _as_planned(log: Log, plan: SawingPlan) -> Yield:
    """Sawdust is counted as for a sawing: one cut along the wide face of each piece."""
    asked = parse_request(plan.request)
    layout = parse_layout(asked, plan.plan["bolts"])
    lines = [timber.line for bolt in layout for timber in bolt.timbers]
    stock = {n for n, row in enumerate(plan.request["wanted"]) if row.get("by_product")}
    wanted = [asked.wanted[line] for line in lines if line not in stock]
    extra = [asked.wanted[line] for line in lines if line in stock]
    dust = kerf_volume_mm3(wanted + extra, asked.saw.kerf_mm)
    return Yield(log.solid_mm3, _volume(wanted), _volume(extra), dust, _trim(log))


def _for_stock(log: Log) -> set[tuple[int, str]]:
    """Which timbers of which plans of the log were put in for stock: plan and mark."""
    plans = SawingPlan.objects.filter(log=log).values_list("pk", "request")
    return {
        (pk, row["id"])
        for pk, request in plans
        for row in request["wanted"]
        if row.get("by_product")
    }


def _as_sawn(log: Log, pieces: list[Board]) -> Yield:
    """What came off this log at its own sawings; what was resawn since is counted as it came.

    Where a plan was sawn, what it wanted is its timbers; what it put in round them for stock, and
    whatever else came off, are by-products.
    """
    stock = _for_stock(log)
    planned = [board for board in pieces if hasattr(board, "sawn_as")]
    wanted = [b for b in planned if (b.sawn_as.plan_id, b.sawn_as.label) not in stock]
    timbers = sum(board.volume_mm3() for board in (wanted if planned else pieces))
    extra = sum(board.volume_mm3() for board in pieces) - timbers
    dust = sum(sawing.kerf_mm3 for sawing in log.sawings.all())
    left = log.unsawn_mm3()
    trim = min(_trim(log), max(0.0, log.solid_mm3 - timbers - extra - dust - left))
    return Yield(log.solid_mm3, timbers, max(0.0, extra), dust, trim, left)


def _volume(lines) -> float:
    return sum(line.volume_mm3 for line in lines)


def _trim(log: Log) -> float:
    whole = Solid(log.length_mm, log.across("butt"), log.across("top"), (0, 0), (0, 0))
    return trim_mm3(whole, log.butt_trim_mm, log.top_trim_mm)


def _rows(planned: Yield | None, sawn: Yield | None) -> list[Row]:
    rows = []
    for name, words in ROWS:
        told = []
        for one in (planned, sawn):
            amount = getattr(one, name) if one else None
            told += [amount, one.share_percent(amount) if one else None]
        if any(told):
            rows.append(Row(words, *told))
    return rows


def _costed(log: Log, pieces: list[Board]) -> list[Costed]:
    """The price of what was sawn out of the log so far, laid on its pieces by volume."""
    if log.price is None or not pieces:
        return [Costed(board, None) for board in pieces]
    coins = round(100 * float(log.price) * log.taken_mm3 / log.solid_mm3)
    laid = spread(coins, [board.volume_mm3() for board in pieces])
    return [Costed(board, coins) for board, coins in zip(pieces, laid, strict=True)]
