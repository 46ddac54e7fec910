"""What a survey report says: plain facts, gathered once, frozen with the report, drawn as often
as wanted.

Lengths are in millimetres and money in Decimal; `units` says how the reader reads lengths. Words
that may be reworded later (classes, cautions) are kept here too, so that an old report stays as
it was. A text not given is "", a figure not given is None.
"""

from dataclasses import dataclass
from datetime import date

from restoration.calc.picture_marks import PictureMark
from restoration.reports.hull_facts import HullFacts
from restoration.reports.money import VesselMoney
from restoration.reports.order_of_work import OrderOfWork
from restoration.reports.sample_facts import SampleDrawn
from restoration.reports.section_facts import Choice
from restoration.reports.timber_facts import Replacement, TimberThread

NO_FINDING = ""


@dataclass(frozen=True)
class Standing:
    """Whether this is a draft (`number` None) or which report was issued, when and by whom.

    `check_code` is printed for whoever holds the paper to look it up at `check_address`; reports
    frozen before there were such codes have none.
    """

    number: int | None
    on: date
    by: str
    supersedes: int | None = None
    check_code: str = ""
    check_address: str = ""

    @property
    def is_draft(self) -> bool:
        return self.number is None


@dataclass(frozen=True)
class Party:
    """The yard or the client."""

    name: str
    address: str
    email: str = ""
    telephone: str = ""


@dataclass(frozen=True)
class VesselFacts:
    code: str
    name: str
    vessel_type: str
    rig: str
    designer: str
    builder: str
    built_year: int | None
    built_place: str
    official_number: str
    sail_number: str
    loa_mm: float | None
    lwl_mm: float | None
    beam_mm: float | None
    draught_mm: float | None
    construction: str
    planking_wood: str
    fastening_metal: str
    note: str


@dataclass(frozen=True)
class SurveyFacts:
    surveyed_on: date
    ended_on: date | None
    place: str
    lying: str
    surveyor_name: str
    qualification: str
    present: str
    weather: str
    scope: str
    methods: str
    not_reached: str


@dataclass(frozen=True)
class CauseNamed:
    rank: int
    code: str
    name: str
    certainty: str
    evidence: str
    guidance: str
    guidance_standing: str


@dataclass(frozen=True)
class ReadingTaken:
    """`kind` is the reading's code; a probe's depth and a bolt's diameter are millimetres."""

    kind: str
    value: float | None
    words: str
    at_mm: float | None
    instrument: str


@dataclass(frozen=True)
class PictureTaken:
    """A photograph by its stored file; the file itself is read when the report is drawn.

    Marks are drawn over it; reports frozen before there were any have none.
    """

    file: str
    sha256: str
    width_px: int
    height_px: int
    caption: str
    taken_on: date | None
    marks: tuple[PictureMark, ...] = ()


@dataclass(frozen=True)
class FindingApart:
    """What someone else found of the member in the same survey; neither knew of the other."""

    recorded_by: str
    recorded_on: date
    condition: str
    condition_word: str
    seen: str


@dataclass(frozen=True)
class FindingMade:
    """`copied_from` is the mark of the member whose finding this one repeats. Reports frozen
    before copies and findings made apart were told say nothing of either."""

    condition: str
    condition_word: str
    urgency: int | None
    urgency_word: str
    measure: int | None
    measure_word: str
    not_examined_reason: str
    seen: str
    extent_from_mm: float | None
    extent_to_mm: float | None
    recorded_on: date
    recorded_by: str
    causes: tuple[CauseNamed, ...]
    readings: tuple[ReadingTaken, ...]
    pictures: tuple[PictureTaken, ...]
    copied_from: str = ""
    apart: tuple[FindingApart, ...] = ()


@dataclass(frozen=True)
class MemberState:
    """A member and what this survey found of it: `finding` is None where it recorded nothing."""

    mark: str
    term: str
    group: str
    side: str
    station_from: float | None
    station_to: float | None
    sided_mm: float | None
    moulded_mm: float | None
    length_mm: float | None
    material: str
    finding: FindingMade | None

    @property
    def condition(self) -> str:
        return self.finding.condition if self.finding else NO_FINDING


@dataclass(frozen=True)
class ClassWords:
    """A class of condition, urgency or measure, as worded on the day of the report."""

    grade: str
    label: str
    meaning: str


@dataclass(frozen=True)
class SourceUsed:
    code: str
    title: str
    author: str
    year: str
    part_read: str
    authority: str
    used_for: str


@dataclass(frozen=True)
class FixedWords:
    """What every report says: how members are graded, what is left out, what to beware of."""

    conditions: tuple[ClassWords, ...]
    urgencies: tuple[ClassWords, ...]
    measures: tuple[ClassWords, ...]
    grading_standing: str
    causes_standing: str
    not_included: str
    cautions: tuple[str, ...]
    sign_off: str


@dataclass(frozen=True)
class ReportContent:
    standing: Standing
    units: str
    currency: str
    yard: Party
    client: Party
    vessel: VesselFacts
    survey: SurveyFacts
    readers: str
    remarks: str
    members: tuple[MemberState, ...]
    replacements: tuple[Replacement, ...]
    threads: tuple[TimberThread, ...]
    sources: tuple[SourceUsed, ...]
    words: FixedWords
    samples: tuple[SampleDrawn, ...] = ()
    paper: str = "A4"
    cover: PictureTaken | None = None
    hull: HullFacts | None = None
    no_hull: str = ""
    choices: tuple[Choice, ...] = ()
    sawn: tuple[Choice, ...] = ()
    order: OrderOfWork | None = None
    money: VesselMoney | None = None
