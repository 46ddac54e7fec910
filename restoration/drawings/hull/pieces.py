"""What is drawn on a hull sheet, and where along the hull each piece lies."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from restoration.calc.lines import Lines, Stations
from restoration.calc.tables import rows


@dataclass(frozen=True)
class Piece:
    """A member as the sheet needs it. `state` picks the hatch; `badge` is the short figure beside
    its mark; `faint` where a filter leaves it out; `title` says all of it in words."""

    key: str
    mark: str
    kind: str
    side: str
    number: int | None = None
    station_from: float | None = None
    station_to: float | None = None
    sided_mm: float | None = None
    moulded_mm: float | None = None
    state: str = ""
    badge: str = ""
    title: str = ""
    href: str = ""
    faint: bool = False


@dataclass(frozen=True)
class Placed:
    """A piece and the stretch of the hull it takes, mm from forward. `assumed` where no station
    says so; `astray` where her stations run off the hull and it was drawn at the end."""

    piece: Piece
    start_mm: float
    end_mm: float
    assumed: bool = False
    astray: bool = False

    @property
    def kind(self) -> str:
        return self.piece.kind

    @property
    def side(self) -> str:
        return self.piece.side

    @property
    def middle_mm(self) -> float:
        return (self.start_mm + self.end_mm) / 2


# Where a kind is drawn when no station is given: shares of the length, an assumption of our own.
FULL_LENGTH = (0.0, 1.0)
USUAL_SHARES = {
    "planking": FULL_LENGTH, "garboard": FULL_LENGTH, "broad_strake": FULL_LENGTH,
    "sheer_strake": FULL_LENGTH, "binder": FULL_LENGTH, "covering_board": FULL_LENGTH,
    "toe_rail": FULL_LENGTH, "rubbing_strake": FULL_LENGTH, "hood_end": (0.0, 0.03),
    "ceiling": (0.14, 0.88), "limber_board": (0.2, 0.8), "floor_timber": (0.12, 0.84),
    "deck_beam": (0.08, 0.94), "keel_bolt": (0.36, 0.7), "hanging_knee": (0.3, 0.62),
    "lodging_knee": (0.3, 0.62), "chainplate": (0.36, 0.46), "butt_block": (0.2, 0.8),
    "beam_end": (0.08, 0.94), "ledge": (0.42, 0.76), "bulkhead": (0.3, 0.7),
    "counter_timber": (0.88, 0.98), "futtock": (0.1, 0.9), "sister_frame": (0.1, 0.9),
    "frame": (0.08, 0.94), "frame_steamed": (0.08, 0.94), "frame_sawn": (0.08, 0.94),
    "frame_laminated": (0.08, 0.94), "mast_step_timber": (0.34, 0.46), "worm_shoe": (0.2, 0.8),
    "false_keel": (0.2, 0.8), "forefoot": (0.06, 0.16), "centreboard_trunk": (0.38, 0.56),
    "bed_log": (0.36, 0.58),
}  # fmt: skip
SPREAD = frozenset(
    [
        "floor_timber", "deck_beam", "keel_bolt", "hanging_knee", "lodging_knee", "chainplate",
        "butt_block", "beam_end", "ledge", "bulkhead", "counter_timber", "futtock",
        "sister_frame", "frame", "frame_steamed", "frame_sawn", "frame_laminated",
    ]
)  # fmt: skip
ROUNDING_MM = 1.0


def place_all(
    pieces: Iterable[Piece], lines: Lines, stations: Stations, hull: str
) -> tuple[Placed, ...]:
    """Every piece in its place, in the order given.

    One without a station goes where its kind usually lies on that kind of hull; several such of
    one kind and side are spread evenly in the order of their numbers. A strake without stations
    runs from stem to stern, and nothing is assumed about it.
    """
    listed = tuple(pieces)
    usual = _spread_places([p for p in listed if p.station_from is None], hull)
    return tuple(_place(piece, lines, stations, usual) for piece in listed)


def _place(
    piece: Piece, lines: Lines, stations: Stations, usual: dict[str, tuple[float, float]]
) -> Placed:
    if piece.station_from is None:
        start, end = (lines.sheer.start_mm + s * lines.length_mm for s in usual[piece.key])
        return Placed(piece, start, end, assumed=usual[piece.key] != FULL_LENGTH)
    ends = (piece.station_from, piece.station_to or piece.station_from)
    start, end = (stations.position_mm(number) for number in ends)
    inside = [min(max(at, lines.sheer.start_mm), lines.sheer.end_mm) for at in (start, end)]
    astray = max(abs(start - inside[0]), abs(end - inside[1])) > ROUNDING_MM
    return Placed(piece, inside[0], max(inside), astray=astray)


def _spread_places(pieces: Sequence[Piece], hull: str) -> dict[str, tuple[float, float]]:
    def same(piece: Piece) -> tuple[str, str]:
        return piece.kind, piece.side

    found = {}
    for (kind, _), held in groupby(sorted(pieces, key=same), key=same):
        row = sorted(held, key=lambda piece: (piece.number or 0, piece.mark))
        start, end = usual_shares(kind, hull)
        for place, piece in enumerate(row):
            at = start + (end - start) * (place + 0.5) / len(row)
            found[piece.key] = (at, at) if kind in SPREAD else (start, end)
    return found


def usual_shares(kind: str, hull: str) -> tuple[float, float]:
    """Between which shares of the length a kind lies on a kind of hull, for want of stations."""
    table = {row["kind"]: row for row in rows("setting_out") if row["hull"] == hull}
    if row := table.get(kind):
        return float(row["from"]), float(row["to"])
    if kind in USUAL_SHARES:
        return USUAL_SHARES[kind]
    anywhere = (row for row in rows("setting_out") if row["kind"] == kind)
    row = next(anywhere, {"from": "0.45", "to": "0.55"})
    return float(row["from"]), float(row["to"])
