import json
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from tests.sawing.making_requests import requests
from timber_stock.sawing.bound import bound_mm3
from timber_stock.sawing.layout import Bolt, Placed
from timber_stock.sawing.reach import impossible
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.refusals import fits_alone, refusals

CASES = sorted((Path(__file__).parents[2] / "fixtures" / "sawing").glob("case-*.json"))


def request_of(letter):
    path = next(p for p in CASES if p.stem == f"case-{letter}")
    return parse_request(json.loads(path.read_text()))


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_the_bound_is_above_the_best_known_and_below_everything_wanted(path):
    asked = json.loads(path.read_text())
    request = parse_request(asked)
    bound = bound_mm3(request)
    assert asked["best_known"]["worth_mm3"] <= bound * (1 + 1e-6)
    assert bound <= sum(t.quantity * t.worth_mm3 for t in request.wanted) * (1 + 1e-12)


def test_a_log_full_of_one_square_timber_comes_near_its_bound():
    # One timber filling the inscribed square of a cylinder: 2/pi of the wood.
    asked = json.loads(CASES[3].read_text())
    asked["log"] = {
        "length_mm": 2000, "butt_diameter_mm": [500, 500], "top_diameter_mm": [500, 500],
        "butt_pith_mm": [0, 0], "top_pith_mm": [0, 0], "sapwood_mm": 0, "knots": [], "rot": [],
    }  # fmt: skip
    side = 250 * 2**0.5
    line = {"id": "S", "thickness_mm": side, "width_mm": side, "length_mm": 2000, "worth": 1.0}
    asked["wanted"] = [line | {"quantity": 9, "heart_clearance_mm": None}]
    bound = bound_mm3(parse_request(asked))
    assert side * side * 2000 < bound < 2000 * 3.1416 * 250**2 * 1.03


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(requests())
def test_what_is_proved_impossible_is_never_found(asked):
    request = parse_request(asked)
    for timber in request.wanted:
        if impossible(request.log, timber):
            assert not fits_alone(request, timber)


def test_a_timber_too_wide_for_its_ring_limits_is_proved_impossible():
    request = request_of("H")
    assert impossible(request.log, request.wanted[0])
    assert not impossible(request.log, request.wanted[1])


def test_a_refusal_names_the_easing_that_truly_serves():
    request = request_of("H")
    bolt = Bolt(0.0, request.log.length_mm, 0.0)
    why = {r.id: r.why for r in refusals(request, (bolt,))}["T1 4x12"]
    assert "No lawful place" in why
    narrower = float(why.split(" mm narrower")[0].split()[-1])
    timber = request.wanted[0]
    assert fits_alone(request, replace(timber, width_mm=timber.width_mm - narrower - 1))
    assert not fits_alone(request, replace(timber, width_mm=timber.width_mm - narrower / 2))


def test_a_timber_crowded_out_is_told_from_one_that_is_impossible():
    request = request_of("H")
    bolt = Bolt(0.0, request.log.length_mm, 0.0, (Placed(1, 60.0, 60.0, 0.0, True),))
    found = {r.id: r for r in refusals(request, (bolt,))}
    assert "T2 6x6" not in found
    assert "could be had from this log alone" in found["T3 3x6"].why
    assert found["T3 3x6"].count == 2
