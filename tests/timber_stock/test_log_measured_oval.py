"""A log with two diameters at each end, its defects, and the sawing request made from it."""

import math

import pytest
from django.core.exceptions import ValidationError

from timber_stock.models import CuttingItem, CuttingList, Log, LogDefect, request_for
from timber_stock.sawing.log_solid import log_volume_mm3
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.request import Saw

pytestmark = pytest.mark.django_db
SAW = Saw(kerf_mm=3.0, crosscut_kerf_mm=8.0)


@pytest.fixture
def oval(woods):
    return Log.objects.create(
        tag="L31",
        species=woods["oak_white"],
        length_mm=5200,
        butt_diameter_mm=710,
        butt_diameter_2_mm=640,
        top_diameter_mm=560,
        top_diameter_2_mm=520,
        butt_heart_offset_mm=40,
        butt_heart_clock=2,
        top_heart_offset_mm=30,
        top_heart_clock=10,
    )


@pytest.fixture
def wanted(db):
    listed = CuttingList.objects.create(name="Floors and a stem foot")
    return CuttingItem.objects.create(
        cutting_list=listed,
        label="F12",
        thickness_mm=102,
        width_mm=190,
        length_mm=1500,
        quantity=2,
        worth=3,
        heart_clearance_mm=25,
        mean_min_deg=60,
        knot_free=[[0.2, 0.8]],
    )


def test_an_oval_log_holds_what_its_ellipses_hold(oval):
    ends = [math.pi * 710 * 640 / 4, math.pi * 560 * 520 / 4]
    assert oval.solid_mm3 == pytest.approx(5200 * sum(ends) / 2)
    asked = parse_request(request_for(oval, [], SAW)).log
    assert oval.true_solid_mm3() == pytest.approx(log_volume_mm3(asked))
    assert oval.true_solid_mm3() < oval.solid_mm3


def test_a_log_measured_once_across_is_round(oval):
    oval.butt_diameter_2_mm = None
    assert oval.across("butt") == (710, 710)


def test_the_heart_may_be_off_by_more_than_half_the_lesser_diameter_along_the_greater(oval):
    oval.butt_heart_offset_mm, oval.butt_heart_clock = 330, 3
    oval.full_clean()
    oval.butt_heart_clock = 12
    with pytest.raises(ValidationError, match="diameter that way at the butt"):
        oval.full_clean()


def test_the_heart_at_the_top_is_mirrored_into_the_frame_of_the_butt(oval, wanted):
    log = parse_request(request_for(oval, [wanted], SAW)).log
    assert log.butt_pith_mm == pytest.approx((40 * math.sin(math.pi / 3), 20))
    # Ten o'clock facing the top is two o'clock seen from the butt.
    assert log.top_pith_mm == pytest.approx((30 * math.sin(math.pi / 3), 15))
    assert log.butt_diameter_mm == (710, 640)


def test_a_line_of_the_list_is_asked_for_as_it_stands(oval, wanted):
    asked = parse_request(request_for(oval, [wanted], SAW)).wanted[0]
    assert (asked.id, asked.thickness_mm, asked.width_mm, asked.quantity) == ("F12", 102, 190, 2)
    assert asked.rings.mean_min_deg == 60
    assert asked.rings.worst_max_deg is None
    assert asked.knot_free == ((0.2, 0.8),)
    assert asked.heart_clearance_mm == 25


def test_trimming_the_ends_moves_the_butt_and_all_that_is_measured_from_it(oval):
    oval.butt_trim_mm, oval.top_trim_mm = 520, 0
    LogDefect.objects.create(log=oval, kind="knot", from_butt_mm=1520, clock=3, across_mm=80)
    LogDefect.objects.create(
        log=oval, kind="rot", from_butt_mm=0, to_mm=900, clock=9, offset_mm=50, across_mm=120
    )
    LogDefect.objects.create(log=oval, kind="shake", from_butt_mm=0, to_mm=500, across_mm=60)
    log = parse_request(request_for(oval, [], SAW)).log
    assert log.length_mm == 4680
    assert log.butt_diameter_mm == pytest.approx((695, 628))  # a tenth of the way to the top
    assert [(k.from_butt_mm, k.clock_deg) for k in log.knots] == [(1000, 0)]
    (rot,) = log.rot  # the shake goes off with the trimmed end
    assert (rot.x_mm, rot.from_mm, rot.to_mm, rot.radius_mm) == pytest.approx((-50, 0, 380, 60))


