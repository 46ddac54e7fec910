"""The papers that go with a log, kept with their files, and taken off again."""

from datetime import date

from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from django.db import transaction

from timber_stock.models import Log, LogPaper
from timber_stock.web.papers import PaperFile

MOST_PAPERS = 40


def keep_paper(
    *,
    log: Log,
    kind: str,
    title: str,
    paper: PaperFile,
    on: date,
    by: str,
    dated_on: date | None = None,
) -> LogPaper:
    """Its file is removed again if its row is refused."""
    if log.papers.count() >= MOST_PAPERS:
        raise ValidationError(f"A log keeps up to {MOST_PAPERS} papers.")
    row = LogPaper(
        log=log,
        kind=kind,
        title=title.strip(),
        dated_on=dated_on,
        content_type=paper.content_type,
        size_bytes=len(paper.content),
        sha256=paper.sha256,
        kept_on=on,
        kept_by=by,
    )
    row.full_clean(exclude=["file"])
    row.file.save(f"{paper.sha256[:16]}.{paper.ending}", ContentFile(paper.content), save=False)
    try:
        with transaction.atomic():
            row.save()
    except BaseException:
        row.file.storage.delete(row.file.name)
        raise
    return row


def remove_paper(*, paper: LogPaper) -> None:
    paper.delete()
    paper.file.storage.delete(paper.file.name)
