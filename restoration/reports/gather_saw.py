"""Where in its log each allotted piece lay, as the sawing plan has it: a figure for each."""

from collections.abc import Iterable
from dataclasses import replace

from restoration import timber
from restoration.reports.content import TimberThread
from restoration.reports.section_facts import Choice, FigureDrawn
from timber_stock.drawings.log_section import section_svg
from timber_stock.drawings.section_views import section_at

INSET_MM = 1.0


def sawn_from(threads: Iterable[TimberThread]) -> tuple[Choice, ...]:
    """One for each member whose timber was sawn by a plan that is kept."""
    threads = list(threads)
    pieces = timber.sawn_by_plan({step.tag for t in threads for step in t.steps})
    found: dict[tuple[str, str], Choice] = {}
    for thread in threads:
        for step in thread.steps:
            if step.tag in pieces and (thread.mark, step.tag) not in found:
                found[thread.mark, step.tag] = _choice(thread, step.tag, pieces[step.tag])
    return tuple(found.values())


def _choice(thread: TimberThread, tag: str, piece: timber.PieceSawn) -> Choice:
    plan = piece.plan
    told = timber.plan_as_it_stands(plan)
    bolt = told.layout[piece.bolt]
    placed = bolt.timbers[piece.timber]
    key = f"{thread.mark}-{tag}"
    section = section_at(
        told.request, bolt, placed.from_mm + INSET_MM,
        f"{plan.log.tag} as planned, seen from the butt: {tag} is shaded", key=key,
    )  # fmt: skip
    timbers = [replace(t, freed=n == piece.timber) for n, t in enumerate(section.timbers)]
    drawn = section_svg(replace(section, timbers=timbers))
    return Choice(
        marks=(thread.mark,),
        term=thread.term,
        asked=f"{tag} as it lay in log {plan.log.tag}, plan {plan.number}. {plan.why}".strip(),
        drawn=(
            FigureDrawn(
                drawn,
                f"{plan.log.tag} seen from the butt, as it lay on the saw; {tag} is shaded. The "
                "figures round the bark are the hours of the butt, the cross is the heart.",
            ),
        ),
    )
