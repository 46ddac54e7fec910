"""What is kept of where a log grew, and of the papers that prove it, for a certificate."""

from collections.abc import Iterable, Sequence

from restoration import timber
from restoration.reports.paper import Block, Facts, Head, Line, Table, Words
from restoration.reports.pdf.words import day, number, sentence

NO_PAPERS = (
    "No paper of origin of this log, such as a felling note or a certificate of the wood it grew "
    "in, is on record."
)
FINGERPRINT = (
    "The fingerprint is the SHA-256 of the file as it is kept here, a PDF byte for byte as it was "
    "sent in, a photograph written anew: whoever has the paper as a file "
    "can tell by it whether it is the same."
)
HEADS = (Head("Paper", 52), Head("What it is", 40), Head("Dated", 26), Head("Fingerprint", 70))


def provenance(log_ids: Iterable[int]) -> dict[int, Sequence[Block]]:
    """By log, what the register keeps of its origin, in two queries."""
    logs = timber.Log.objects.filter(pk__in=list(log_ids)).prefetch_related("papers")
    return {log.pk: _of(log) for log in logs}


def _of(log: timber.Log) -> Sequence[Block]:
    return [*_place(log), *_protection(log), *_papers(log)]


def _place(log: timber.Log) -> list[Block]:
    pairs = []
    if log.grew_country:
        pairs.append(("Country where it grew", log.grew_country))
    if log.grew_latitude is not None:
        place = f"{_degrees(log.grew_latitude, 'NS')}, {_degrees(log.grew_longitude, 'EW')}"
        pairs.append(("Where it grew, latitude and longitude", place))
    return [Facts(tuple(pairs))] if pairs else []


def _degrees(value: float, letters: str) -> str:
    return f"{number(round(abs(value), 4))}° {letters[value < 0]}"


def _protection(log: timber.Log) -> list[Block]:
    if not log.protection_note.strip():
        return []
    return [Words(f"{sentence(log.protection_note)} Written in: {sentence(log.protection_source)}")]


def _papers(log: timber.Log) -> list[Block]:
    papers = log.papers.all()
    if not papers:
        return [Words(NO_PAPERS)]
    lines = tuple(
        Line((paper.title, paper.get_kind_display(), day(paper.dated_on), paper.sha256))
        for paper in papers
    )
    return [Table(HEADS, lines, f"Papers kept of log {log.tag}"), Words(FINGERPRINT, "small")]
