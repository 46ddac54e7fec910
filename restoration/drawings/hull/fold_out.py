"""The paper a hull sheet is printed on, lying across: twice the size of the report's own."""

from restoration.calc.tiles import Paper
from timber_stock.measure import mm_from_inches

A3 = Paper("A3", 420.0, 297.0)
"""ISO 216:2007. What the sheet is laid out on, so here alone it has its full size."""
FOLD_OUTS = {
    "A4": A3,
    # The size B of ANSI/ASME Y14.1.
    "Letter": Paper("11 × 17 in", mm_from_inches(17), mm_from_inches(11)),
}


def of(paper: str) -> Paper:
    """What folds out of a paper of such a name; A3 of one without."""
    return FOLD_OUTS.get(paper, A3)


def share(paper: Paper) -> float:
    """How large the sheet comes out on it; 1 where it has its full size."""
    return min(paper.width_mm / A3.width_mm, paper.height_mm / A3.height_mm, 1.0)
