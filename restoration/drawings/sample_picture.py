"""A sample as a client sees it: one mark for each fastening of the group, in four states."""

from html import escape

from restoration.calc.sample_result import Outcome

PER_ROW, CELL = 25, 14
MOST_MARKS = 1_000
"""Beyond this the marks are too small to count, and each stands for several."""


def sample_picture_svg(outcome: Outcome) -> str:
    """Good and bad ones drawn, those that may be bad, and the rest, in this order.

    States differ by shape, not by colour alone.
    """
    each = -(-outcome.population // MOST_MARKS)
    states = [state for state, count in counts(outcome) for _ in range(round(count / each))]
    rows = -(-len(states) // PER_ROW)
    marks = [
        _mark(state, CELL * (n % PER_ROW) + CELL / 2, CELL * (n // PER_ROW) + CELL / 2)
        for n, state in enumerate(states)
    ]
    said = escape(outcome.sentence)
    return (
        f'<svg class="sample-picture" viewBox="0 0 {PER_ROW * CELL} {max(rows, 1) * CELL}" '
        f'role="img" aria-label="{said}">{"".join(marks)}</svg>'
    )


def counts(outcome: Outcome) -> list[tuple[str, int]]:
    """How many fastenings are in each state that is drawn."""
    known = [("good", outcome.good), ("bad", outcome.bad)]
    if outcome.may_be_bad is None:
        chosen_in = outcome.not_drawn + outcome.waiting
        return [*known, ("waiting", chosen_in), ("left", outcome.left_in - chosen_in)]
    return [*known, ("may", outcome.may_be_bad), ("left", outcome.not_suspected)]


def legend_mark_svg(state: str) -> str:
    return f'<svg viewBox="0 0 {CELL} {CELL}" aria-hidden="true">{_mark(state, 7, 7)}</svg>'


def _mark(state: str, x: float, y: float) -> str:
    if state == "bad":
        return f'<path class="bad" d="M{x - 4} {y - 4}l8 8M{x + 4} {y - 4}l-8 8"/>'
    if state == "may":
        return f'<path class="may" d="M{x - 5} {y}l5 -5l5 5l-5 5z"/>'
    if state == "waiting":
        return f'<rect class="waiting" x="{x - 4}" y="{y - 4}" width="8" height="8"/>'
    radius = 4.5 if state == "good" else 2.2
    return f'<circle class="{state}" cx="{x}" cy="{y}" r="{radius}"/>'
