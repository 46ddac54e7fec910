"""Fastening samples: what each said, drawn as one mark for each fastening of the group."""

from collections.abc import Sequence
from itertools import pairwise

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether, Spacer

from restoration.reports.content import ReportContent
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.parts import bold, caution, marked, text, title_block
from restoration.reports.pdf.type import ACCENT, INK, SOFT, THIN
from restoration.reports.pdf.words import day, number
from restoration.reports.sample_facts import SampleDrawn, SampleMark

PER_ROW, CELL = 40, 4 * mm
MOST_MARKS = 1_000
"""Beyond this the marks are too small to count, and each stands for several."""


def samples(content: ReportContent, pictures: Pictures, width: float) -> list[Flowable]:
    story = [flowable for sample in content.samples for flowable in _sample(sample, width)]
    return [*story, caution(content.samples[0].caution, width)] if story else []


def _sample(sample: SampleDrawn, width: float) -> list[Flowable]:
    facts = [
        ("Drawn by lot", f"{day(sample.drawn_on)}, by {sample.drawn_by}"),
        ("Sampling zone", sample.zone or "not stated"),
        ("Confidence, one-sided", f"{number(sample.confidence_percent)} %"),
        ("Bad means", sample.bad_means),
        ("Counted", sample.counted),
        ("Seed of the drawing", sample.seed),
    ]
    picture = SamplePicture(sample.marks)
    opening = [
        text(sample.what[:1].upper() + sample.what[1:], "heading_3"),
        marked(bold(sample.sentence)),
        picture,
        *(text(f"{SIGNS[m.state]}: {m.count} {m.words}", "caption") for m in sample.marks),
    ]
    if picture.each > 1:
        opening.append(text(f"Each mark stands for {picture.each} fastenings.", "caption"))
    return [KeepTogether(opening), Spacer(1, 4), title_block(facts, width)]


SIGNS = {
    "good": "Ring",
    "bad": "Cross",
    "waiting": "Square",
    "may": "Diamond",
    "left": "Dot",
}


class SamplePicture(Flowable):
    """One mark for each fastening, row by row. States differ by shape, not by colour alone."""

    spaceBefore = spaceAfter = 4

    def __init__(self, marks: Sequence[SampleMark]):
        super().__init__()
        self.each = max(1, -(-sum(one.count for one in marks) // MOST_MARKS))
        self.states = [one.state for one in marks for _ in range(round(one.count / self.each))]

    def wrap(self, available_width, available_height):
        rows = -(-len(self.states) // PER_ROW)
        self.width, self.height = PER_ROW * CELL, max(rows, 1) * CELL
        return self.width, self.height

    def draw(self):
        self.canv.saveState()
        self.canv.setLineWidth(THIN)
        for place, state in enumerate(self.states):
            row, column = divmod(place, PER_ROW)
            self._mark(state, (column + 0.5) * CELL, self.height - (row + 0.5) * CELL)
        self.canv.restoreState()

    def _mark(self, state: str, x: float, y: float) -> None:
        c, half = self.canv, 0.34 * CELL
        c.setStrokeColor(ACCENT if state in ("bad", "may") else INK)
        if state == "bad":
            c.line(x - half, y - half, x + half, y + half)
            c.line(x - half, y + half, x + half, y - half)
        elif state == "may":
            corners = [(x - half, y), (x, y + half), (x + half, y), (x, y - half), (x - half, y)]
            c.lines([(*a, *b) for a, b in pairwise(corners)])
        elif state == "waiting":
            c.rect(x - half, y - half, 2 * half, 2 * half)
        elif state == "good":
            c.circle(x, y, half)
        else:
            c.setFillColor(SOFT)
            c.circle(x, y, half / 3, stroke=0, fill=1)
