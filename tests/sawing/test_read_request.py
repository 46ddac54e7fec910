import copy
import json
from pathlib import Path

import pytest

from timber_stock.sawing.plan import make_plan
from timber_stock.sawing.planning_files import plan_file
from timber_stock.sawing.read_request import parse_request, read_request
from timber_stock.sawing.search import Allowance

CASE = Path(__file__).parents[2] / "fixtures" / "sawing" / "case-H.json"


def asked():
    return json.loads(CASE.read_text())


def spoilt(path, value):
    found = asked()
    place = found
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = value
    return found


@pytest.mark.parametrize(
    ("path", "value", "says"),
    [
        (("log", "butt_pith_mm"), [400, 0], "outside the log"),
        (("log", "length_mm"), -5, "length_mm"),
        (("log", "length_mm"), "long", "must be a number"),
        (("log", "length_mm"), float("nan"), "not a number"),
        (("log", "butt_diameter_mm"), [600], "two numbers"),
        (("log", "top_diameter_mm"), None, "not a list"),
        (("log", "knots"), [{"from_butt_mm": 9e4, "clock_deg": 0, "half_angle_deg": 5}], "knot"),
        (
            ("log", "rot"),
            [{"x_mm": 0, "y_mm": 0, "radius_mm": 9, "from_mm": 9, "to_mm": 1}],
            "lesser",
        ),
        (("saw", "kerf_mm"), 0, "every saw takes some wood"),
        (("saw", "crosscut_kerf_mm"), True, "must be a number"),
        (("saw",), None, "saw"),
        (("wanted",), {}, "list"),
        (("wanted", 0, "quantity"), 2.5, "whole number"),
        (("wanted", 0, "quantity"), 10_000, "10003"),
        (("wanted", 0, "thickness_mm"), 1e4, "give the lesser"),
        (("wanted", 0, "worth"), -1, "worth"),
        (("wanted", 0, "rings"), {"mean_min_deg": 120}, "between 0 and 90"),
        (("wanted", 0, "sapwood_allowed"), "no", "true or false"),
        (("wanted", 0, "knot_free"), [[0.5, 0.2]], "lesser first"),
        (("wanted", 0, "id"), "", "no id"),
        (("wanted", 1, "id"), "T1 4x12", "same id"),
        (("settings",), {"margin_mm": -1}, "margin_mm"),
    ],
)
def test_a_fault_is_refused_with_one_sentence_that_names_it(path, value, says):
    with pytest.raises(ValueError, match=says) as refusal:
        parse_request(spoilt(path, value))
    sentence = str(refusal.value)
    assert sentence.endswith(".")
    assert "\n" not in sentence


@pytest.mark.parametrize("text", ["", "{", "[1, 2]", "null", '{"log": NaN}', "5", "[" * 100_000])
def test_what_is_not_a_request_is_refused_with_one_sentence(text):
    with pytest.raises(ValueError, match=r"\.$") as refusal:
        read_request(text)
    assert "\n" not in str(refusal.value)


def test_ten_thousand_lines_are_refused():
    found = asked()
    found["wanted"] = [found["wanted"][0] | {"id": f"T{n}"} for n in range(10_000)]
    with pytest.raises(ValueError, match="10000 lines"):
        parse_request(found)


def test_a_log_thicker_at_the_top_is_planned():
    found = asked()
    log = found["log"]
    log["butt_diameter_mm"], log["top_diameter_mm"] = (
        log["top_diameter_mm"],
        log["butt_diameter_mm"],
    )
    assert make_plan(parse_request(found), Allowance(steps=100))["worth_mm3"] > 0


def test_a_timber_longer_than_the_log_is_refused_and_the_rest_planned():
    found = asked()
    found["wanted"][0]["length_mm"] = 5000
    plan = make_plan(parse_request(found), Allowance(steps=100))
    refused = {r["id"]: r["why"] for r in plan["refused"]}
    assert "too long" in refused["T1 4x12"]
    assert plan["worth_mm3"] > 0


def test_an_empty_cutting_list_gives_an_empty_plan():
    plan = make_plan(parse_request(asked() | {"wanted": []}), Allowance(steps=20))
    assert plan["worth_mm3"] == plan["bound_worth_mm3"] == 0
    assert plan["refused"] == plan["cuts"] == []


def test_optional_limits_may_be_left_out():
    found = asked()
    full = parse_request(copy.deepcopy(found))
    for line in found["wanted"]:
        if line["rings"] is None:
            del line["rings"]
        if not line["knot_free"]:
            del line["knot_free"]
        if not line["sapwood_allowed"]:
            del line["sapwood_allowed"]
    assert parse_request(found) == full


def test_a_file_is_planned_and_written_as_json(tmp_path):
    place = tmp_path / "request.json"
    place.write_text(CASE.read_text())
    plan = json.loads(plan_file(str(place), steps=60))
    assert {"bolts", "cuts", "worth_mm3", "recovery", "bound_worth_mm3", "refused"} <= set(plan)
    again = json.loads(plan_file(str(place), steps=60))
    assert again == plan


def test_a_file_that_is_missing_or_not_text_is_refused(tmp_path):
    with pytest.raises(ValueError, match="cannot be read"):
        plan_file(str(tmp_path / "none.json"))
    place = tmp_path / "picture.json"
    place.write_bytes(b"\xff\xfe\x00\x81")
    with pytest.raises(ValueError, match="not a text file"):
        plan_file(str(place))
