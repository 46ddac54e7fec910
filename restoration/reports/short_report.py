"""The short report: a survey on two pages, for whoever will not read the whole of it today.

It says nothing that the full report does not; it counts and adds up what the surveyor set. Lists
are cut to `most` names and rows, and say how many more there are.
"""

from datetime import date

from restoration.reports.content import MemberState, Replacement, ReportContent
from restoration.reports.paper import (
    Block,
    Caution,
    Facts,
    Graded,
    Head,
    Heading,
    Line,
    NewPage,
    Paper,
    Signatures,
    Table,
    Words,
)
from restoration.reports.pdf.words import (
    NOT_STATED,
    count,
    day,
    days,
    listed,
    money,
    sentence,
    shortened,
    sizes,
)
from restoration.reports.summary import (
    NO_FINDING_WORDS,
    Money,
    Summary,
    add_up,
    renewed_since,
    summarise,
)

KIND = "Short report"
IN_FULL = (
    "This is a summary on two pages. Every member, with its findings, photographs and causes, the "
    "methods used and the sources, is in the condition and replacement report."
)
BUDGETS = (60, 48, 40, 34, 28, 24, 20, 17, 14, 12, 10, 8, 6, 5, 4, 3)
"""How many names or rows a list may have, tried in turn until its page holds it all."""
LETTERS_A_ROW = 34
LEAST_PRESSING = 2  # of urgency


def short_report(
    content: ReportContent, *, on: date, issued: int | None, most: tuple[int, int] = (60, 60)
) -> Paper:
    """`issued` is the number of the report issued of this survey, if one was; `most` limits the
    lists of the first page and of the second."""
    vessel, yard = content.vessel, content.yard
    return Paper(
        kind=KIND,
        of=f"{vessel.name}, surveyed {day(content.survey.surveyed_on)}",
        author=yard.name,
        foot=(("Yard", yard.name), ("For", content.client.name), ("Drawn up", day(on))),
        file_name=f"{vessel.code}-short-report-{content.survey.surveyed_on:%Y-%m-%d}",
        blocks=(
            *first_page(content, issued, most[0]),
            NewPage(),
            *second_page(content, most[1]),
        ),
    )


def first_page(content: ReportContent, issued: int | None, most: int) -> list[Block]:
    """How she stands."""
    in_short = summarise(content)
    full = (
        f"Report {issued} is issued of this survey and stands before this summary."
        if issued
        else "No report of this survey is issued yet; until then nothing here is final."
    )
    return [
        _particulars(content, in_short, most),
        Words(f"{IN_FULL} {full}", "small"),
        Heading("How she stands", "stands"),
        _conditions(in_short, most),
        Words(content.words.grading_standing, "small"),
        Heading("What presses", "presses"),
        *_pressing(content, most),
        *_causes(in_short, most),
    ]


def second_page(content: ReportContent, most: int) -> list[Block]:
    """What must be done, and what nobody looked at."""
    return [
        Heading("What must be done", "done"),
        *_work(content, most),
        Heading("What was not looked at", "not_looked"),
        *_not_looked_at(content, most),
        *(Caution(words) for words in (*content.words.cautions[:2], content.words.cautions[-1])),
        Signatures((f"Surveyor: {shortened(content.survey.surveyor_name, 80)}",
                    f"For the yard: {shortened(content.yard.name, 80)}")),
    ]  # fmt: skip


def _particulars(content: ReportContent, in_short: Summary, most: int) -> Facts:
    vessel, survey = content.vessel, content.survey
    built = ", ".join(str(part) for part in (vessel.built_year, vessel.built_place) if part)
    surveyor = ", ".join(part for part in (survey.surveyor_name, survey.qualification) if part)
    where = f"{survey.place}, {survey.lying}"
    members = f"{len(content.members)} recorded, {in_short.examined} examined and graded"
    facts = (
        ("Vessel", f"{vessel.name} ({vessel.code})"),
        ("Built", built or NOT_STATED),
        ("For", content.client.name),
        ("Surveyed", f"{days(survey.surveyed_on, survey.ended_on)}, {where}"),
        ("By", surveyor),
        ("Members", members),
    )
    return Facts(tuple((name, shortened(said, 12 * most)) for name, said in facts))


def _conditions(in_short: Summary, most: int) -> Table:
    heads = (Head("Condition", 36), Head("Members", 18, figures=True), Head("Marks", 116))
    lines = tuple(
        Line(
            (
                Graded(g.grade, g.word) if g.grade else NO_FINDING_WORDS,
                str(len(g.members)),
                listed(g.marks, most) if g.grade != "0" else "",
            )
        )
        for g in in_short.conditions
    )
    return Table(heads, lines)


