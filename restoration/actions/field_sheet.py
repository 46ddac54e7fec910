"""A field sheet typed in: all its rows are kept, or none of them."""

from collections.abc import Sequence

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration.actions.findings import record_finding
from restoration.models import Finding


class RowsRefused(Exception):
    """What was wrong with which rows, by the member's id; nothing was kept."""

    def __init__(self, refused: dict[int, list[str]]):
        super().__init__(f"{len(refused)} rows of the field sheet were refused.")
        self.refused = refused


def record_field_sheet(*, findings: Sequence[Finding]) -> list[Finding]:
    """Keep a finding for each row in one transaction. Sent twice, each is still kept once."""
    kept, refused = [], {}
    with transaction.atomic():
        for finding in findings:
            try:
                kept.append(record_finding(finding=finding))
            except ValidationError as error:
                refused[finding.member_id] = error.messages
        if refused:
            raise RowsRefused(refused)
    return kept
