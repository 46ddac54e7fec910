import json
from dataclasses import replace
from pathlib import Path

import pytest

from tests.sawing.judge import judge
from timber_stock.sawing.by_products import with_by_products
from timber_stock.sawing.layout import worth_mm3
from timber_stock.sawing.plan import describe, tidy
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.request import Wanted
from timber_stock.sawing.search import Allowance, search

CASE = Path(__file__).parents[2] / "fixtures" / "sawing" / "case-H.json"
BATTENS = Wanted("battens", 25.4, 76.2, 1200.0, 40, 0.3, 10.0, sapwood_allowed=True)


def planned():
    asked = json.loads(CASE.read_text())
    request = parse_request(asked)
    return asked, request, tidy(request, search(request, Allowance(steps=80)).layout)


def test_stock_sizes_are_fitted_round_timbers_that_stay_where_they_are():
    asked, request, layout = planned()
    fuller, filled = with_by_products(request, layout, [BATTENS], Allowance(steps=80))
    for before, after in zip(layout, filled, strict=True):
        assert before.roll_deg == after.roll_deg
        assert set(before.timbers) <= set(after.timbers)
    assert worth_mm3(fuller, filled) > worth_mm3(request, layout)
    asked["wanted"].append(
        {
            "id": "battens", "thickness_mm": 25.4, "width_mm": 76.2, "length_mm": 1200.0,
            "quantity": 40, "worth": 0.3, "heart_clearance_mm": 10.0, "rings": None,
            "sapwood_allowed": True, "knot_free": [],
        }
    )  # fmt: skip
    judge(asked, describe(fuller, filled))


def test_a_stock_size_may_not_take_the_name_of_a_wanted_timber():
    _, request, layout = planned()
    with pytest.raises(ValueError, match="same id"):
        with_by_products(request, layout, [replace(BATTENS, id="T2 6x6")], Allowance(steps=20))
