"""The short report, on exactly two pages whatever it holds."""

from collections.abc import Callable, Sequence
from datetime import date

from reportlab.platypus import Flowable

from restoration.reports.content import ReportContent
from restoration.reports.paper import Block, Paper
from restoration.reports.pdf.page import inside, made
from restoration.reports.pdf.paper import (
    drawn,
    page_size,
    sheet_words,
    title,
    uncovered,
)
from restoration.reports.short_report import BUDGETS, first_page, second_page, short_report


def fitted_short_report(
    content: ReportContent, size: str, *, on: date, issued: int | None
) -> Paper:
    """The report with its lists no longer than the two pages hold."""
    words = short_report(content, on=on, issued=issued)

    def first_holds(most: int) -> list[Flowable]:
        return [*title(words), *_drawn(first_page(content, issued, most), size)]

    def second_holds(most: int) -> list[Flowable]:
        return [*_drawn(second_page(content, most), size), *uncovered(words)]

    first, second = (_budget(words, size, holds) for holds in (first_holds, second_holds))
    return short_report(content, on=on, issued=issued, most=(first, second))


def _budget(paper: Paper, size: str, holds: Callable[[int], list[Flowable]]) -> int:
    """The longest lists that one page holds. ValueError where it holds not even the shortest."""
    for most in BUDGETS:
        if _pages(paper, size, holds(most)) == 1:
            return most
    raise ValueError("The short report cannot be brought onto two pages: shorten its names.")


def _pages(paper: Paper, size: str, story: list[Flowable]) -> int:
    seen: list[int] = []
    made(story, sheet_words(paper), page_size(size), seen.append)
    return max(seen)


def _drawn(blocks: Sequence[Block], size: str) -> list[Flowable]:
    width, _ = inside(page_size(size))
    return drawn(tuple(blocks), width)
