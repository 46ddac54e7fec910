"""The field sheet: a blank round on paper, with boxes to tick and lines to write on."""

from collections.abc import Sequence
from itertools import groupby

from reportlab.lib.pagesizes import landscape
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Spacer

from restoration.reports.field_sheet import READINGS, FieldSheet, SheetRow
from restoration.reports.pdf.letters import markup
from restoration.reports.pdf.page import SIZES, SheetWords, inside, made
from restoration.reports.pdf.parts import bold, marked, subheading, text, title_block
from restoration.reports.pdf.tables import Column, Row, schedule
from restoration.reports.pdf.type import HAIR, INK, LINE, REGULAR, SOFT, THIN
from restoration.reports.pdf.words import day, number, sizes

BOX = 5.2 * mm
ROW = 15 * mm
COLUMNS = (
    Column("Member", 46),
    Column("Last finding", 17),
    Column("Condition", 39),
    Column("Urgency", 31),
    Column("Measure", 31),
    Column("Readings", 46),
    Column("What was seen, cause, photographs", 59),
)


class Boxes(Flowable):
    """A box for each class, with its code in it, to strike through with a pencil."""

    def __init__(self, codes: Sequence[str]):
        super().__init__()
        self.codes = codes
        self.width, self.height = len(codes) * (BOX + 1 * mm), ROW - 5 * mm

    def wrap(self, available_width, available_height):
        return self.width, self.height

    def draw(self):
        c = self.canv
        c.saveState()
        c.setStrokeColor(INK)
        c.setFillColor(SOFT)
        c.setLineWidth(THIN)
        c.setFont(REGULAR, 7)
        for n, code in enumerate(self.codes):
            left, low = n * (BOX + 1 * mm), self.height - BOX
            c.rect(left, low, BOX, BOX)
            c.drawCentredString(left + BOX / 2, low + BOX / 2 - 2.4, code)
        c.restoreState()


class Blanks(Flowable):
    """A line to write on for each reading, two to a row, with its name at the left."""

    def __init__(self, names: Sequence[str], width: float):
        super().__init__()
        self.names = names
        self.width, self.height = width, ROW - 3 * mm

    def wrap(self, available_width, available_height):
        return self.width, self.height

    def draw(self):
        c = self.canv
        c.saveState()
        c.setFont(REGULAR, 6)
        c.setFillColor(SOFT)
        c.setStrokeColor(LINE)
        c.setLineWidth(HAIR)
        half, step = self.width / 2, self.height / 3
        for n, name in enumerate(self.names):
            left, low = n % 2 * half, self.height - (n // 2 + 1) * step + 1
            c.drawString(left, low + 1, name)
            start = left + c.stringWidth(name, REGULAR, 6) + 2
            c.line(start, low, left + half - 4, low)
        c.restoreState()


def draw_field_sheet(sheet: FieldSheet, size: str = "A4") -> bytes:
    """The PDF. The same sheet gives the same bytes."""
    page = landscape(SIZES[size])
    width, _ = inside(page)
    story: list[Flowable] = [
        text(f"Field sheet: {sheet.vessel}", "title"),
        title_block(_facts(sheet), width, columns=4),
        *_scales(sheet),
    ]
    for part, rows in groupby(sheet.rows, key=lambda row: row.part):
        story += [*subheading(part), _table(list(rows), sheet.units, width)]
    if not sheet.rows:
        story.append(text("The vessel has no members yet, so there is nothing to walk."))
    return made(story, _words(sheet), page)


def _facts(sheet: FieldSheet) -> list[tuple[str, str]]:
    return [
        ("Survey", day(sheet.surveyed_on)),
        ("Place", sheet.place),
        ("Surveyor", sheet.surveyor),
        ("Weather, moisture meter and its setting", ""),
    ]


def _scales(sheet: FieldSheet) -> list[Flowable]:
    said = " · ".join(f"{bold(name)} {markup(', '.join(words))}" for name, words in sheet.scales)
    note = (
        "NE needs a reason in the last column. Lengths along a member are taken from its forward "
        f"or lower end; of a floor, beam or transom from its port end. {sheet.standing}"
    )
    return [Spacer(1, 5), marked(said, "small"), text(note, "small")]


def _table(rows: list[SheetRow], units: str, width: float) -> Flowable:
    readings = COLUMNS[5].share / sum(column.share for column in COLUMNS) * width - 7
    return schedule(COLUMNS, [_row(row, units, readings) for row in rows], width)


def _row(row: SheetRow, units: str, readings: float) -> Row:
    under = ", ".join(
        part
        for part in (_where(row), *sizes(units, row.sided_mm, row.moulded_mm, row.length_mm))
        if part
    )
    member = [
        marked(f"{bold(row.mark)} {markup(row.term)}", "cell"),
        text(", ".join(part for part in (under, row.material) if part), "label"),
    ]
    grades = ("0", "1", "2", "3")
    return Row(
        [
            member,
            text(row.last.replace(": ", ":\n", 1), "label"),
            Boxes((*grades, "NE")),
            Boxes(grades),
            Boxes(grades),
            Blanks(READINGS, readings),
            "",
        ]
    )


def _where(row: SheetRow) -> str:
    parts = [row.side]
    if row.station_from is not None:
        stations = f"st. {number(row.station_from)}"
        if row.station_to not in (None, row.station_from):
            stations += f" to {number(row.station_to)}"
        parts.append(stations)
    return ", ".join(part for part in parts if part)


def _words(sheet: FieldSheet) -> SheetWords:
    return SheetWords(
        title=f"Field sheet, {sheet.vessel}, {day(sheet.surveyed_on)}",
        author=sheet.surveyor,
        subject="A blank round of a survey",
        head_left=f"Field sheet · {sheet.vessel}",
        head_right=day(sheet.surveyed_on),
        foot=[
            ("Order of the round", sheet.order),
            ("Filled in by", ""),
            ("On", ""),
        ],
        is_draft=False,
    )
