"""Why members failed: cause by cause, each member with how sure it is and what shows it."""

from dataclasses import dataclass

from reportlab.platypus import Flowable

from restoration.reports.content import CauseNamed, MemberState, ReportContent
from restoration.reports.links import finding_key
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.keeping import stays
from restoration.reports.pdf.letters import markup
from restoration.reports.pdf.parts import heading, link, marked, text
from restoration.reports.pdf.tables import Column, Row, schedule
from restoration.reports.pdf.words import count, sentence
from restoration.reports.summary import causes_named

NO_CAUSE = "No cause is named for any member in this survey."
LONGEST_IN_TABLE = 600


@dataclass(frozen=True)
class _Named:
    member: MemberState
    cause: CauseNamed


def causes(content: ReportContent, pictures: Pictures, width: float) -> list[Flowable]:
    named = causes_named(content.members)
    if not named:
        return [text(NO_CAUSE)]
    story: list[Flowable] = [stays(text(content.words.causes_standing, "small"))]
    for code, held in named.items():
        cause = held[0][1]
        title = f"{cause.name}: {count(len(held), 'member')}"
        story += heading(title, 1, f"cause_{code}", in_contents=False)
        if cause.guidance:
            guidance = f"{sentence(cause.guidance)} ({cause.guidance_standing})"
            story.append(marked(f"<i>Guidance:</i> {markup(guidance)}", "small"))
        story.append(_table([_Named(*each) for each in held], width))
    return story


def _table(held: list[_Named], width: float) -> Flowable:
    columns = [Column("Member", 42), Column("Named", 14), Column("How sure", 24)]
    columns.append(Column("Evidence", 90))
    return schedule(columns, [_row(each) for each in held], width)


def _row(named: _Named) -> Row:
    member, cause = named.member, named.cause
    lead = f"{link(member.mark, finding_key(member.mark))} {markup(member.term)}"
    evidence = sentence(cause.evidence) or "none stated"
    if len(evidence) > LONGEST_IN_TABLE:
        evidence = "with the finding"
    ranks = {1: "first", 2: "second", 3: "third"}
    return Row([marked(lead, "cell"), ranks.get(cause.rank, str(cause.rank)),
                cause.certainty, evidence])  # fmt: skip
