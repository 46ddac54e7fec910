import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.sawing.judge import sampled_mean
from timber_stock.sawing import lawful
from timber_stock.sawing.bark_rings import bark_ring_mean_deg
from timber_stock.sawing.log_solid import RolledLog
from timber_stock.sawing.request import Log, Settings, Wanted
from timber_stock.sawing.ring_angle import mean_deg

place = st.floats(-300, 300)
size = st.floats(20, 300)


@given(place, size, place, size)
@settings(max_examples=80, deadline=None)
def test_the_closed_mean_is_what_summing_points_gives(u, wide, v, thick):
    found = float(mean_deg(*(np.float64(n) for n in (u, u + wide, v, v + thick))))
    assert found == pytest.approx(sampled_mean((u, u + wide), (v, v + thick), 0, 0, 60), abs=0.25)


@pytest.mark.parametrize(
    ("x", "y", "mean"),
    # Worked cases in inches, pith at the origin, by summing an 800 x 800 grid.
    [
        ((-4, 4), (1, 9), 24.7),
        ((2, 10), (0.25, 1.25), 81.5),
        ((-4, 4), (8, 9), 13.0),
        ((4, 12), (6, 7), 49.5),
        ((1, 11), (1, 11), 45.0),
        ((3, 13), (-1.5, 1.5), 83.8),
    ],
)
def test_worked_sections_have_their_mean_angle(x, y, mean):
    assert float(mean_deg(*(np.float64(n) for n in (*x, *y)))) == pytest.approx(mean, abs=0.06)


def drifting(butt, top):
    return Log(3000.0, (700.0, 700.0), (600.0, 600.0), butt, top)


spot = st.tuples(st.floats(-60, 60), st.floats(-60, 60))


@given(spot, spot, place, place, st.floats(0, 180), st.booleans())
@settings(max_examples=80, deadline=None)
def test_extremes_and_clearance_are_not_beaten_anywhere_along_the_timber(
    butt, top, x, y, roll, wide_x
):
    timber = Wanted("T", 60.0, 150.0, 2500.0, 1, 1.0, 0.0)
    rolled = RolledLog(drifting(butt, top), roll)
    at = lawful.places(x, y, 200.0, wide_x)
    least, greatest = (float(v) for v in lawful.ring_extremes_deg(rolled, timber, at))
    clear = float(lawful.heart_distance(rolled, timber, at))
    x0, x1, y0, y1 = (float(v) for v in at.spans(timber))
    seen, near = [], []
    for z in np.linspace(200, 2700, 51):
        px, py = (float(v) for v in rolled.pith(z))
        for xx in np.linspace(x0, x1, 25):
            for yy in np.linspace(y0, y1, 13):
                u, v = (xx - px, yy - py) if wide_x else (yy - py, xx - px)
                seen.append(math.degrees(math.atan2(abs(u), abs(v))))
                near.append(math.hypot(u, v))
    assert least - 1e-6 <= min(seen)
    assert max(seen) <= greatest + 1e-6
    assert clear - 1e-6 <= min(near) <= clear + 12


def test_rings_shaped_like_a_round_log_are_circles():
    log = Log(2000.0, (500.0, 500.0), (500.0, 500.0), (30.0, -20.0), (10.0, 15.0))
    timber = Wanted("T", 50.0, 150.0, 1800.0, 1, 1.0)
    at = lawful.places(60.0, 25.0, 100.0, True)
    rolled = RolledLog(log, 25.0)
    circles = float(lawful.ring_mean_deg(rolled, timber, at))
    assert bark_ring_mean_deg(rolled, timber, at) == pytest.approx(circles, abs=0.02)


def test_rings_shaped_like_an_oval_log_turn_towards_its_long_side():
    log = Log(2000.0, (700.0, 500.0), (700.0, 500.0), (0.0, 0.0), (0.0, 0.0))
    timber = Wanted("T", 50.0, 150.0, 1800.0, 1, 1.0)
    at = lawful.places(100.0, 60.0, 100.0, True)
    rolled = RolledLog(log, 0.0)
    flatter = bark_ring_mean_deg(rolled, timber, at)
    assert flatter < float(lawful.ring_mean_deg(rolled, timber, at)) - 5


def test_every_rule_that_bears_gets_a_room_and_no_other():
    log = Log(2000.0, (500.0, 480.0), (450.0, 430.0), (0.0, 0.0), (5.0, 5.0), 20.0)
    timber = Wanted("T", 50.0, 150.0, 1800.0, 1, 1.0, 25.0)
    found = lawful.rooms(
        RolledLog(log, 0.0), timber, lawful.places(30.0, 30.0, 0.0, True), Settings()
    )
    assert set(found) == {"length", "outline", "sapwood", "heart"}
