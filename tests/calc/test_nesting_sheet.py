"""The usable face of a flitch, what is refused of it, and what a layout makes of it."""

from dataclasses import replace

import pytest
import shapely

from restoration.calc.nesting_pieces import rectangle
from restoration.calc.nesting_places import Place
from restoration.calc.nesting_sheet import (
    Defect,
    Sheet,
    Station,
    box,
    checked_sheet,
    heartwood,
    oval,
    runs_off_the_face,
    tapered,
    usable,
)
from restoration.calc.nesting_yield import yield_of

FLITCH = Sheet(
    3000, 80, tapered(3000, 400, 300), butt_check_mm=120, top_check_mm=60,
    sapwood_right_mm=25, sapwood_left_mm=15, defects=(Defect("knot", box(1000, 20, 60, 40), 10),),
)  # fmt: skip


def test_checks_sapwood_and_defects_with_their_clearance_come_off_the_face():
    whole = usable(FLITCH, sapwood=True)
    # At x the face is 400 - x / 30 wide; between 120 and 2940 it averages 349 mm.
    assert whole.area == pytest.approx(2820 * 349 - 80 * 60)
    assert usable(FLITCH, sapwood=False).area == pytest.approx(2820 * (349 - 40) - 80 * 60)


def test_where_the_two_sapwoods_meet_there_is_no_heartwood():
    narrowing = replace(FLITCH, stations=tapered(3000, 400, 10), defects=())
    last = 3000 * (400 - 40) / 390
    assert heartwood(narrowing).bounds[2] == pytest.approx(last)
    assert heartwood(narrowing).area == pytest.approx(last * 360 / 2)


def test_a_swept_edge_is_followed_from_station_to_station():
    swept = replace(
        FLITCH, defects=(), butt_check_mm=0, top_check_mm=0,
        stations=(Station(0, 200, 100), Station(1400, -20, 240), Station(3000, 150, 90)),
    )  # fmt: skip
    assert usable(checked_sheet(swept), sapwood=True).area == pytest.approx(
        1400 * (300 + 220) / 2 + 1600 * (220 + 240) / 2
    )
    assert not usable(swept, sapwood=True).contains(shapely.Point(1400, 10))


def test_a_knot_is_kept_clear_of_all_round():
    corners = shapely.Polygon(oval(500, 0, 80, 50))
    ring = shapely.affinity.scale(shapely.Point(500, 0).buffer(1, quad_segs=64), 40, 25)
    assert corners.covers(ring)
    assert corners.area < 1.06 * ring.area


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"length_mm": 0.0}, "length"),
        ({"length_mm": float("nan")}, "plain number"),
        ({"thickness_mm": -3.0}, "thickness"),
        ({"length_mm": 90_000.0}, "units"),
        ({"butt_check_mm": 2950.0}, "leave nothing of the length"),
        ({"top_check_mm": -1.0}, "never less"),
        ({"stations": tapered(3000, 400, 0)}, "At 3000 mm from the butt the face has no width"),
        ({"stations": tapered(2900, 400, 300)}, "both ends"),
        ({"stations": (Station(0, 1, 1),)}, "two to 60"),
        (
            {"stations": (Station(0, 9, 9), Station(0, 9, 9), Station(3000, 9, 9))},
            "from butt to top",
        ),
        ({"stations": tapered(3000, 400, 3400)}, "wide at most"),
        ({"defects": (Defect("knot", box(1000, 900, 60, 40)),)}, "Defect 1, the knot, lies wholly"),
        ({"defects": (Defect("knot", box(1000, 0, 60, 0)),)}, "encloses nothing"),
        ({"defects": (Defect("worm", box(1000, 0, 60, 9)),)}, "no kind of defect"),
        ({"defects": (Defect("rot", box(1000, 0, 60, 9), -1),)}, "kept clear of"),
        ({"defects": (Defect("rot", box(1500, 0, 3000, 500)),)}, "leave nothing of this face"),
    ],
)
def test_a_face_that_cannot_be_is_refused_with_a_sentence(change, says):
    with pytest.raises(ValueError, match=says):
        checked_sheet(replace(FLITCH, **change))


def test_a_defect_that_runs_off_the_edge_counts_as_far_as_it_lies_on_the_face():
    over = replace(FLITCH, defects=(Defect("rot", box(3000, 0, 200, 90)), *FLITCH.defects))
    assert runs_off_the_face(checked_sheet(over)) == (1,)


def test_the_yield_is_told_of_the_whole_face_and_of_what_is_used_up():
    plain = Sheet(2000, 80, tapered(2000, 250, 250))
    piece = rectangle("A", "A", long_mm=600, wide_mm=100, sided_mm=50)
    found = yield_of(plain, (piece,), (Place("A", 400, 10, 180.0),))
    assert found.used_length_mm == pytest.approx(700)
    assert found.of_the_face == pytest.approx(60_000 / 500_000)
    assert found.of_what_is_used == pytest.approx(60_000 / 175_000)
    assert yield_of(plain, (piece,), ()).of_what_is_used == 0


def test_what_is_promised_to_others_is_no_part_of_the_face_the_yield_is_told_of():
    promised = Defect("used", box(200, 0, 400, 250))
    sheet = Sheet(2000, 80, tapered(2000, 250, 250), defects=(promised,))
    piece = rectangle("A", "A", long_mm=600, wide_mm=100, sided_mm=50)
    found = yield_of(sheet, (piece,), (Place("A", 800, 10),))
    assert found.of_the_face == pytest.approx(60_000 / 400_000)
    assert found.of_what_is_used == pytest.approx(60_000 / (1100 - 400) / 250)
