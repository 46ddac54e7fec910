"""The report in plain words on one page: what is wrong, why, what must be done and by when, what it
costs, what was not looked at. Counted and listed from what the surveyor set; nothing is judged
here. The same sentences stand on paper and on screen.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from restoration.reports.content import MemberState, ReportContent
from restoration.reports.pdf.words import count, days, listed, money, sentence, shortened
from restoration.reports.summary import (
    Graded,
    Money,
    Summary,
    causes_named,
    renewed_since,
    summarise,
)

MOST_NAMED = 12
MOST_TERMED = 16
MOST_CAUSES = 5
LONGEST = 360


@dataclass(frozen=True)
class Said:
    """One question the client has, and the answer, a sentence or two each."""

    asked: str
    answers: tuple[str, ...]


def in_plain_words(content: ReportContent) -> tuple[Said, ...]:
    in_short = summarise(content)
    return (
        Said("What is wrong", _wrong(content, in_short)),
        Said("Why", _why(content)),
        Said("What must be done, and by when", _to_do(content, in_short)),
        Said("What it costs", _costs(content, in_short)),
        Said("What was not looked at", _not_looked_at(content, in_short)),
    )


def opening(content: ReportContent) -> str:
    survey, examined = content.survey, summarise(content).examined
    when = days(survey.surveyed_on, survey.ended_on)
    when = f"on {when}" if survey.ended_on in (None, survey.surveyed_on) else f"from {when}"
    recorded = count(len(content.members), "recorded member")
    graded = f"Of her {recorded}, {examined or 'none'} "
    graded += f"{'were' if examined > 1 else 'was'} examined and graded."
    return (
        f"{content.vessel.name} was surveyed {when} at {survey.place}, {survey.lying}, by "
        f"{survey.surveyor_name}. "
        + (graded if content.members else "No member of hers is in the register.")
    )


def _wrong(content: ReportContent, in_short: Summary) -> tuple[str, ...]:
    meanings = {c.grade: c.meaning for c in content.words.conditions}
    said = [
        f"{g.word.capitalize()} (class {g.grade}), {count(len(g.members), 'member')}: "
        f"{_named(g.members)}. {meanings.get(g.grade, '')}".strip()
        for g in in_short.conditions
        if g.grade in ("3", "2", "1") and g.members
    ]
    nothing = len(in_short.in_condition("0").members)
    if nothing:
        said.append(f"At {count(nothing, 'member')} nothing was found by the methods used.")
    return tuple(said) or ("No member was examined and graded in this survey.",)


def _why(content: ReportContent) -> tuple[str, ...]:
    named = causes_named(content.members)
    said = [
        f"{held[0][1].name}: {count(len(held), 'member')} ({_how_sure(c for _, c in held)}), "
        f"{_marks(m for m, _ in held)}."
        for held in list(named.values())[:MOST_CAUSES]
    ]
    if len(named) > MOST_CAUSES:
        said.append(
            f"And {count(len(named) - MOST_CAUSES, 'other cause')}: see the chapter on causes."
        )
    return tuple(said) or ("No cause is named for any member in this survey.",)


def _how_sure(causes: Iterable) -> str:
    sure = Counter(cause.certainty for cause in causes)
    return ", ".join(f"{number} {certainty}" for certainty, number in sure.most_common())


def _to_do(content: ReportContent, in_short: Summary) -> tuple[str, ...]:
    meanings = {c.grade: c.meaning for c in content.words.urgencies}
    renewed = renewed_since(content.survey.surveyed_on, content.replacements, content.threads)
    left = (_still_to_be_done(graded, renewed) for graded in in_short.urgencies)
    said = [
        f"{g.word.capitalize()} (urgency {g.grade}): {_with_measures(g)}. {meanings[g.grade]}"
        for g in left
        if g.members
    ]
    if renewed:
        said.append(f"Renewed since the survey: {listed(renewed, MOST_NAMED)}.")
    waiting = list(dict.fromkeys(r.mark for r in content.replacements if not r.is_fitted))
    if waiting:
        said.append(f"A new piece is specified for: {listed(waiting, MOST_NAMED)}.")
    if not said and not in_short.examined:
        said = ["This survey graded no member, so it cannot say what must be done."]
    said = said or ["Nothing is graded as pressing in this survey."]
    if remarks := " ".join(content.remarks.split()):
        said.append(f"Remarks: {sentence(shortened(remarks, LONGEST))}")
    return tuple(said)


def _still_to_be_done(graded: Graded, renewed: Sequence[str]) -> Graded:
    """Without the members renewed since. What does not press is named all the same where
    something is to be done to it."""
    left = [m for m in graded.members if m.mark not in renewed]
    if graded.grade == "0":
        left = [m for m in left if m.finding.measure]
    return replace(graded, members=tuple(left))


def _with_measures(graded: Graded) -> str:
    """The members by what is recommended for them."""
    held: dict[str, list[str]] = {}
    for member in graded.members:
        held.setdefault(member.finding.measure_word or "no measure set", []).append(member.mark)
    return "; ".join(f"{word} for {listed(marks, MOST_NAMED)}" for word, marks in held.items())


def _costs(content: ReportContent, in_short: Summary) -> tuple[str, ...]:
    said = estimates(in_short.to_do, content.currency)
    if done := [r.mark for r in content.replacements if r.is_fitted]:
        are = count(len(done), "replacement is", "replacements are")
        said += f" {are} fitted: {listed(done, MOST_NAMED)}."
    offer = "Estimates, not an offer: opening up commonly shows more (common practice)."
    if not content.replacements:
        said, offer = "No replacement is specified, so none is estimated.", ""
    return tuple(part for part in (said, _in_no_sum(content), offer) if part)


def _in_no_sum(content: ReportContent) -> str:
    """Whoever pays must not take the sum for the whole: work that nothing is specified for."""
    specified = {r.mark for r in content.replacements}
    left = [
        m.mark
        for m in content.members
        if m.finding and m.finding.measure and m.mark not in specified
    ]
    if not left:
        return ""
    return (
        f"In no sum yet: {listed(left, MOST_NAMED)}, for which work is recommended and nothing "
        "is specified."
    )


def estimates(sum_of: Money, currency: str) -> str:
    if not sum_of.count:
        return "Every replacement that is specified is fitted."
    known = [
        money(sum_of.cost, currency) if sum_of.count > sum_of.without_cost else "",
        f"{sum_of.hours:,} hours" if sum_of.count > sum_of.without_hours else "",
    ]
    said = f"{count(sum_of.count, 'replacement')} still to be fitted: "
    if not any(known):
        return f"{said}none has an estimate yet."
    said += f"estimated at {' and '.join(part for part in known if part)}."
    without = [
        f"{sum_of.without_cost} without an estimate of cost" if sum_of.without_cost else "",
        f"{sum_of.without_hours} without an estimate of hours" if sum_of.without_hours else "",
    ]
    lacking = " and ".join(part for part in without if part)
    return f"{said} These leave out {lacking}." if lacking else said


def _not_looked_at(content: ReportContent, in_short: Summary) -> tuple[str, ...]:
    unexamined, silent = in_short.in_condition("NE"), in_short.in_condition("")
    said = []
    if unexamined.members:
        said.append(f"Not examined: {listed(unexamined.marks, MOST_NAMED)}.")
    if silent.members:
        said.append(f"No finding recorded in this survey: {listed(silent.marks, MOST_NAMED)}.")
    if unreached := " ".join(content.survey.not_reached.split()):
        said.append(f"Could not be reached: {sentence(shortened(unreached, LONGEST))}")
    said.append("Nothing is known from this survey of what was not looked at.")
    return tuple(said)


def _named(members: Iterable[MemberState]) -> str:
    """Stem foot SF1; floor timber F10 and F12: a mark alone says nothing to whoever pays."""
    members, said = list(members), []
    for term, marks in _by_term(members[:MOST_TERMED]).items():
        said.append(f"{term} {listed(marks)}")
    more = len(members) - MOST_TERMED
    return "; ".join(said) + (f"; and {more} more" if more > 0 else "")


def _by_term(members: Iterable[MemberState]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for member in members:
        found.setdefault(member.term, []).append(member.mark)
    return found


def _marks(members: Iterable[MemberState]) -> str:
    return listed([member.mark for member in members], MOST_NAMED)