def _pressing(content: ReportContent, most: int) -> list[Block]:
    found = [m for m in content.members if m.finding and m.finding.urgency is not None]
    pressed = [m for m in found if m.finding.urgency >= LEAST_PRESSING]
    renewed = renewed_since(content.survey.surveyed_on, content.replacements, content.threads)
    done = [m.mark for m in pressed if m.mark in renewed]
    said = _and_renewed(done, most)
    pressing = sorted((m for m in pressed if m.mark not in done), key=lambda m: -m.finding.urgency)
    if not pressing:
        still = "still to be met " if done else ""
        return [Words(f"No finding {still}has an urgency of {LEAST_PRESSING} or more."), *said]
    heads = (
        Head("Member", 38), Head("Condition", 27), Head("Urgency", 25), Head("Measure", 30),
        Head("Cause named first", 54),
    )  # fmt: skip
    rows = max(most // 2, 2)
    blocks: list[Block] = [Table(heads, tuple(_pressing_line(m) for m in pressing[:rows]))]
    return blocks + _and_more(len(pressing) - rows, "member") + said


def _and_renewed(marks: list[str], most: int) -> list[Block]:
    if not marks:
        return []
    return [Words(f"Pressed too, and renewed since the survey: {listed(marks, most)}.", "small")]


def _pressing_line(m: MemberState) -> Line:
    f = m.finding
    cause = min(f.causes, key=lambda c: c.rank, default=None)
    return Line(
        (
            f"{m.mark} {m.term}",
            Graded(f.condition, f.condition_word),
            f"{f.urgency} {f.urgency_word}",
            "–" if f.measure is None else f"{f.measure} {f.measure_word}",
            f"{cause.name} ({cause.certainty})" if cause else "none named",
        )
    )


def _and_more(left: int, what: str) -> list[Block]:
    return (
        [Words(f"And {count(left, what)} more, in the full report.", "small")] if left > 0 else []
    )


def _causes(in_short: Summary, most: int) -> list[Block]:
    said = [f"{name} ({members})" for name, members in in_short.causes[: max(most // 3, 2)]]
    if not said:
        return [Words("Causes: none named.", "small")]
    return [Words(f"Causes named first, and of how many members: {listed(said)}.", "small")]


def _work(content: ReportContent, most: int) -> list[Block]:
    in_short = summarise(content)
    to_do = [r for r in content.replacements if not r.is_fitted]
    if not content.replacements:
        return [Words("No replacement is specified."), *_unspecified(content, most)]
    heads = (
        Head("Member", 40), Head("Wood", 42), Head("Finished size", 42), Head("Timber", 26),
        Head("Hours", 18, figures=True), Head(f"Cost, {content.currency}", 28, figures=True),
    )  # fmt: skip
    rows = max(most // 3, 2)
    lines = [_work_line(r, content.units) for r in to_do[:rows]]
    if len(to_do) > rows:
        lines.append(_sum(f"And {count(len(to_do) - rows, 'replacement')} more",
                          add_up(to_do[rows:])))  # fmt: skip
    lines.append(_sum("Still to be done", in_short.to_do, is_total=True))
    fitted = (
        f"Fitted already: {count(in_short.fitted.count, 'replacement')}, estimated at "
        f"{money(in_short.fitted.cost, content.currency)} and {in_short.fitted.hours:,} hours."
    )
    return [
        Table(heads, tuple(lines)),
        Words(f"{fitted} {_without(in_short.to_do)}".strip(), "small"),
        *_unspecified(content, most),
    ]


def _work_line(r: Replacement, units: str) -> Line:
    size = "\n".join(sizes(units, r.sided_mm, r.moulded_mm, r.length_mm))
    hours = "–" if r.hours is None else f"{r.hours:,}"
    cost = "–" if r.cost is None else f"{r.cost:,.2f}"
    return Line((f"{r.mark} {r.term}", shortened(r.wood, 60), size, r.stage, hours, cost))


def _sum(label: str, sums: Money, *, is_total: bool = False) -> Line:
    return Line((label, "", "", "", f"{sums.hours:,}", f"{sums.cost:,.2f}"), is_total=is_total)


def _without(sums: Money) -> str:
    if not sums.without_cost and not sums.without_hours:
        return ""
    return (
        f"In no sum, for want of a figure: cost of {count(sums.without_cost, 'replacement')} and "
        f"hours of {count(sums.without_hours, 'replacement')} still to be done."
    )


def _unspecified(content: ReportContent, most: int) -> list[Block]:
    specified = {r.mark for r in content.replacements}
    major = [m.mark for m in content.members if m.finding and m.finding.measure == 3]
    left = [mark for mark in major if mark not in specified]
    if not left:
        return []
    return [Words(f"Replacement is recommended and not specified yet of {listed(left, most)}.")]


def _not_looked_at(content: ReportContent, most: int) -> list[Block]:
    in_short = summarise(content)
    unseen = in_short.in_condition("NE").marks
    silent = in_short.in_condition("").marks
    said = shortened(" ".join(content.survey.not_reached.split()), LETTERS_A_ROW * most)
    blocks: list[Block] = [
        Words(sentence(said) or "The survey states no limit of what it reached.")
    ]
    if unseen:
        blocks.append(Words(f"Not examined: {listed(unseen, most)}."))
    if silent:
        blocks.append(Words(f"{sentence(NO_FINDING_WORDS)[:-1]}: {listed(silent, most)}."))
    blocks.append(
        Words("Nothing is known from this survey of a member that is not examined or has no "
              "finding recorded.", "small")
    )  # fmt: skip
    return blocks
