"""Where the timber of a member lay in its log, drawn in the report from the plan that is kept."""

import re
from datetime import date

import pytest

from restoration.models import ReplacementSpec
from restoration.reports.content import Standing
from restoration.reports.frozen import from_json, to_json
from restoration.reports.gather import report_content
from restoration.reports.reading import reading
from tests.restoration.test_report_pdf import drawn, words
from timber_stock.actions import keep_plan, tick_cut
from timber_stock.models import CuttingItem, CuttingList, Log, request_for
from timber_stock.sawing.plan import make_plan
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.request import Saw
from timber_stock.sawing.search import Allowance

SHADED = 'fill="#dfe6dc"'
DRAFT = Standing(number=None, on=date(2026, 4, 9), by="P. Prober")


@pytest.fixture
def plan(woods):
    listed = CuttingList.objects.create(name="The Wren's floors")
    CuttingItem.objects.create(
        cutting_list=listed, label="FLOOR", thickness_mm=70, width_mm=140, length_mm=1250,
        quantity=2, heart_clearance_mm=15,
    )  # fmt: skip
    log = Log.objects.create(
        tag="L9", species=woods["oak_white"], length_mm=1450, butt_diameter_mm=430,
        top_diameter_mm=405, sapwood_mm=25, butt_trim_mm=60,
    )  # fmt: skip
    asked = request_for(log, list(listed.items.all()), Saw(3, 9))
    return keep_plan(
        log=log, cutting_list=listed, request=asked, made_by="W. Right", why="Floors from butt.",
        plan=make_plan(parse_request(asked), Allowance(steps=60)),
    )  # fmt: skip


@pytest.fixture
def sawn(plan):
    """Both floors off the log, as the plan's cuts set them free."""
    return [
        board
        for cut in plan.cuts()
        for board in tick_cut(plan=plan, step=cut["step"], made_by="J. Sawyer")
    ]


@pytest.fixture
def content(survey, make_spec, sawn, promise):
    for mark, board in zip(("F12", "F13"), sawn, strict=True):
        promise(make_spec(survey, mark), board.tag, 10, 1210)
    return report_content(survey_id=survey.pk, standing=DRAFT, units="metric")


def test_each_floor_is_shown_where_it_lay_in_the_log_and_only_it_is_shaded(content, sawn):
    assert [choice.marks for choice in content.sawn] == [("F12",), ("F13",)]
    for choice, board in zip(content.sawn, sawn, strict=True):
        assert choice.asked == f"{board.tag} as it lay in log L9, plan 1. Floors from butt."
        (figure,) = choice.drawn
        assert f"{board.tag} is shaded" in figure.caption
        assert figure.svg.count(SHADED) == 1
    assert content.sawn[0].drawn[0].svg != content.sawn[1].drawn[0].svg


def test_the_figure_is_frozen_and_stands_on_paper_and_on_the_page(content, sawn):
    assert from_json(to_json(content)) == content
    assert f"{sawn[0].tag} as it lay in log L9" in words(drawn(content))
    shown = reading(content, lambda number: f"/{number}/")["sawn"]
    assert [one.choice.marks for one in shown] == [("F12",), ("F13",)]


def test_the_figures_of_one_page_share_no_name_of_a_place(content):
    names = [re.findall(r'\bid="([^"]+)"', c.drawn[0].svg) for c in content.sawn]
    every = [name for one in names for name in one]
    assert len(every) == len(set(every))


def test_timber_that_no_plan_tells_of_has_no_such_figure(survey, make_spec, deep_log, promise):
    promise(make_spec(survey, "F12"), "L7-2b1", 100, 1300)
    assert ReplacementSpec.objects.count() == 1
    assert report_content(survey_id=survey.pk, standing=DRAFT, units="metric").sawn == ()
