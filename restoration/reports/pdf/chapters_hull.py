"""The hull sheet, on a fold-out page of the report."""

from reportlab.platypus import Flowable

from restoration.reports.content import ReportContent
from restoration.reports.hull_figure import hull_sheet
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.hull_sheet import HullSheet
from restoration.reports.pdf.page import SIZES, folded_out
from restoration.reports.pdf.parts import Heading, UnseenHeading, text


def hull(content: ReportContent, pictures: Pictures, width: float, title: str) -> list[Flowable]:
    """The drawing has a title block of its own, so the chapter's heading only stands in lists."""
    sheet = hull_sheet(content)
    if sheet is None:
        why = content.no_hull or "No hull sheet was kept with this report."
        return [Heading(title, 0, "hull"), text(why)]
    pages = folded_out(
        lambda wide, tall: HullSheet(sheet, wide, tall), SIZES.get(content.paper, SIZES["A4"])
    )
    return [*pages[:2], UnseenHeading(title, 0, "hull"), *pages[2:]]
