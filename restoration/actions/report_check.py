"""Telling whoever holds a paper whether it is one of ours, and nothing beyond what it says."""

import re
from dataclasses import dataclass
from datetime import date

from django.utils import timezone

from restoration.models import Report
from restoration.models.report import CHECK_LENGTH, CHECK_LETTERS

HASH = re.compile(r"[0-9a-f]{64}\Z")
CODE = re.compile(f"[{CHECK_LETTERS}]{{{CHECK_LENGTH}}}\\Z")


@dataclass(frozen=True)
class Verdict:
    """`by_file`: known by its bytes, so every word of it is as issued; else only by its number."""

    number: int
    issued_on: date
    superseded: bool
    by_file: bool


def by_hash(sha256: str) -> Verdict | None:
    return _verdict(Report.objects.filter(sha256=sha256.lower()), by_file=True)


def by_code(code: str) -> Verdict | None:
    return _verdict(Report.objects.filter(check_code=code.upper()), by_file=False)


def as_typed(words: str) -> tuple[str, str]:
    """What was typed from a paper: ("hash", ...), ("code", ...) or ("", ...) for neither.

    Spaces and hyphens are how a long figure is read; they count for nothing.
    """
    plain = re.sub(r"[\s-]", "", words)
    if HASH.match(plain.lower()):
        return "hash", plain.lower()
    if CODE.match(plain.upper()):
        return "code", plain.upper()
    return "", plain


def _verdict(reports, *, by_file: bool) -> Verdict | None:
    report = reports.select_related("superseded_by").first()
    if report is None:
        return None
    return Verdict(
        number=report.number,
        issued_on=timezone.localdate(report.issued_at),
        superseded=hasattr(report, "superseded_by"),
        by_file=by_file,
    )
