"""The end of the report: costs, methods and sources, cautions, sign-off."""

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether, Spacer, Table, TableStyle

from restoration.reports.content import ReportContent, SourceUsed
from restoration.reports.pdf.chapters_findings import READING_NAMES
from restoration.reports.pdf.check_mark import check_mark
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.letters import markup
from restoration.reports.pdf.parts import bold, caution, marked, subheading, text, texts
from restoration.reports.pdf.tables import Column, Row, schedule
from restoration.reports.pdf.type import INK, THIN
from restoration.reports.pdf.words import NOT_STATED, count, day, sentence
from restoration.reports.summary import Money, add_up, instruments, summarise


def costs(content: ReportContent, pictures: Pictures, width: float) -> list[Flowable]:
    if not content.replacements:
        return [text("No replacement is specified, so there is nothing to estimate.")]
    columns = [
        Column("Part of the hull", 70),
        Column("Replacements", 28, figures=True),
        Column("Hours, estimate", 32, figures=True),
        Column(f"Cost, estimate, {content.currency}", 40, figures=True),
    ]
    groups = list(dict.fromkeys(r.group for r in content.replacements))
    rows = [
        _money_row(
            f"{group.capitalize()} members",
            add_up(r for r in content.replacements if r.group == group),
        )
        for group in groups
    ]
    in_short = summarise(content)
    rows += [
        _money_row("All that is specified", in_short.all_work, is_total=True),
        _money_row("of which fitted", in_short.fitted),
        _money_row("of which still to be fitted", in_short.to_do, is_total=True),
    ]
    return [schedule(columns, rows, width), text(_lacking(in_short.all_work, content.currency))]


def _money_row(label: str, sums: Money, is_total: bool = False) -> Row:
    said = bold(label) if is_total else markup(label)
    cells = [marked(said, "cell"), str(sums.count), f"{sums.hours:,}", f"{sums.cost:,.2f}"]
    return Row(cells, is_total=is_total)


def _lacking(sums: Money, currency: str) -> str:
    said = (
        f"Money is in {currency}. These are estimates, not an offer; the register does not say "
        "whether they include tax."
    )
    if sums.without_cost:
        said += f" {count(sums.without_cost, 'replacement')} without an estimate of cost not added."
    if sums.without_hours:
        said += (
            f" {count(sums.without_hours, 'replacement')} without an estimate of hours not added."
        )
    return said


def methods(content: ReportContent, pictures: Pictures, width: float) -> list[Flowable]:
    return [
        *subheading("Methods and instruments"),
        *(texts(content.survey.methods) or [text(sentence(NOT_STATED))]),
        *_instruments(content, width),
        *subheading("How members are graded"),
        text(content.words.grading_standing),
        *subheading("How causes are described"),
        text(content.words.causes_standing),
        *subheading("Sources"),
        _sources(content.sources, width),
        *_figures(content),
    ]


def _instruments(content: ReportContent, width: float) -> list[Flowable]:
    """Which instrument took how many readings of what."""
    taken = instruments(content.members)
    if not taken:
        return []
    columns = [Column("Instrument", 70), Column("Reading", 70), Column("Taken", 30, figures=True)]
    rows = [
        Row([name or "not stated", READING_NAMES.get(kind, kind), str(number)])
        for (name, kind), number in taken.items()
    ]
    return [schedule(columns, rows, width)]


def _figures(content: ReportContent) -> list[Flowable]:
    """Each figure that the drawings of sections were reckoned with, with its source."""
    figures = dict.fromkeys(line for choice in content.choices for line in choice.figures)
    if not figures:
        return []
    return [*subheading("Figures reckoned with"), *(text(line, "small") for line in figures)]


def _sources(sources: tuple[SourceUsed, ...], width: float) -> Flowable:
    columns = [
        Column("Publication", 66),
        Column("By, year", 42),
        Column("What of it was read", 38),
        Column("Used for", 24),
    ]
    rows = [
        Row(
            [
                "\n".join(part for part in (s.title, f"({s.authority})") if part != "(-)"),
                ", ".join(part for part in (s.author, s.year) if part != "-") or "–",
                s.part_read if s.part_read != "-" else "no publication",
                s.used_for,
            ]
        )
        for s in sources
    ]
    return schedule(columns, rows, width)


def cautions(content: ReportContent, pictures: Pictures, width: float) -> list[Flowable]:
    return [caution(words, width) for words in content.words.cautions]


def sign_off(content: ReportContent, pictures: Pictures, width: float) -> list[Flowable]:
    survey, standing = content.survey, content.standing
    surveyor = ", ".join(part for part in (survey.surveyor_name, survey.qualification) if part)
    issued = (
        "This is a draft. It is not issued and nobody may rely on it."
        if standing.is_draft
        else f"Issued {day(standing.on)} by {standing.by} as report {standing.number}."
    )
    return [
        KeepTogether(
            [
                text(content.words.sign_off),
                text(
                    f"It is meant for {content.readers}, and for nobody else without the "
                    "surveyor's written word."
                ),
                text(issued),
                Spacer(1, 6 * mm),
                _signature(f"Surveyor: {surveyor}", width),
                Spacer(1, 6 * mm),
                _signature(f"For the yard: {content.yard.name}", width),
                Spacer(1, 8 * mm),
                *check_mark(standing, width),
            ]
        )
    ]


def _signature(who: str, width: float) -> Flowable:
    """A ruled place to sign, with the date."""
    lines = Table(
        [["", "", ""], [text(who, "caption"), "", text("Date", "caption")]],
        colWidths=[width * 0.6, width * 0.06, width * 0.34],
        rowHeights=[15 * mm, None],
    )
    lines.setStyle(
        TableStyle(
            [
                ("LINEBELOW", (0, 0), (0, 0), THIN, INK),
                ("LINEBELOW", (2, 0), (2, 0), THIN, INK),
                ("LEFTPADDING", (0, 0), (-1, -1), 0),
                ("VALIGN", (0, 1), (-1, 1), "TOP"),
            ]
        )
    )
    return lines
