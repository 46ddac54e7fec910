"""What a client's report tells of money: frozen with it, and older reports read as before."""

import io
import json
import re
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.html import strip_tags
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


def foot(money):
    page = render_to_string("restoration/_report_money.html", {"known": money})
    line = page.partition("<tfoot>")[2].partition("</tfoot>")[0]
    return [strip_tags(cell) for cell in re.findall(r"<t[hd].*?</t[hd]>", line)]


def test_the_last_line_read_on_screen_adds_up_what_the_one_on_paper_does(content):
    one = content.money.replacements[0]
    other = replace(one, fastenings=D("7.05"), hours=D("2.5"), labour=D("78.75"))
    unspent = replace(one, timber=D(0), waste=D(0), sawing=D(0), hours=D(0), labour=D(0),
                      fastenings=D(0), estimate=D("9999.00"))  # fmt: skip
    money = replace(content.money, replacements=(one, other, unspent))
    said = foot(money)
    assert said[0] == "All of these"
    assert said[4:] == ["2.5", "78.75", "48.35", "327.10", "1,000.00"]
    assert said[1:] == _sums("", add_up([one, other]), True).cells[1:]


def test_the_last_line_on_screen_has_a_dash_for_labour_without_a_rate_and_for_no_estimate(content):
    row = replace(content.money.replacements[0], labour=None, hours=D("2.5"), estimate=None)
    said = foot(replace(content.money, rate=None, replacements=(row,)))
    assert (said[5], said[8]) == ("–", "–")


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
    assert "All of these" in said
    assert "css/money" in said  # the rule above the last line of a table of money
    assert client.get(f"/vessels/{survey.vessel_id}/money/").status_code == 403
