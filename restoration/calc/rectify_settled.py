"""Marks on a photograph taken all the way: judged, fitted, judged again; or refused."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from restoration.calc.rectify import Fit, Mark, doubt_mm, fit_plane
from restoration.calc.rectify_checks import check_marks
from restoration.calc.rectify_view import View, check_view, view_of
from timber_stock.wood.checked import between

MOST_ABOVE_MM = 500.0
LARGE_MISFIT = 3.0
"""A mark this many times further off than its tap would be is named: our own limit."""
LEAST_MISFIT_MM = 2.0


@dataclass(frozen=True)
class Settled:
    """A photograph whose marks serve. Doubts in mm: in the middle of the marks and at the worst."""

    fit: Fit
    view: View
    warnings: tuple[str, ...]
    doubt_middle_mm: float
    doubt_marks_mm: float

    @property
    def proven(self) -> bool:
        """Four marks fit whatever they are: only more of them can contradict each other."""
        return len(self.fit.residuals_mm) > 4


def settle(marks: Sequence[Mark], width_px: int, height_px: int, above_mm: float = 0.0) -> Settled:
    """The board of these marks; above_mm is how far the pattern's face lies above them.

    ValueError with a sentence for the person where they cannot serve.
    """
    above = between(above_mm, 0, MOST_ABOVE_MM, "How far the pattern lies above the marks", " mm")
    warnings = check_marks(marks, width_px, height_px)
    fit = fit_plane(marks, width_px, height_px)
    places = [(mark.x_mm, mark.y_mm) for mark in marks]
    view = view_of(fit.plane, places)
    warnings += check_view(view, above, fit.lens_found)
    warnings += _misfits(fit)
    middle = (fit.about[0], fit.about[1])
    return Settled(
        fit,
        view,
        tuple(warnings),
        doubt_mm(fit, *middle),
        max(doubt_mm(fit, *place) for place in places),
    )


def _misfits(fit: Fit) -> list[str]:
    worst = max(fit.residuals_mm)
    usual = sorted(fit.residuals_mm)[len(fit.residuals_mm) // 2]
    if worst < max(LEAST_MISFIT_MM, LARGE_MISFIT * usual):
        return []
    number = fit.residuals_mm.index(worst) + 1
    return [
        f"Mark {number} does not agree with the others by {worst:.1f} mm: look where it is tapped "
        "and what was measured. A wrong mark pulls the others with it."
    ]
