from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from timber_stock.sawing.judge_layout import judge_layout
from timber_stock.sawing.log_wanted import (
    LogShape,
    chart,
    clear_of_heart_mm,
    log_wanted,
    never_below_mm,
)
from timber_stock.sawing.request import Log, Request, Rings, Saw, Wanted
from timber_stock.sawing.search import Allowance
from timber_stock.sawing.which_log import logs_in_order, set_of_logs

SAW = Saw(3.0, 6.0)
KEEL = Wanted("keel", 200.0, 260.0, 3000.0, 1, 1.0, 30.0)
FLOORS = Wanted("floors", 60.0, 180.0, 900.0, 7, 1.5, 20.0, Rings(mean_min_deg=50.0))


@pytest.mark.parametrize("offset", [0.0, 20.0, 60.0, 110.0])
def test_the_search_finds_the_closed_form_for_one_timber(offset):
    found = log_wanted([KEEL], SAW, LogShape(heart_offset_mm=offset))
    closed = clear_of_heart_mm(260, 200, 30, offset)
    assert closed <= found.diameter_mm <= closed + 6


def test_the_log_found_really_holds_the_list_and_no_more_sapwood_than_said():
    shape = LogShape(length_mm=3700.0, taper_mm_per_m=12.0, oval=0.93, sapwood_mm=25.0)
    found = log_wanted([KEEL, FLOORS], SAW, shape)
    request = Request(found.log, SAW, (KEEL, FLOORS))
    assert judge_layout(request, found.layout).lawful
    assert sum(len(bolt.timbers) for bolt in found.layout) == 8
    assert found.log.top_diameter_mm[0] == found.diameter_mm >= found.never_below_mm


def test_sapwood_is_asked_for_on_top():
    bare, sappy = (log_wanted([KEEL], SAW, LogShape(sapwood_mm=s)).diameter_mm for s in (0, 30))
    assert sappy == pytest.approx(bare + 60, abs=8)


def test_a_heart_off_the_middle_asks_for_less():
    found = chart([KEEL], SAW, LogShape(), [0.0, 40.0, 80.0])
    assert [offset for offset, _ in found] == [0.0, 40.0, 80.0]
    assert found[0][1] > found[1][1] > found[2][1]


sizes = st.tuples(st.integers(40, 200), st.integers(0, 150)).map(lambda p: (p[0], p[0] + p[1]))


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(sizes, st.integers(0, 60), st.integers(0, 80), st.sampled_from([None, 30.0, 45.0]))
def test_nothing_is_found_below_the_size_that_is_proved_needed(size, clear, offset, worst):
    thick, wide = size
    timber = Wanted("T", thick, wide, 2000.0, 2, 1.0, float(clear), Rings(worst_min_deg=worst))
    shape = LogShape(heart_offset_mm=float(offset), taper_mm_per_m=8.0)
    found = log_wanted([timber], SAW, shape, steps=60)
    assert found.diameter_mm >= never_below_mm([timber], shape) > 0


def test_nothing_wanted_and_a_log_too_short_are_refused():
    with pytest.raises(ValueError, match="Nothing is wanted"):
        log_wanted([replace(KEEL, quantity=0)], SAW, LogShape())
    with pytest.raises(ValueError, match="longer log"):
        log_wanted([KEEL], SAW, LogShape(length_mm=2000.0))
    with pytest.raises(ValueError, match="taper"):
        log_wanted([KEEL], SAW, LogShape(taper_mm_per_m=float("nan")))
    with pytest.raises(ValueError, match="depth"):
        clear_of_heart_mm(100, float("inf"), 0)


def plain_log(diameter, length=3200.0):
    ends = (diameter, diameter)
    return Log(length, ends, ends, (0.0, 0.0), (0.0, 0.0), 15.0)


LOGS = {"thin": plain_log(330.0), "stout": plain_log(640.0), "short": plain_log(500.0, 1000.0)}


def test_the_log_that_gives_most_comes_first():
    found = logs_in_order(LOGS, SAW, [KEEL, FLOORS], Allowance(steps=150))
    assert found[0].name == "stout"
    assert found == sorted(found, key=lambda one: -one.worth_mm3)
    assert found[0].placed[0] == 1


def test_a_set_of_logs_takes_each_log_once_and_no_more_than_is_wanted():
    many = [replace(KEEL, quantity=2), replace(FLOORS, quantity=120)]
    taken = set_of_logs(LOGS, SAW, many, Allowance(steps=120))
    assert len({one.name for one in taken}) == len(taken) >= 2
    for line, timber in enumerate(many):
        assert sum(one.placed[line] for one in taken) <= timber.quantity
    one_log = logs_in_order(LOGS, SAW, many, Allowance(steps=120))[0]
    assert sum(one.worth_mm3 for one in taken) > one_log.worth_mm3
