"""The short report, on exactly two pages whatever it holds."""

from collections.abc import Callable, Sequence
from datetime import date

from restoration.reports.content import ReportContent
from restoration.reports.paper import Block, Paper
from restoration.reports.pdf.page import inside, made
from restoration.reports.pdf.paper import draw_paper, drawn, page_size, sheet_words, title
from restoration.reports.short_report import BUDGETS, first_page, second_page, short_report


def fitted_short_report(
    content: ReportContent, size: str, *, on: date, issued: int | None
) -> Paper:
    """The report with its lists no longer than the two pages hold."""
    words = short_report(content, on=on, issued=issued)
    first = _budget(words, size, lambda most: first_page(content, issued, most), with_title=True)
    second = _budget(words, size, lambda most: second_page(content, most))
    return short_report(content, on=on, issued=issued, most=(first, second))


def draw_short_report(content: ReportContent, size: str, *, on: date, issued: int | None) -> bytes:
    return draw_paper(fitted_short_report(content, size, on=on, issued=issued), size)


def _budget(
    paper: Paper, size: str, blocks: Callable[[int], Sequence[Block]], *, with_title: bool = False
) -> int:
    """The longest lists that one page holds. ValueError where it holds not even the shortest."""
    for most in BUDGETS:
        if _pages(paper, size, blocks(most), with_title) == 1:
            return most
    raise ValueError("The short report cannot be brought onto two pages: shorten its names.")


def _pages(paper: Paper, size: str, blocks: Sequence[Block], with_title: bool) -> int:
    page = page_size(size)
    width, _ = inside(page)
    story = [*(title(paper) if with_title else []), *drawn(tuple(blocks), width)]
    seen: list[int] = []
    made(story, sheet_words(paper), page, seen.append)
    return max(seen)
