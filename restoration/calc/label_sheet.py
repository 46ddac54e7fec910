"""Where labels lie on their sheet, mm from its top left corner; rolls are sheets of one label.

The common dimensions are from memory and carry no maker's name: measure a sheet before a run.
"""

import math
from dataclasses import dataclass, fields

from restoration.calc.checks import finite
from timber_stock.measure import mm_from_inches

MOST_A_SIDE = 60
TOLERANCE_MM = 0.5  # sheets are cut no truer, and common dimensions add up to no more than this
LEAST_WIDTH_MM, LEAST_HEIGHT_MM = 30.0, 17.0
A4_MM = (210.0, 297.0)
LETTER_MM = (mm_from_inches(8.5), mm_from_inches(11))


@dataclass(frozen=True)
class LabelSheet:
    """`across_mm` and `down_mm` are the pitch: from one label's left (top) edge to the next's."""

    name: str
    page_width_mm: float
    page_height_mm: float
    columns: int
    rows: int
    width_mm: float
    height_mm: float
    left_mm: float = 0.0
    top_mm: float = 0.0
    across_mm: float = 0.0
    down_mm: float = 0.0

    def __post_init__(self) -> None:
        """ValueError, in a sentence, for what no sheet can be."""
        for each in fields(self):
            if each.name.endswith("_mm"):
                finite(getattr(self, each.name), each.name.removesuffix("_mm").replace("_", " "))
        if not (1 <= self.columns <= MOST_A_SIDE and 1 <= self.rows <= MOST_A_SIDE):
            raise ValueError(f"A sheet has 1 to {MOST_A_SIDE} labels each way.")
        if self.width_mm < LEAST_WIDTH_MM or self.height_mm < LEAST_HEIGHT_MM:
            raise ValueError(
                f"A label must be at least {LEAST_WIDTH_MM:g} mm wide and {LEAST_HEIGHT_MM:g} mm "
                "high, to hold a code that a telephone reads."
            )
        if self.left_mm < 0 or self.top_mm < 0:
            raise ValueError("The first label begins on the sheet: no margin is less than nothing.")
        self._must_not_overlap()
        self._must_fit()

    def _must_not_overlap(self) -> None:
        for count, pitch, size, what in (
            (self.columns, self.across_mm, self.width_mm, "across"),
            (self.rows, self.down_mm, self.height_mm, "down"),
        ):
            if count > 1 and pitch < size - 1e-6:
                raise ValueError(
                    f"The labels would lie over each other: the pitch {what} is {pitch:g} mm and "
                    f"a label measures {size:g} mm."
                )

    def _must_fit(self) -> None:
        wide = self.left_mm + (self.columns - 1) * self.across_mm + self.width_mm
        tall = self.top_mm + (self.rows - 1) * self.down_mm + self.height_mm
        if wide > self.page_width_mm + TOLERANCE_MM:
            raise ValueError(
                f"{self.columns} columns need {wide:.1f} mm and the sheet is "
                f"{self.page_width_mm:g} mm wide."
            )
        if tall > self.page_height_mm + TOLERANCE_MM:
            raise ValueError(
                f"{self.rows} rows need {tall:.1f} mm and the sheet is "
                f"{self.page_height_mm:g} mm high."
            )

    @property
    def per_page(self) -> int:
        return self.columns * self.rows


@dataclass(frozen=True)
class Place:
    """The top left corner of a label on a page counted from 0."""

    page: int
    left_mm: float
    top_mm: float


def places(sheet: LabelSheet, count: int, first: int = 1) -> list[Place]:
    """Where so many labels go, row by row, the first of them at position `first` of a sheet
    begun already. ValueError for a position that the sheet has not."""
    if count < 0:
        raise ValueError("Nobody prints fewer labels than none.")
    if not 1 <= first <= sheet.per_page:
        last = f"1 to {sheet.per_page}" if sheet.per_page > 1 else "1 alone"
        raise ValueError(f"This sheet has positions {last}; {first} is not one of them.")
    return [_place(sheet, first - 1 + n) for n in range(count)]


def pages(sheet: LabelSheet, count: int, first: int = 1) -> int:
    """Pages that so many labels fill, the first of them laid on place `first` of the first page."""
    return math.ceil((count + first - 1) / sheet.per_page) if count else 0


def _place(sheet: LabelSheet, at: int) -> Place:
    page, on_page = divmod(at, sheet.per_page)
    row, column = divmod(on_page, sheet.columns)
    return Place(page, sheet.left_mm + column * sheet.across_mm, sheet.top_mm + row * sheet.down_mm)


def _edge_to_edge(
    name: str, page: tuple[float, float], columns: int, rows: int, size: tuple[float, float]
) -> LabelSheet:
    """Labels without gaps, in the middle of the page."""
    wide, tall = size
    return LabelSheet(
        name, *page, columns, rows, wide, tall,
        left_mm=(page[0] - columns * wide) / 2, top_mm=(page[1] - rows * tall) / 2,
        across_mm=wide, down_mm=tall,
    )  # fmt: skip


def _inches(value: float) -> float:
    return mm_from_inches(value)


COMMON: dict[str, LabelSheet] = {
    "a4-3x8": _edge_to_edge("3 × 8 on A4, 70 × 37 mm", A4_MM, 3, 8, (70, 37)),
    "a4-2x4": _edge_to_edge("2 × 4 on A4, 105 × 74 mm", A4_MM, 2, 4, (105, 74)),
    "a4-3x7": LabelSheet(
        "3 × 7 on A4, 63.5 × 38.1 mm", *A4_MM, 3, 7, 63.5, 38.1,
        left_mm=7.25, top_mm=15.15, across_mm=66.0, down_mm=38.1,
    ),
    "a4-2x7": LabelSheet(
        "2 × 7 on A4, 99.1 × 38.1 mm", *A4_MM, 2, 7, 99.1, 38.1,
        left_mm=4.65, top_mm=15.15, across_mm=101.6, down_mm=38.1,
    ),
    "letter-3x10": LabelSheet(
        "3 × 10 on Letter, 2 5/8 × 1 in", *LETTER_MM, 3, 10, _inches(2.625), _inches(1),
        left_mm=_inches(3 / 16), top_mm=_inches(0.5), across_mm=_inches(2.75), down_mm=_inches(1),
    ),
    "letter-2x5": LabelSheet(
        "2 × 5 on Letter, 4 × 2 in", *LETTER_MM, 2, 5, _inches(4), _inches(2),
        left_mm=_inches(5 / 32), top_mm=_inches(0.5),
        across_mm=_inches(4 + 3 / 16), down_mm=_inches(2),
    ),
    "roll-62x29": LabelSheet("roll 62 mm wide, 29 mm each", 62, 29, 1, 1, 62, 29),
    "roll-62x40": LabelSheet("roll 62 mm wide, 40 mm each", 62, 40, 1, 1, 62, 40),
    "roll-62x60": LabelSheet("roll 62 mm wide, 60 mm each", 62, 60, 1, 1, 62, 60),
}  # fmt: skip
