"""What a report says of a fastening sample: plain facts, as all of its content."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True)
class SampleMark:
    """How many fastenings of a sampled group are in one state, a key of `sample_result.STATES`."""

    state: str
    words: str
    count: int


@dataclass(frozen=True)
class SampleDrawn:
    """Fastenings drawn by lot from one group, and what their results say of the whole of it."""

    what: str
    zone: str
    sentence: str
    marks: tuple[SampleMark, ...]
    confidence_percent: float
    bad_means: str
    counted: str
    seed: str
    drawn_on: date
    drawn_by: str
    caution: str
