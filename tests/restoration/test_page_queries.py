"""The table of queries in DEVELOPERS.md says what is true, and no page asks more for more rows."""

import re
from datetime import timedelta
from pathlib import Path

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from restoration.models import (
    FasteningPlan,
    Finding,
    LaidPiece,
    Layout,
    Member,
    Pattern,
    PatternPhotograph,
    Photograph,
    Report,
    RetightenTask,
    Survey,
    Vessel,
)
from timber_stock.models import Board, Log

pytestmark = pytest.mark.django_db
DEVELOPERS = Path(__file__).resolve().parents[2] / "DEVELOPERS.md"


def addresses() -> dict[str, str]:
    """One of each page that shows rows, by the name it has in the table."""
    hare = Vessel.objects.get(code="WHR")
    survey = hare.surveys.first()
    floor = Member.objects.get(vessel=hare, mark="F12")
    finding = Finding.objects.filter(member=floor, photographs__isnull=False).first()
    spec = finding.specs.first()
    traced = PatternPhotograph.objects.first()
    pattern = Pattern.objects.filter(taken="photograph").first()
    log, board = Log.objects.get(tag="L07"), Board.objects.get(tag="L07-A1")
    layout = FasteningPlan.objects.get(name="scarf to the stem").get_absolute_url()
    return {
        "Home": "/",
        "Vessels": "/vessels/",
        "Vessel": hare.get_absolute_url(),
        "Hull sheet": f"/vessels/{hare.pk}/hull/",
        "Between surveys": f"/vessels/{hare.pk}/between-surveys/",
        "Member": floor.get_absolute_url(),
        "Layout of fastenings": layout,
        "What fastenings hold": f"{layout}strength/",
        "Metals of fastenings": f"{layout}metals/",
        "Surveys": "/surveys/",
        "Survey, the round": survey.get_absolute_url(),
        "Round on the phone": f"{survey.get_absolute_url()}offline/",
        "Finding, the form": f"/surveys/{survey.pk}/members/{floor.pk}/",
        "Finding": finding.get_absolute_url(),
        "Replacements": "/replacements/",
        "Specification": spec.get_absolute_url(),
        "What to saw": f"{spec.get_absolute_url()}saw/",
        "Nuts to see to": "/retightenings/",
        "Order of work": f"/orders-of-work/{hare.work_orders.get().pk}/",
        "Turn": f"/orders-of-work/{hare.work_orders.get().pk}/turns/2/",
        "Who is to be out": f"/vessels/{hare.pk}/order-of-work/propose/",
        "Allot": f"{spec.get_absolute_url()}allot/",
        "Yard board": "/yard-board/",
        "Work on a replacement": f"/replacements/{spec.pk}/stages/",
        "Money of a vessel": f"/vessels/{hare.pk}/money/",
        "Money of a replacement": f"/specs/{spec.pk}/money/",
        "Where a log's cost lies": f"/logs/{log.pk}/money/",
        "Boards for the whole yard": "/matching/",
        "What a board could become": f"/boards/{board.pk}/could-become/",
        "Laid out on boards": "/layouts/?tag=L07",
        "Layout of pieces": Layout.objects.get().get_absolute_url(),
        "Lay pieces out": f"/boards/{board.pk}/lay-out/",
        "Lengths of a layout": f"{Layout.objects.get().get_absolute_url()}promise/",
        "Marks on a photograph": traced.get_absolute_url(),
        "Trace of a pattern": f"{traced.get_absolute_url()}trace/",
        "What a pattern needs": f"{pattern.get_absolute_url()}needs/",
        "Patterns": f"/vessels/{hare.pk}/patterns/",
        "Pattern": floor.patterns.standing().get(taken="offsets").get_absolute_url(),
        "Thread of a log": "/t/L07/",
        "Thread of a member": "/t/WHR-F12/",
        "Trace": "/t/",
        "Reports": "/reports/",
        "Report, the draft": f"/surveys/{survey.pk}/report/",
        "Report, the draft to read": f"/surveys/{survey.pk}/report/?read=1",
        "Report, the draft as PDF": f"/surveys/{survey.pk}/report/pdf/",
        "Papers": "/papers/",
        "Short report": f"/surveys/{survey.pk}/short-report/",
        "Certificate of origin": f"/members/{floor.pk}/certificate/",
        "Estimate": f"/vessels/{hare.pk}/estimate/",
        "Change report as PDF": f"/vessels/{hare.pk}/between-surveys/pdf/",
        "Boards as PDF": "/papers/boards/",
        "Labels of a log": f"/papers/labels/?log={log.pk}",
        "Labels of a vessel": f"/papers/labels/?vessel={hare.pk}",
        "Timber": "/timber/",
        "Logs": "/timber/logs/",
        "Log": log.get_absolute_url(),
        "Boards": "/timber/boards/",
        "Board": board.get_absolute_url(),
        "Section bench": f"/timber/bench/?log={log.pk}",
        "Side by side": "/timber/bench/compare/",
    }


def count(client, address: str) -> int:
    with CaptureQueriesContext(
        connection,
    ) as asked:
        answer = client.get(address)
    assert answer.status_code == 200, (address, answer.status_code)
    return len(asked)


def more_of_everything() -> None:
    """Twenty more members with findings, readings and photographs; twenty more boards."""
    hare = Vessel.objects.get(code="WHR")
    survey = hare.surveys.first()
    picture = Photograph.objects.first()
    for n in range(20):
        member = Member.objects.create(
            vessel=hare, kind="floor_timber", mark=f"F9{n}", station_from=n
        )
        finding = Finding.objects.create(
            survey=survey, member=member, recorded_by=survey.recorded_by,
            condition="2", urgency=1, measure=2,
        )  # fmt: skip
        finding.causes.create(rank=1, cause="BROWN_ROT", certainty="probable")
        finding.readings.create(kind="ph", value=4)
        picture.pk, picture._state.adding, picture.finding = None, True, finding
        picture.save()
    board = Board.objects.get(tag="L07-A2a1")
    board.thickness_mm = 0.1  # so that no more comes off the saw than went in
    for n in range(20):
        board.pk, board._state.adding, board.tag, board.held_for = None, True, f"L07-Z{n}", ""
        board.save()
    piece = LaidPiece.objects.first()
    for n in range(20):
        piece.pk, piece._state.adding, piece.key = None, True, f"Z{n}"
        piece.x_mm = piece.y_mm = piece.angle_deg = None
        piece.save()
    task = RetightenTask.objects.open().first()
    for n in range(20):
        task.pk, task._state.adding = None, True
        task.due_on += timedelta(days=n + 1)
        task.save()


def told() -> dict[str, int]:
    rows = re.findall(r"^\| ([^|]+?) \| (\d+) \|$", DEVELOPERS.read_text("utf-8"), re.MULTILINE)
    return {page: int(queries) for page, queries in rows}


def test_the_table_of_queries_is_true_and_none_grows_with_the_rows(client, demo_yard, monkeypatch):
    from restoration.actions import paper_jobs
    from restoration.models import User

    # However many photographs, the draft is drawn within the request: its queries are counted.
    monkeypatch.setattr(paper_jobs, "MOST_PHOTOGRAPHS", 1000)
    client.force_login(User.objects.get(username="yard"))
    pages, issued = addresses(), Report.objects.count()
    few = {page: count(client, address) for page, address in pages.items()}
    more_of_everything()
    many = {page: count(client, address) for page, address in pages.items()}
    assert many == few
    assert told() == few, "\n" + "\n".join(f"| {page} | {n} |" for page, n in few.items())
    assert Survey.objects.count() == 3
    assert Report.objects.count() == issued
