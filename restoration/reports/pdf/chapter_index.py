"""The index by member mark, at the end of the report."""

from reportlab.platypus import Flowable

from restoration.reports.content import ReportContent
from restoration.reports.links import condition_key, finding_key, schedule_key, thread_key
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.mark_index import MarkIndex, Sought
from restoration.reports.pdf.parts import text


def index(content: ReportContent, pictures: Pictures, width: float) -> list[Flowable]:
    if not content.members:
        return [text("No member of the vessel is in the register yet.")]
    members = [(m.mark, m.term) for m in content.members]
    found = [m.mark for m in content.members if m.finding]
    sought = [
        Sought("condition", "Condition", {m.mark: condition_key(m.mark) for m in content.members}),
        Sought("finding", "Finding", {mark: finding_key(mark) for mark in found}),
        Sought("schedule", "Replacement", _keys(content.replacements, schedule_key)),
        Sought("thread", "Timber", _keys(content.threads, thread_key)),
    ]
    return [MarkIndex(members, sought)]


def _keys(things, key) -> dict[str, str]:
    return {thing.mark: key(thing.mark) for thing in things}
