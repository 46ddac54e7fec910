"""What is to be replaced and with what; and where each piece of timber came from."""

from itertools import groupby

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from restoration.reports.content import Replacement, ReportContent, TimberThread
from restoration.reports.links import schedule_key, thread_key
from restoration.reports.origin import origin
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.keeping import Kept, stays
from restoration.reports.pdf.letters import markup
from restoration.reports.pdf.parts import Heading, bold, marked, seen, subheading, text, texts
from restoration.reports.pdf.tables import Column, Row, schedule
from restoration.reports.pdf.words import day, length, number, sentence, sizes
from restoration.reports.summary import Money, summarise
from restoration.reports.timber_facts import TimberStep

# A note longer than this is set under the schedule, where it may break over pages.
LONGEST_IN_TABLE = 500
WHOLE = 170 * mm


def schedule_of_replacements(
    content: ReportContent, pictures: Pictures, width: float
) -> list[Flowable]:
    if not content.replacements:
        return [text("No replacement is specified.")]
    columns = [
        Column("Member", 25),
        Column("Wood", 37),
        Column("Finished size", 29),
        Column("Rings, heart, seasoning", 35),
        Column("Hours", 16, figures=True),
        Column(f"Cost, {content.currency}", 25, figures=True),
        Column("Timber", 20),
    ]
    rows = [_row(r, content.units) for r in content.replacements]
    rows.append(_total("Total of the estimates", summarise(content).all_work))
    return [
        stays(
            text(
                "Finished sizes, sided by moulded. Every specification that stands is listed, from "
                "whichever survey it came; scantlings are for a competent person to check against "
                "the rules that apply.",
                "small",
            )
        ),
        schedule(columns, rows, width),
        *_long_notes(content.replacements),
    ]


def _row(r: Replacement, units: str) -> Row:
    note = _note(r)
    return Row(
        [
            marked(
                f"{seen(r.mark, 'schedule', schedule_key(r.mark))}{bold(r.mark)}<br/>"
                f"{markup(r.term)}",
                "cell",
            ),
            "\n".join([r.wood, *(f"or {wood}" for wood in r.other_woods)]),
            "\n".join(sizes(units, r.sided_mm, r.moulded_mm, r.length_mm)),
            "\n".join(_quality(r)),
            "–" if r.hours is None else f"{r.hours:,}",
            "–" if r.cost is None else f"{r.cost:,.2f}",
            r.stage,
        ],
        note=note if len(note) <= LONGEST_IN_TABLE else "Fastenings and notes: under the schedule.",
    )


def _quality(r: Replacement) -> list[str]:
    face = f", {r.rings_face}" if r.rings_face else ""
    dry = f" to {number(r.moisture_percent)} % moisture" if r.moisture_percent else ""
    return [
        f"rings {r.rings}{face}",
        "clear of heart" if r.clear_of_heart else "heart allowed",
        "sapwood allowed" if r.sapwood_allowed else "no sapwood",
        f"{r.seasoning}{dry}",
    ]


def _note(r: Replacement) -> str:
    parts = [("Fastenings", r.fastenings), ("Notes", r.note)]
    return " ".join(
        f"<i>{label}:</i> {markup(sentence(words))}" for label, words in parts if words.strip()
    )


def _long_notes(replacements: tuple[Replacement, ...]) -> list[Flowable]:
    story: list[Flowable] = []
    for r in replacements:
        if len(_note(r)) > LONGEST_IN_TABLE:
            story += subheading(f"{r.mark} {r.term}: fastenings and notes")
            story += [*texts(r.fastenings, "small"), *texts(r.note, "small")]
    return story


def _total(label: str, sums: Money) -> Row:
    cells = [marked(bold(label), "cell"), "", "", ""]
    return Row([*cells, f"{sums.hours:,}", f"{sums.cost:,.2f}", ""], is_total=True)


def timber_threads(content: ReportContent, pictures: Pictures, width: float) -> list[Flowable]:
    if not content.threads:
        return [text("No timber is allotted to a member of this vessel yet.")]
    story: list[Flowable] = [
        stays(text("Read each table from the log down to the board the member is taken from."))
    ]
    for mark, threads in groupby(content.threads, key=lambda thread: thread.mark):
        ones = list(threads)
        title = Heading(
            f"{mark} {ones[0].term}", 1, thread_key(mark), in_contents=False,
            opening=seen(mark, "thread"),
        )  # fmt: skip
        for n, thread in enumerate(ones):
            said = [stays(text(_use(thread, content.units))), _steps(thread, content.units, width)]
            said.append(_certificate(thread))
            story.append(Kept(said if n else [title, *said], WHOLE))
    return story


def _certificate(t: TimberThread) -> Flowable:
    """What the yard's records vouch for, under each piece of each member."""
    return marked(f"<i>Certificate of origin.</i> {markup(' '.join(origin(t)))}", "small")


def _use(t: TimberThread, units: str) -> str:
    """Which length of which board, and how far it has come."""
    board = t.steps[-1].tag
    said = f"From {length(t.from_mm, units)} to {length(t.to_mm, units)} of {board}, "
    said += f"{t.steps[-1].wood}: allotted {day(t.allotted_on)} by {t.allotted_by}"
    if t.cut_on:
        said += f", cut {day(t.cut_on)} by {t.cut_by}"
    if t.fitted_on:
        said += f", fitted {day(t.fitted_on)} by {t.fitted_by}"
    return f"{said}."


def _steps(t: TimberThread, units: str, width: float) -> Flowable:
    columns = [
        Column("Tag", 24),
        Column("What", 18),
        Column("Size", 52),
        Column("Heart and rings", 30),
        Column("Where from", 64),
    ]
    return schedule(columns, [_step(step, units) for step in t.steps], width)


def _step(step: TimberStep, units: str) -> Row:
    heart = [f"heart: {step.heart}" if step.heart == "not known" else step.heart]
    rings = [f"rings: {step.rings}" if step.rings == "not known" else step.rings]
    when = f" {day(step.came_on)}" if step.came_on else ""
    return Row(
        [
            marked(bold(step.tag), "cell"),
            step.word,
            _size(step, units),
            "\n".join(part for part in heart + rings if part) or "–",
            f"{step.came},{when}" if when else step.came,
        ]
    )


def _size(step: TimberStep, units: str) -> str:
    if step.butt_mm is None:
        return ", ".join(sizes(units, step.thickness_mm, step.width_mm, step.length_mm))
    across = f"{length(step.butt_mm, units)} butt, {length(step.top_mm, units)} top"
    return f"{length(step.length_mm, units)} long\n{across}"
