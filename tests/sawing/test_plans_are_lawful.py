import copy
import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.sawing.judge import Unlawful, judge
from tests.sawing.making_requests import requests
from timber_stock.sawing.judge_layout import judge_layout, only_lawful
from timber_stock.sawing.plan import describe, make_plan, tidy
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.search import Allowance, search

CASES = sorted((Path(__file__).parents[2] / "fixtures" / "sawing").glob("case-*.json"))
FEW = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))


def case(path):
    return json.loads(path.read_text())


@FEW
@given(requests(), st.integers(0, 1000))
def test_no_plan_is_ever_unlawful(asked, seed):
    plan = make_plan(parse_request(asked), Allowance(steps=30), seed)
    assert judge(asked, plan) == pytest.approx(plan["worth_mm3"], rel=1e-9)
    assert plan["worth_mm3"] <= plan["bound_worth_mm3"] * (1 + 1e-9)


@FEW
@given(requests(), st.sampled_from([0.5, 3.0]), st.sampled_from([1.0, 4.0]))
def test_margins_are_kept_on_top_of_every_limit(asked, margin_mm, margin_deg):
    asked["settings"] = {"margin_mm": margin_mm, "margin_deg": margin_deg}
    plan = make_plan(parse_request(asked), Allowance(steps=20))
    for line in asked["wanted"]:
        if line["heart_clearance_mm"] is not None:
            line["heart_clearance_mm"] += margin_mm
        for key in line["rings"] or {}:
            line["rings"] = {**line["rings"]}
            line["rings"][key] += margin_deg if key.endswith("min_deg") else -margin_deg
    for side in ("butt_diameter_mm", "top_diameter_mm"):
        asked["log"][side] = [d - 2 * margin_mm for d in asked["log"][side]]
    judge(asked, plan)


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_the_example_requests_give_lawful_plans_of_fair_worth(path):
    asked = case(path)
    plan = make_plan(parse_request(asked), Allowance(steps=400))
    worth = judge(asked, plan)
    assert worth <= plan["bound_worth_mm3"] * (1 + 1e-9)
    assert 0.85 * asked["best_known"]["worth_mm3"] <= worth


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_the_planner_and_the_judge_agree_on_what_is_lawful(path):
    asked = case(path)
    request = parse_request(asked)
    layout = tidy(request, search(request, Allowance(steps=60)).layout)
    judged = judge_layout(request, layout)
    assert judged.lawful, judged
    judge(asked, describe(request, layout))


def test_the_same_request_steps_and_seed_give_the_same_plan():
    request = parse_request(case(CASES[1]))
    one, two = (make_plan(request, Allowance(steps=120), 7) for _ in range(2))
    assert one == two


def test_another_seed_may_give_another_plan_and_more_steps_a_better_one():
    request = parse_request(case(CASES[4]))
    short = [search(request, Allowance(steps=40), seed).value_mm3 for seed in range(3)]
    long = [search(request, Allowance(steps=800), seed).value_mm3 for seed in range(3)]
    assert len(set(short)) > 1
    assert sum(long) > sum(short)


@pytest.mark.parametrize(
    ("field", "by"),
    [("x_mm", 400), ("y_mm", -400), ("from_mm", 5000), ("size_x_mm", -1), ("length_mm", 3)],
)
def test_the_judge_condemns_a_plan_with_one_timber_out_of_place(field, by):
    asked = case(CASES[3])
    plan = make_plan(parse_request(asked), Allowance(steps=100))
    judge(asked, plan)
    for bolt in range(len(plan["bolts"])):
        for timber in range(len(plan["bolts"][bolt]["timbers"])):
            spoilt = copy.deepcopy(plan)
            spoilt["bolts"][bolt]["timbers"][timber][field] += by
            with pytest.raises(Unlawful):
                judge(asked, spoilt)


def test_the_judge_condemns_one_timber_too_many():
    asked = case(CASES[3])
    plan = make_plan(parse_request(asked), Allowance(steps=100))
    asked["wanted"] = [w | {"quantity": 0} for w in asked["wanted"]]
    with pytest.raises(Unlawful, match="more of"):
        judge(asked, plan)


@FEW
@given(requests())
def test_a_fixed_roll_is_kept(asked):
    plan = make_plan(parse_request(asked), Allowance(steps=20), roll_deg=33.0)
    judge(asked, plan)
    assert {bolt["roll_deg"] for bolt in plan["bolts"]} == {33.0}


def test_a_log_cut_in_two_at_a_fixed_roll_is_crosscut_first():
    request = parse_request(case(CASES[1]))
    plans = [make_plan(request, Allowance(steps=40), seed, roll_deg=10.0) for seed in range(6)]
    in_two = [plan for plan in plans if len(plan["bolts"]) > 1]
    assert in_two
    for plan in in_two:
        bucking = [cut for cut in plan["cuts"] if cut["piece"] == "log"]
        assert [cut["at_mm"] for cut in bucking] == [b["to_mm"] for b in plan["bolts"][:-1]]


@FEW
@given(requests(), st.integers(0, 1000), st.sampled_from([0.0, 4.0]))
def test_the_search_itself_places_nothing_that_must_be_taken_out_again(asked, seed, margin_mm):
    request = parse_request(asked).with_settings(margin_mm=margin_mm)
    layout = search(request, Allowance(steps=40), seed).layout
    assert only_lawful(request, layout) == layout


@FEW
@given(requests())
def test_knots_keep_their_margin_too(asked):
    asked["log"]["knots"] = [
        {"from_butt_mm": 900.0, "clock_deg": 20, "half_angle_deg": 9.0},
        {"from_butt_mm": 1800.0, "clock_deg": 200, "half_angle_deg": 12.0},
    ]
    for line in asked["wanted"]:
        line["knot_free"] = [[0, 1]]
    request = parse_request(asked).with_settings(margin_mm=5.0)
    plan = make_plan(request, Allowance(steps=20))
    judge(asked, plan)
    assert judge_layout(request, search(request, Allowance(steps=20)).layout).lawful
