"""The chapter of costs: what is estimated, what it took so far, and how far off it may be."""

from reportlab.platypus import Flowable

from restoration.reports.content import ReportContent
from restoration.reports.money import WHAT_IT_IS, MoneySums, SpecMoney, VesselMoney
from restoration.reports.pdf.chapters_end import costs as estimated
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.letters import markup
from restoration.reports.pdf.parts import bold, marked, subheading, text
from restoration.reports.pdf.tables import Column, Row, schedule
from restoration.reports.pdf.words import money as said
from restoration.reports.pdf.words import rough_money, sentence


def costs(content: ReportContent, pictures: Pictures, width: float) -> list[Flowable]:
    """Reports frozen before the yard kept what was spent tell the estimate alone."""
    told = estimated(content, pictures, width)
    if content.money is None or not content.money.replacements:
        return told
    return [*told, *_range(content.money), *_spent(content.money, width)]


def _range(money: VesselMoney) -> list[Flowable]:
    told = [*subheading("How far off it may be")]
    if money.low is not None and money.high is not None:
        told.append(
            text(
                "With what they took already, the replacements that are not done and have an "
                f"estimate may come to between {rough_money(money.low, money.currency)} and "
                f"{rough_money(money.high, money.currency)}."
            )
        )
    return [*told, text(money.past_says), text(money.past_rule, "small")]


def _spent(money: VesselMoney, width: float) -> list[Flowable]:
    told = [*subheading("What it took so far")]
    if not money.begun and not money.besides:
        return [*told, text("Nothing is spent on her replacements yet.")]
    columns = [
        Column("Member", 38), Column("Timber", 17, figures=True), Column("Waste", 17, figures=True),
        Column("Sawing", 17, figures=True), Column("Hours", 15, figures=True),
        Column("Hours × rate", 20, figures=True), Column("Fastenings, sundries", 22, figures=True),
        Column("Spent", 20, figures=True), Column("Estimate", 20, figures=True),
    ]  # fmt: skip
    rows = [_row(row) for row in money.begun]
    rows.append(_sums("All of these", money.begun_sums, money.rate is not None))
    return [*told, schedule(columns, rows, width), *_besides(money), text(WHAT_IT_IS, "small")]


def _row(row: SpecMoney) -> Row:
    cells = [
        marked(f"{markup(f'{row.mark} {row.term}')}<br/>{markup(row.stage)}", "cell"),
        *_timber(row),
        f"{row.hours.normalize():f}",
        "–" if row.labour is None else f"{row.labour:,.2f}",
        f"{row.fastenings_and_others:,.2f}",
        f"{row.spent:,.2f}",
        "–" if row.estimate is None else f"{row.estimate:,.2f}",
    ]
    return Row(cells)


def _timber(row: SpecMoney) -> list[str]:
    if not row.has_timber:
        return ["–"] * 3
    return [f"{amount:,.2f}" for amount in (row.timber, row.waste, row.sawing)]


def _sums(label: str, sums: MoneySums, has_rate: bool) -> Row:
    amounts = (sums.timber, sums.waste, sums.sawing)
    cells = [
        marked(bold(label), "cell"),
        *(f"{amount:,.2f}" for amount in amounts),
        f"{sums.hours.normalize():f}",
        f"{sums.labour:,.2f}" if has_rate else "–",
        f"{sums.fastenings_and_others:,.2f}",
        f"{sums.spent:,.2f}",
        f"{sums.estimate:,.2f}" if sums.estimated else "–",
    ]
    return Row(cells, is_total=True)


def _besides(money: VesselMoney) -> list[Flowable]:
    told = []
    if money.besides:
        told.append(text(f"Besides, for the vessel as a whole: "
                         f"{said(money.besides, money.currency)}."))  # fmt: skip
    if money.lacks:
        told.append(text(sentence("Not in the sums, for want of a figure: "
                                  + "; ".join(money.lacks))))  # fmt: skip
    return told
