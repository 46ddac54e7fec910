"""The square code of an issued report, by which whoever holds the paper can look it up."""

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Table, TableStyle

from restoration.reports.content import Standing
from restoration.reports.pdf.letters import markup
from restoration.reports.pdf.parts import marked, text
from restoration.reports.pdf.qr import QrCode, least_side_mm

SIDE_MM = 30.0


def check_mark(standing: Standing, width: float) -> list[Flowable]:
    """Nothing on a draft, nor on a report frozen before papers carried a code."""
    if standing.is_draft or not standing.check_code:
        return []
    said = [
        text("To check this paper", "heading_3"),
        text(
            f"Its code is {in_fours(standing.check_code)}. At the address below the register tells "
            "whether this report was issued, when, and whether a later one stands in its place; "
            "and, given the PDF, whether a letter of it was changed. It tells nothing else."
        ),
        marked(_followed(standing.check_address), "small"),
    ]
    side = max(SIDE_MM, least_side_mm(standing.check_address)) * mm
    row = Table([[QrCode(standing.check_address, side), said]], colWidths=[side, width - side])
    row.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LEFTPADDING", (0, 0), (0, 0), 0),
                ("LEFTPADDING", (1, 0), (1, 0), 5 * mm),
            ]
        )
    )
    row.hAlign = "LEFT"
    return [row]


def _followed(address: str) -> str:
    """Whoever reads the file and not the paper follows the address by a touch."""
    return f'<a href="{markup(address)}" color="#93391a">{markup(address)}</a>'


def in_fours(code: str) -> str:
    """As it is printed, to be read aloud or typed: K7QF-2M9R-X4TD."""
    return "-".join(code[n : n + 4] for n in range(0, len(code), 4))
