"""A report of many findings, a photograph each, made up to be measured; no hull is like it."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import numpy as np
from PIL import Image

from restoration.calc import grading
from restoration.drawings.hull.pieces import Piece
from restoration.models import Vessel
from restoration.models.hull_lines import hull_lines_of
from restoration.reports import wording
from restoration.reports.content import (
    CauseNamed,
    FindingMade,
    MemberState,
    Party,
    PictureTaken,
    ReadingTaken,
    ReportContent,
    Standing,
    SurveyFacts,
    VesselFacts,
)
from restoration.reports.gather import sources_used
from restoration.reports.hull_facts import HullFacts

WIDE_PX, TALL_PX = 4000, 3000
ON = date(2026, 3, 4)
SIZES = {
    "built_year": 1931, "loa_mm": 18_000.0, "lwl_mm": 14_000.0, "beam_mm": 4100.0,
    "draught_mm": 2300.0,
}  # fmt: skip
SEEN = (
    "Soft for 40 mm round the bolt, black under the head; the probe went in 22 mm at the lower "
    "edge and 5 mm at the upper. Sound again a hand's breadth to either side. "
)


def photographs(folder: Path, count: int) -> Iterator[str]:
    """So many photographs of 12 megapixels, grained like wood, no two alike."""
    grain = np.random.default_rng(7).integers(0, 60, (TALL_PX // 4, WIDE_PX // 4, 3), np.uint8)
    ground = Image.fromarray(grain + np.uint8(90)).resize((WIDE_PX, TALL_PX))
    for number in range(count):
        name = f"photograph-{number + 1}.jpg"
        spot = Image.new("RGB", (500, 400), (number % 250, (7 * number) % 250, 40))
        ground.paste(spot, (7 * number % 3000, 11 * number % 2400))
        ground.save(folder / name, quality=88)
        yield name


def content(files: list[str]) -> ReportContent:
    members = tuple(_member(number, file) for number, file in enumerate(files, 1))
    nothing = dict.fromkeys(VesselFacts.__dataclass_fields__, "")
    vessel = VesselFacts(**nothing | {"code": "MSR", "name": "Measured Twice", **SIZES})
    said = dict.fromkeys(SurveyFacts.__dataclass_fields__, "as measured")
    survey = SurveyFacts(**said | {"surveyed_on": ON, "ended_on": None})
    return ReportContent(
        standing=Standing(None, ON, "the bench"), units="metric", currency="EUR",
        yard=Party("The bench", ""), client=Party("Nobody", ""), vessel=vessel, survey=survey,
        readers="nobody", remarks="", members=members, replacements=(), threads=(),
        sources=sources_used(members), words=wording.fixed_words(),
        hull=_hull(members),
    )  # fmt: skip


def _hull(members: tuple[MemberState, ...]) -> HullFacts:
    """Her sheet, of usual proportions, with every member of the report on it."""
    lengths = {name: SIZES[name] for name in ("loa_mm", "lwl_mm", "beam_mm", "draught_mm")}
    entered = hull_lines_of(Vessel(**lengths))
    pieces = tuple(
        Piece(
            key=m.mark, mark=m.mark, kind="floor_timber", side="C", number=None,
            station_from=m.station_from, station_to=m.station_to, sided_mm=m.sided_mm,
            moulded_mm=m.moulded_mm, state=m.condition, badge=m.condition, title=m.mark, href="",
        )
        for m in members
    )  # fmt: skip
    lines = entered.lines()
    stations = entered.stations(lines, max(m.station_from for m in members))
    return HullFacts(entered.hull, lines, stations, pieces, tuple(entered.assumed(lines)))


def _member(number: int, file: str) -> MemberState:
    kind = ("floor timber", "Floors") if number % 3 else ("plank", "Planking")
    return MemberState(
        mark=f"F{number}", term=kind[0], group=kind[1], side="centreline",
        station_from=float(number), station_to=None, sided_mm=95.0, moulded_mm=140.0,
        length_mm=900.0 + number, material="oak", finding=_finding(number, file),
    )  # fmt: skip


def _finding(number: int, file: str) -> FindingMade:
    grade = str(number % 3 + 1)
    taken = PictureTaken(file, f"{number:064}", WIDE_PX, TALL_PX, f"Bolt {number}", ON)
    cause = CauseNamed(
        1, "iron_sickness", "iron sickness", "likely", "black wood", "Renew.", "common practice"
    )
    return FindingMade(
        condition=grade, condition_word=grading.condition(grade).label, urgency=2,
        urgency_word="soon", measure=2, measure_word="repair", not_examined_reason="",
        seen=SEEN * 3, extent_from_mm=100.0, extent_to_mm=300.0, recorded_on=ON,
        recorded_by="the bench", causes=(cause,),
        readings=(ReadingTaken("probe_mm", 22.0, "", 120.0, "spike"),), pictures=(taken,),
    )  # fmt: skip
