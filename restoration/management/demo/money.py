"""What was spent on the replacements and on a vessel, and a paper that goes with a log."""

import io

from reportlab.pdfgen.canvas import Canvas

from restoration import timber
from restoration.actions.costs import enter_cost
from restoration.models import User, Vessel
from timber_stock.web.papers import take_in_paper

from .read import read
from .work import spec_of


def load_money() -> None:
    said, yard = read("money"), User.objects.get(username="yard")
    for code, rows in said["spent"].items():
        for mark, *row in rows:
            spend(row, yard, spec=spec_of(code, mark))
    for code, rows in said["whole"].items():
        for row in rows:
            spend(row, yard, vessel=Vessel.objects.get(code=code))
    for row in said["paper"]:
        keep_paper(row, yard)


def spend(row: list, by: User, **of_what) -> None:
    kind, amount, on, note = row
    enter_cost(kind=kind, amount=amount, on=on, note=note, by=by, **of_what)


def keep_paper(row: dict, by: User) -> None:
    file = io.BytesIO(drawn(row["lines"]))
    timber.keep_paper(
        log=timber.Log.objects.get(tag=row["log"]),
        kind=row["kind"],
        title=row["title"],
        paper=take_in_paper(file, f"{row['title']}.pdf"),
        dated_on=row["dated_on"],
        on=row["kept_on"],
        by=by.get_full_name(),
    )


def drawn(lines: list[str]) -> bytes:
    """One page with these lines; the same bytes each time."""
    kept = io.BytesIO()
    sheet = Canvas(kept, pagesize=(420, 300), invariant=1)
    for n, line in enumerate(lines):
        sheet.setFont("Times-Bold" if n == 0 else "Times-Roman", 16 if n == 0 else 11)
        sheet.drawString(36, 250 - 26 * n, line)
    sheet.save()
    return kept.getvalue()