def test_a_knots_cone_is_as_wide_at_the_bark_as_the_knot(oval):
    oval.butt_diameter_2_mm = oval.top_diameter_2_mm = None
    knot = LogDefect(log=oval, kind="knot", from_butt_mm=0, clock=6, across_mm=142)
    assert math.tan(math.radians(knot.half_angle_deg())) == pytest.approx(71 / 355)


def test_a_swept_log_is_asked_for_as_the_straight_one_inside_it(oval, wanted):
    oval.sweep_mm, oval.sweep_clock = 60, 4
    asked = parse_request(request_for(oval, [wanted], SAW))
    assert asked.log.butt_diameter_mm[0] == pytest.approx(710 - 60 * 710 / 640)
    assert asked.wanted[0].heart_clearance_mm == 55
    assert _lies_inside(asked.log, oval)


def _lies_inside(straight, log):
    """The bark of the straight log, moved by half the sweep, inside the bowed one all along."""
    angle = math.radians(30 * log.sweep_clock)
    for step in range(21):
        t = step / 20
        bow = log.sweep_mm * (4 * t * (1 - t) - 0.5)
        at = (bow * math.sin(angle), bow * math.cos(angle))
        half = [_at(straight.butt_diameter_mm, straight.top_diameter_mm, n, t) for n in (0, 1)]
        whole = [_at(log.across("butt"), log.across("top"), n, t) for n in (0, 1)]
        for degree in range(0, 360, 5):
            x = half[0] * math.cos(math.radians(degree)) - at[0]
            y = half[1] * math.sin(math.radians(degree)) - at[1]
            if math.hypot(x / whole[0], y / whole[1]) > 1:
                return False
    return True


def _at(butt, top, n, t):
    return (butt[n] + (top[n] - butt[n]) * t) / 2


def test_a_log_that_bows_by_its_own_thickness_is_refused_in_a_sentence(oval):
    oval.sweep_mm = 600
    with pytest.raises(ValueError, match="two shorter logs"):
        request_for(oval, [], SAW)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"measured": "over"}, "need the bark's thickness"),
        ({"butt_trim_mm": 3000, "top_trim_mm": 2300}, "leave some of the log's length"),
        ({"sweep_mm": 30}, "towards which o'clock the log bows"),
        ({"sapwood_mm": 265}, "thinner than half the top diameter"),
        ({"butt_diameter_2_mm": 0}, "must be more than nothing"),
    ],
)
def test_a_log_that_cannot_be_is_refused_in_a_sentence(oval, change, sentence):
    for name, value in change.items():
        setattr(oval, name, value)
    with pytest.raises(ValidationError, match=sentence):
        oval.full_clean()


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"width_mm": 90}, "give the lesser as the thickness"),
        ({"quantity": 0}, "1"),
        ({"mean_max_deg": 40}, "must not be more than the greatest"),
        ({"knot_free": [[0.8, 0.2]]}, "to a greater one"),
        ({"knot_free": "middle"}, "to a greater one"),
        ({"worth": -1}, "Worth is between"),
    ],
)
def test_a_timber_that_cannot_be_is_refused_in_a_sentence(wanted, change, sentence):
    for name, value in change.items():
        setattr(wanted, name, value)
    with pytest.raises(ValidationError, match=sentence):
        wanted.full_clean()


def test_a_mark_stands_once_on_a_list_whatever_its_letters(wanted):
    twin = CuttingItem(
        cutting_list=wanted.cutting_list, label="f12", thickness_mm=50, width_mm=60, length_mm=900
    )
    with pytest.raises(ValidationError, match="has this mark"):
        twin.full_clean()


def test_a_knot_without_a_clock_is_refused(oval):
    with pytest.raises(ValidationError, match="towards which o'clock the knot points"):
        LogDefect(log=oval, kind="knot", from_butt_mm=800, across_mm=50).full_clean()
