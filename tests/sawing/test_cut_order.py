import json
import math
from collections import Counter
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings

from tests.sawing.making_requests import requests
from timber_stock.sawing.cut_order import cut_list, lowest_mm, turns
from timber_stock.sawing.layout import Bolt, Placed
from timber_stock.sawing.plan import tidy
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.search import Allowance, search

CASES = sorted((Path(__file__).parents[2] / "fixtures" / "sawing").glob("case-*.json"))
AXES = {"x": 0, "y": 1, "z": 2}


def planned(asked, steps=40):
    request = parse_request(asked)
    return request, tidy(request, search(request, Allowance(steps=steps)).layout)


def saw_by_the_sheet(request, layout, cuts):
    """Saw the log as the sheet says and count what comes free: no rule of the planner is used."""
    kerfs = (request.saw.kerf_mm, request.saw.kerf_mm, request.saw.crosscut_kerf_mm)
    freed = []
    for number, bolt in enumerate(layout):
        left = []
        for t in bolt.timbers:
            wanted = request.wanted[t.line]
            sizes = t.sizes(wanted)
            lows = (t.x_mm, t.y_mm, t.from_mm)
            left.append((wanted.id, [(a, a + s) for a, s in zip(lows, sizes, strict=True)]))
        pieces = [([(-math.inf, math.inf)] * 2 + [(bolt.from_mm, bolt.to_mm)], left)]
        for cut in cuts:
            if cut["bolt"] != number or cut["piece"] == "log":
                continue
            axis, at = AXES[cut["face"]], cut["at_mm"]
            done = []
            for spans, timbers in pieces:
                low, high = spans[axis]
                whole = [t for t in timbers if t[1][axis][1] <= at + 0.01]
                above = [t for t in timbers if t[1][axis][0] >= at + kerfs[axis] - 0.01]
                if len(whole) + len(above) < len(timbers) or not low - kerfs[axis] < at < high:
                    done.append((spans, timbers))  # this cut is another piece's
                    continue
                if at > low:  # else it only trims a sliver thinner than the kerf
                    done.append(([*spans[:axis], (low, at), *spans[axis + 1 :]], whole))
                done.append(([*spans[:axis], (at + kerfs[axis], high), *spans[axis + 1 :]], above))
            pieces = done
        for spans, timbers in pieces:
            for name, box in timbers:
                assert len(timbers) == 1
                for axis in (0, 1, 2):
                    assert spans[axis] == pytest.approx(box[axis], abs=0.02)
                freed.append(name)
    return Counter(freed)


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.stem)
def test_sawing_by_the_sheet_frees_every_timber(path):
    request, layout = planned(json.loads(path.read_text()), 100)
    cuts = cut_list(request, layout)
    placed = Counter(request.wanted[t.line].id for b in layout for t in b.timbers)
    assert saw_by_the_sheet(request, layout, cuts) == placed
    assert Counter(name for cut in cuts for name in cut["releases"]) == placed


@settings(max_examples=30, deadline=None, suppress_health_check=list(HealthCheck))
@given(requests())
def test_every_timber_is_released_once_and_every_cut_is_above_the_bed(asked):
    request, layout = planned(asked, 20)
    cuts = cut_list(request, layout)
    placed = Counter(request.wanted[t.line].id for b in layout for t in b.timbers)
    assert Counter(name for cut in cuts for name in cut["releases"]) == placed
    assert [cut["step"] for cut in cuts] == list(range(1, len(cuts) + 1))
    assert all(cut["from_bed_mm"] >= 0 for cut in cuts if cut["face"] != "z")
    assert all(cut["turn_deg"] in (90, 180) for cut in cuts if cut["over"])


def test_turns_are_what_the_cuts_themselves_show():
    for path in CASES:
        request, layout = planned(json.loads(path.read_text()), 60)
        for bolt in layout:
            one = cut_list(request, (Bolt(bolt.from_mm, bolt.to_mm, bolt.roll_deg, bolt.timbers),))
            faces = [cut["face"] for cut in one if cut["face"] != "z"]
            changes = sum(a != b for a, b in pairwise(faces))
            assert changes == turns(request, bolt)


