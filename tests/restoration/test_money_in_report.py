"""What a client's report tells of money: frozen with it, and older reports read as before."""

import io
import json
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from django.template.loader import render_to_string
from django.utils import timezone
from pypdf import PdfReader

from restoration.actions.costs import enter_cost
from restoration.actions.reports import issue_report
from restoration.models import Yard
from restoration.reports.content import Standing
from restoration.reports.frozen import from_json, to_json
from restoration.reports.gather import report_content
from restoration.reports.money import add_up
from restoration.reports.pdf.chapter_money import _row, _sums
from restoration.reports.pdf.figures import Pictures
from restoration.reports.pdf.survey_report import draw_report
from timber_stock.models import Board

pytestmark = pytest.mark.django_db
D = Decimal
DAY = date(2026, 2, 11)


@pytest.fixture
def content(survey, make_spec, bought_board, promise, people):
    Yard.objects.update_or_create(pk=1, defaults={"hourly_rate": D("31.50")})
    Board.objects.filter(pk=bought_board.pk).update(price=D("200.00"))
    spec = make_spec(survey, "F12")
    spec.cost_estimate = D("500.00")
    spec.save()
    promise(spec, "Q3", 0, 1250)
    enter_cost(spec=spec, kind="fastenings", amount=D("41.30"), on=DAY, by=people["yard"])
    standing = Standing(number=None, on=DAY, by="P. Prober")
    return report_content(survey_id=survey.pk, standing=standing, units="metric")


def kept(content):
    return json.loads(json.dumps(to_json(content)))


def words(content):
    drawn = draw_report(content, Pictures(io.BytesIO))
    text = "\n".join(sheet.extract_text() for sheet in PdfReader(io.BytesIO(drawn)).pages)
    return " ".join(text.split())


def test_money_is_frozen_to_the_cent_and_read_back_the_same(content):
    assert content.money.replacements[0].spent == D("141.30")
    assert from_json(kept(content)) == content


def test_the_chapter_of_costs_tells_what_was_spent_and_that_no_range_is_known(content):
    said = words(content)
    assert "What it took so far" in said
    assert "141.30" in said
    assert "no range is given" in said


def test_where_no_rate_is_kept_and_nothing_estimated_the_last_line_has_a_dash(
    content,
):
    row = replace(content.money.replacements[0], labour=None, hours=D("2.5"), estimate=None)
    money = replace(content.money, rate=None, replacements=(row,))
    words_of_sum = _sums("All", add_up(money.begun), money.rate is not None).cells
    assert words_of_sum[5] == "–"
    assert words_of_sum[8] == "–"
    assert "0.00" not in (words_of_sum[5], words_of_sum[8])


def test_a_replacement_without_timber_has_a_dash_for_it_and_not_nothing(content):
    row = replace(content.money.replacements[0], has_timber=False, timber=D("0.00"))
    assert _row(row).cells[1:4] == ["–", "–", "–"]
    page = render_to_string(
        "restoration/_report_money.html", {"known": replace(content.money, replacements=(row,))}
    )
    assert '<td class="num" data-label="Timber">–</td>' in page


def test_a_report_frozen_before_money_was_kept_still_reads_and_tells_its_estimate(content):
    old = kept(content)
    del old["money"]
    before = from_json(old)
    assert before.money is None
    said = words(before)
    assert "500.00" in said
    assert "What it took so far" not in said


def test_the_client_reads_the_same_of_an_issued_report_and_of_no_other_page(
    content, survey, client, people
):
    report = issue_report(survey=survey, by=people["surveyor"], at=timezone.now(), units="metric")
    client.force_login(people["client"])
    said = client.get(f"/reports/{report.pk}/").content.decode()
    assert "What it took so far" in said
    assert "141.30" in said
    assert client.get(f"/vessels/{survey.vessel_id}/money/").status_code == 403
