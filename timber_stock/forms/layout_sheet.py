"""A layout as a page sends it: a row a timber, the roll of each bolt, the station looked at."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.http import QueryDict

from timber_stock.measure import parse_length_mm
from timber_stock.models import SawingPlan
from timber_stock.models.plan_state import as_it_stands
from timber_stock.sawing.layout import Layout
from timber_stock.sawing.read_layout import parse_layout

MOST_ROWS = 300
NUMBERS = ("x_mm", "y_mm", "from_mm")
FIGURES = (*(f"{name}-" for name in NUMBERS), "roll-")
INSIDE_MM = 2.0  # past where a bolt begins, so that a station shown to a sixteenth still lies in it


@dataclass
class Row:
    """One timber of the layout as it stands in the form."""

    key: int
    id: str
    bolt: int
    x_mm: float
    y_mm: float
    from_mm: float
    wide_face: str
    flipped: bool
    pinned: bool

    def data(self) -> dict[str, Any]:
        return {name: value for name, value in vars(self).items() if name not in ("key", "bolt")}


class LayoutSheet:
    """Reads the rows, from the plan itself or from what was sent; ValueError in one sentence."""

    def __init__(self, plan: SawingPlan, data: Mapping[str, str] | None = None):
        self.plan, self.told = plan, as_it_stands(plan)
        self.left_out: list[str] = list(plan.plan.get("left_out", []))
        self.bolts = [dict(bolt) for bolt in plan.plan["bolts"]]
        if data is None or "rows" not in data:
            self.rows = _rows_of(plan.plan["bolts"])
            self.station_mm = self._in_log(_station(data or {}, self._first_station()))
            return
        self.rows = _sent_rows(data)
        for number, bolt in enumerate(self.bolts):
            if not bolt.get("roll_settled"):
                bolt["roll_deg"] = _number(data, f"roll-{number}", bolt["roll_deg"]) % 360
        self.station_mm = self._in_log(_station(data, self._first_station()))
        getlist = getattr(data, "getlist", None)
        self.left_out = list(getlist("left_out")) if getlist else []
        if added := data.get("add", ""):
            self._add(added)

    @property
    def request(self):
        return self.told.request

    def layout(self, *, only_pinned: bool = False) -> Layout:
        return parse_layout(self.request, self.bolts_data(only_pinned=only_pinned))

    def bolts_data(self, *, only_pinned: bool = False) -> list[dict[str, Any]]:
        held: list[list[dict[str, Any]]] = [[] for _ in self.bolts]
        for row in self.rows:
            if not 0 <= row.bolt < len(held):
                raise ValueError(f"{row.id} is in a bolt that this plan does not have.")
            if row.pinned or not only_pinned:
                held[row.bolt].append(row.data())
        return [bolt | {"timbers": held[n]} for n, bolt in enumerate(self.bolts)]

    def rows_by_place(self) -> list[list[Row]]:
        """The rows bolt by bolt, in the order of the layout's timbers."""
        return [[row for row in self.rows if row.bolt == n] for n in range(len(self.bolts))]

    def request_without_left_out(self) -> dict[str, Any]:
        """The plan's request, asking of what is left out no more than is pinned."""
        pinned = [row.id for row in self.rows if row.pinned]
        wanted = []
        for line in self.plan.request["wanted"]:
            line = dict(line)
            asked = line.pop("asked", line["quantity"])
            line["quantity"] = asked
            if line["id"] in self.left_out:
                line |= {"quantity": min(asked, pinned.count(line["id"])), "asked": asked}
            wanted.append(line)
        return self.plan.request | {"wanted": wanted}

    def _first_station(self) -> float:
        bolt = max(self.bolts, key=lambda b: len(b["timbers"]), default=None)
        begins = float(bolt["from_mm"]) if bolt else 0.0
        return begins + INSIDE_MM if begins else 0.0

    def _in_log(self, station: float) -> float:
        return min(max(station, 0.0), self.request.log.length_mm)

    def _add(self, name: str) -> None:
        inside = [
            n for n, b in enumerate(self.bolts) if b["from_mm"] <= self.station_mm <= b["to_mm"]
        ]
        number = inside[0] if inside else 0
        timber = next((t for t in self.request.wanted if t.id == name), None)
        if timber is None or not self.bolts:
            raise ValueError(f"{name[:60]} is not on the cutting list of this plan.")
        x, y = -timber.width_mm / 2, -timber.thickness_mm / 2
        start = float(self.bolts[number]["from_mm"])
        key = max((row.key for row in self.rows), default=-1) + 1
        self.rows.append(Row(key, name, number, x, y, start, "x", False, True))


def _rows_of(bolts: list[dict[str, Any]]) -> list[Row]:
    rows = []
    for number, bolt in enumerate(bolts):
        for timber in bolt["timbers"]:
            rows.append(
                Row(
                    len(rows),
                    timber["id"],
                    number,
                    timber["x_mm"],
                    timber["y_mm"],
                    timber["from_mm"],
                    timber["wide_face"],
                    timber["flipped"],
                    timber.get("pinned", False),
                )
            )
    return rows


def _sent_rows(data: Mapping[str, str]) -> list[Row]:
    keys = [key for key in data.get("rows", "").split(",") if key]
    if len(keys) > MOST_ROWS or not all(key.isdecimal() and len(key) < 6 for key in keys):
        raise ValueError("The rows of this layout cannot be read.")
    rows = []
    for key in keys:
        if f"out-{key}" in data:
            continue
        numbers = [_number(data, f"{name}-{key}") for name in NUMBERS]
        bolt = data.get(f"bolt-{key}", "")
        if not (bolt.isdecimal() and len(bolt) < 4):
            raise ValueError("The rows of this layout cannot be read.")
        rows.append(
            Row(
                int(key),
                data.get(f"id-{key}", "")[:60],
                int(bolt),
                *numbers,
                "x" if data.get(f"wide_face-{key}") == "x" else "y",
                f"flipped-{key}" in data,
                f"pinned-{key}" in data,
            )
        )
    return rows


def _number(data: Mapping[str, str], name: str, otherwise: float | None = None) -> float:
    text = str(data.get(name, "")).strip().replace(",", ".")
    if not text and otherwise is not None:
        return float(otherwise)
    try:
        number = float(text)
    except ValueError:
        number = float("nan")
    if not abs(number) <= 1e6:
        what = name.split("-")[0].removesuffix("_mm")
        raise ValueError(f"“{text[:20]}” is not a number for {what}; write millimetres.")
    return number


def _station(data: Mapping[str, str], otherwise: float) -> float:
    """A length written in any way, or a bare number, which is millimetres for every reader."""
    text = str(data.get("station", "")).strip()
    return parse_length_mm(text, "mm") if text else otherwise


def readable(plan: SawingPlan, data: QueryDict) -> QueryDict:
    """What was sent; a figure that cannot be read is as in the plan, so that no other is lost."""
    kept = data.copy()
    stood = {f"roll-{n}": bolt["roll_deg"] for n, bolt in enumerate(plan.plan["bolts"])}
    for row in _rows_of(plan.plan["bolts"]):
        stood |= {f"{name}-{row.key}": getattr(row, name) for name in NUMBERS}
    for name in data:
        if name.startswith(FIGURES) and not _is_read(_number, data, name):
            kept[name] = str(stood.get(name, 0.0))
    if not _is_read(_station, data, 0.0):
        del kept["station"]
    return kept


def _is_read(read, *what) -> bool:
    try:
        read(*what)
    except ValueError:
        return False
    return True