def test_a_limit_of_turns_is_kept():
    request = parse_request(json.loads(CASES[0].read_text())).with_settings(most_turns=2)
    layout = search(request, Allowance(steps=200)).layout
    assert sum(len(bolt.timbers) for bolt in layout) > 0
    assert max(turns(request, bolt) for bolt in layout) <= 2


def test_a_dear_turn_is_saved():
    request = parse_request(json.loads(CASES[0].read_text()))
    dear = request.with_settings(turn_cost_mm3=3e7)
    free, saving = (search(r, Allowance(steps=300)).layout for r in (request, dear))
    assert sum(turns(request, b) for b in saving) < sum(turns(request, b) for b in free)


def test_the_bed_is_the_lowest_bark_of_a_rolled_oval():
    asked = json.loads(CASES[0].read_text())
    asked["log"] |= {"butt_diameter_mm": [400, 200], "top_diameter_mm": [300, 200]}
    asked["log"] |= {"butt_pith_mm": [0, 0], "top_pith_mm": [0, 0]}
    log = parse_request(asked).log
    bark = ((-math.inf, math.inf),) * 2 + ((0.0, 1000.0),)
    for roll, x, y in [(0, -200, -100), (90, -100, -200), (45, -158.114, -158.114)]:
        bolt = Bolt(0.0, log.length_mm, float(roll))
        assert lowest_mm(log, bolt, bark, 0) == pytest.approx(x, abs=0.01)
        assert lowest_mm(log, bolt, bark, 1) == pytest.approx(y, abs=0.01)
    cant = ((-math.inf, math.inf), (50.0, 90.0), (0.0, 1000.0))
    flat = Bolt(0.0, log.length_mm, 0.0)
    assert lowest_mm(log, flat, cant, 0) == pytest.approx(-200 * math.sqrt(0.75), abs=0.01)


def test_heights_from_the_bed_of_one_timber_boxed_out_of_a_log():
    asked = json.loads(CASES[7].read_text())
    asked["log"] |= {"butt_diameter_mm": [600, 600], "top_diameter_mm": [600, 600]}
    request = parse_request(asked)
    line = request.wanted[1]  # 158.75 square
    bolt = Bolt(0.0, request.log.length_mm, 0.0, (Placed(1, 50.0, 20.0, 0.0, True),))
    cuts = cut_list(request, (bolt,))
    first = [round(cut["from_bed_mm"], 3) for cut in cuts if cut["face"] == "y"]
    assert first == [300 + 20 + 158.75, round(300 + 20 - request.saw.kerf_mm, 3)]
    assert cuts[-1]["face"] == "z"
    assert cuts[-1]["at_mm"] == line.length_mm
    assert cuts[-1]["releases"] == [line.id]


def test_a_piece_is_turned_over_for_a_cut_that_would_lie_under_the_bed():
    asked = json.loads(CASES[7].read_text())
    asked["log"] |= {"butt_diameter_mm": [600, 600], "top_diameter_mm": [600, 600]}
    request = parse_request(asked)
    kerf, size = request.saw.kerf_mm, 158.75
    faces = (-200.0, 200.0, 30.0, 250.0)  # a cant sawn on all four sides
    bolt = Bolt(0.0, 2000.0, 0.0, (Placed(1, 50.0, 31.5, 0.0, True),), faces, roll_settled=True)
    first, second, *_ = cut_list(request, (bolt,))
    assert (first["from_bed_mm"], first["over"], first["turn_deg"]) == (1.5 + size, False, 0)
    assert second["at_mm"] == pytest.approx(31.5 - kerf, abs=1e-3)
    assert (second["from_bed_mm"], second["over"], second["turn_deg"]) == (size, True, 180)
