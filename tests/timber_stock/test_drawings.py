"""The drawings: whatever the data, well-formed, in the right place, and said in words."""

import xml.etree.ElementTree as ET
from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from timber_stock.drawings.log_end import LogEnd, log_end_svg
from timber_stock.drawings.moisture_plot import Reading, moisture_plot_svg
from timber_stock.models import Log

SVG = "{http://www.w3.org/2000/svg}"


def end(diameter=530.0, right=0.0, up=0.0, sapwood=25.0, **words):
    words = {"name": "Butt", "diameter_text": "20 7/8 in", "description": "as measured", **words}
    return LogEnd(
        diameter_mm=diameter, heart_right_mm=right, heart_up_mm=up, sapwood_mm=sapwood, **words
    )


def circles(svg):
    return [
        tuple(float(circle.get(name)) for name in ("cx", "cy", "r"))
        for circle in ET.fromstring(svg).iter(f"{SVG}circle")
    ]


def bark(svg):
    return max(circles(svg), key=lambda circle: circle[2])


def test_both_ends_are_at_one_scale():
    butt, top = log_end_svg(end(530.0), widest_mm=530), log_end_svg(end(410.0), widest_mm=530)
    assert bark(top)[2] / bark(butt)[2] == pytest.approx(410 / 530, abs=1e-3)


def test_the_heart_is_drawn_where_the_clock_points():
    svg = log_end_svg(end(400.0, right=100.0, up=-50.0), widest_mm=400)
    middle_x, middle_y, radius = bark(svg)
    heart_x, heart_y, _ = circles(svg)[-1]
    assert heart_x - middle_x == pytest.approx(radius / 2, abs=0.01)
    assert heart_y - middle_y == pytest.approx(radius / 4, abs=0.01)  # down the page


def test_no_sapwood_is_drawn_where_none_was_measured():
    assert "#e3d6b4" in log_end_svg(end(sapwood=25.0), widest_mm=530)
    assert "#e3d6b4" not in log_end_svg(end(sapwood=None), widest_mm=530)


@given(st.floats(80, 1500), st.floats(-0.69, 0.69), st.floats(-0.69, 0.69))
def test_rings_grow_from_the_heart_and_never_cross(diameter, right, up):
    radius = diameter / 2
    svg = log_end_svg(end(diameter, right * radius, up * radius, None), widest_mm=1500)
    *rings, (bark_x, bark_y, bark_radius), _heart = circles(svg)
    outward = sorted([*rings, (bark_x, bark_y, bark_radius)], key=lambda circle: circle[2])
    for (x, y, r), (outer_x, outer_y, outer_r) in pairwise(outward):
        assert ((x - outer_x) ** 2 + (y - outer_y) ** 2) ** 0.5 + r <= outer_r + 0.03


@given(st.text(min_size=1, max_size=30))
def test_what_is_typed_can_never_break_a_drawing(text):
    legal = "".join(c for c in text if c.isprintable())
    svg = log_end_svg(end(name=legal, diameter_text=f"<b>{legal}", description='"&'), widest_mm=9)
    assert ET.fromstring(svg).find(f"{SVG}title").text == f'{legal}: "&'


def test_facing_the_top_is_the_other_way_about_from_the_butt():
    log = Log(
        butt_heart_offset_mm=30, butt_heart_clock=3, top_heart_offset_mm=20, top_heart_clock=3
    )
    assert log.butt_heart_mm() == pytest.approx((30, 0))
    assert log.top_heart_mm() == pytest.approx((-20, 0))
    up = Log(butt_heart_offset_mm=30, butt_heart_clock=12, top_heart_offset_mm=0)
    assert up.butt_heart_mm() == pytest.approx((0, 30))
    assert up.top_heart_mm() == pytest.approx((0, 0))


READINGS = st.lists(
    st.builds(
        Reading,
        st.dates(date(2020, 1, 1), date(2030, 1, 1)),
        st.floats(0, 300, allow_nan=False),
    ),
    min_size=1,
    max_size=12,
)


@given(READINGS)
def test_every_reading_is_a_point_inside_the_axes_whatever_its_order(readings):
    points = circles(moisture_plot_svg(readings))
    assert len(points) == len(readings)
    for x, y, _ in points:
        assert 44 <= x <= 348
        assert 13.9 <= y <= 172.1
    in_time = [x for x, _, _ in points]
    assert in_time == sorted(in_time)


def test_wetter_is_higher_and_the_axes_are_named():
    svg = moisture_plot_svg([Reading(date(2026, 3, 5), 61), Reading(date(2026, 8, 30), 22.5)])
    (_, wet, _), (_, dry, _) = circles(svg)
    assert wet < dry
    words = [text.text for text in ET.fromstring(svg).iter(f"{SVG}text")]
    for said in ("moisture, % of dry weight", "date of the reading", "5 March 2026", "80"):
        assert said in words
    assert ET.fromstring(svg).find(f"{SVG}title").text == (
        "Moisture from 61 % on 5 March 2026 to 22.5 % on 30 August 2026"
    )


def test_a_single_reading_is_one_point_in_the_middle():
    svg = moisture_plot_svg([Reading(date(2026, 3, 5), 61)])
    assert [x for x, _, _ in circles(svg)] == [196]
    assert ET.fromstring(svg).find(f"{SVG}title").text == "Moisture 61 % on 5 March 2026"


def test_no_readings_make_no_plot():
    assert moisture_plot_svg([]) == ""
