"""Boards weighed against replacements: laws, and the same geometry reckoned another way."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from restoration.calc.free_length import HAIR_MM
from restoration.calc.matching import CLEARANCE_MM, DIFFERS, RULES_OUT, Why, weigh
from restoration.calc.matching_data import Need, Offer
from timber_stock.wood.distortion import dry_section
from timber_stock.wood.ring_limits import AUTHORITIES
from timber_stock.wood.section_sheet import centred_mm

OAK, LARCH = 3, 8
SHRINKS = {OAK: (4.6, 9.9)}
LIMITS = AUTHORITIES["hardwood_trade"]


def offer(**said):
    usual = {
        "board": 1, "wood": OAK, "thickness_mm": 71.0, "width_mm": 183.0, "board_length_mm": 3100.0,
        "from_mm": 0.0, "to_mm": 3100.0, "heart": "clear", "rings": "quarter",
    }  # fmt: skip
    return Offer(**(usual | said))


def need(**said):
    usual = {
        "key": 1, "woods": (OAK,), "sided_mm": 64.0, "moulded_mm": 131.0, "length_mm": 1140.0,
    }  # fmt: skip
    return Need(**(usual | said))


def against(one, other, **how):
    return Why(int(weigh([one], [other], SHRINKS, LIMITS, **how).why[0]))


offers = st.builds(
    lambda t, w, start, long, heart, rings, sap, state: offer(
        thickness_mm=t, width_mm=w, from_mm=start, to_mm=start + long, heart=heart, rings=rings,
        has_sapwood=sap, state=state, board_length_mm=9000.0,
    ),
    st.floats(20, 200), st.floats(20, 400), st.floats(0, 3000), st.floats(50, 4000),
    st.sampled_from(["clear", "in", "unknown"]), st.sampled_from(["quarter", "flat", "unknown"]),
    st.booleans(), st.sampled_from(["green", "in_stick", "ready"]),
)  # fmt: skip
needs = st.builds(
    lambda s, m, long, clear, rings, face: need(
        sided_mm=s, moulded_mm=m, length_mm=long, clear_of_heart=clear, rings=rings, rings_face=face
    ),
    st.floats(15, 150), st.floats(15, 300), st.floats(50, 3500), st.booleans(),
    st.sampled_from(["any", "quarter", "rift"]), st.sampled_from(["", "sided", "moulded"]),
)  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(st.lists(offers, min_size=1, max_size=6), st.lists(needs, min_size=1, max_size=4))
def test_what_serves_holds_the_section_and_the_length_and_leaves_no_waste_below_nought(have, want):
    found = weigh(have, want, SHRINKS, LIMITS)
    assert len(found) == len(have) * len(want)
    for k in np.nonzero(found.serves)[0]:
        one, other = have[found.offer[k]], want[found.need[k]]
        board = sorted((one.thickness_mm, one.width_mm))
        piece = sorted((other.sided_mm, other.moulded_mm))
        assert all(a >= b - HAIR_MM for a, b in zip(board, piece, strict=True))
        assert one.length_mm >= other.length_mm - HAIR_MM
        assert found.rip_mm3[k] >= -HAIR_MM * 700 * other.length_mm
        assert found.waste_mm3[k] >= found.rip_mm3[k]


@settings(max_examples=40, deadline=None)
@given(st.lists(offers, min_size=1, max_size=6), st.lists(needs, min_size=1, max_size=4))
def test_only_those_that_serve_are_the_same_pairs_as_all_without_the_others(have, want):
    everything = weigh(have, want, SHRINKS, LIMITS)
    some = weigh(have, want, SHRINKS, LIMITS, only_serving=True)
    serving = everything.serves
    assert list(some.offer) == list(everything.offer[serving])
    assert list(some.why) == list(everything.why[serving])
    assert np.array_equal(some.worth_mm3, everything.worth_mm3[serving])


@settings(max_examples=40, deadline=None)
@given(st.lists(offers, min_size=2, max_size=9), needs)
def test_ranked_by_what_rules_out_then_what_differs_then_least_waste_then_worth(have, want):
    found = weigh(have, [want], SHRINKS, LIMITS)
    keys = [
        (
            bin(int(found.why[k]) & int(RULES_OUT)).count("1"),
            bin(int(found.why[k]) & int(DIFFERS)).count("1"),
            round(float(found.waste_mm3[k])),
            float(found.worth_mm3[k]),
        )
        for k in found.ranked()
    ]
    assert all(one <= other for one, other in itertools.pairwise(keys))


sections = st.tuples(st.floats(25, 120), st.floats(125, 300))
places = st.tuples(st.floats(-400, 400), st.floats(-400, 400))


@settings(max_examples=50, deadline=None)
@given(sections, places, st.floats(8, 25))
def test_out_of_square_is_what_the_whole_dried_section_shows(section, heart, percent):
    """Against the section reckoned point by point, where board and piece are one section."""
    thickness, width = section
    assume(max(abs(heart[0]) - width / 2, abs(heart[1]) - thickness / 2) > 1)
    board = offer(thickness_mm=thickness, width_mm=width, butt_heart_mm=heart)
    piece = need(sided_mm=thickness, moulded_mm=width, service_percent=percent)
    found = weigh([board], [piece], SHRINKS, LIMITS)
    shrinks = [s * (30 - percent) / 30 for s in SHRINKS[OAK]]
    dried = dry_section(centred_mm(width, thickness), heart, *shrinks)
    out = max(abs(angle - 90) for angle in dried.corner_angles_deg)
    assert found.heart.out_of_square_deg[0] == pytest.approx(out, abs=1e-6)
    assert bool(found.why[0] & Why.OUT_OF_SQUARE) == (found.heart.out_of_square_deg[0] >= 1.0)


@settings(max_examples=50, deadline=None)
@given(places, places)
def test_the_heart_is_told_where_it_comes_nearest_to_the_piece_and_no_nearer(butt, top):
    """Against the piece walked along in small steps, on the side away from the heart."""
    board = offer(butt_heart_mm=butt, top_heart_mm=top, thickness_mm=90.0, width_mm=260.0)
    piece = need()
    found = weigh([board], [piece], SHRINKS, LIMITS)
    at = [np.add(np.multiply(butt, 1 - s), np.multiply(top, s)) for s in (0, 1140 / 3100)]
    mean = np.mean(at, axis=0)
    middle = [
        (-1 if mean[0] > 0 else 1) * (260 - 131) / 2,
        (-1 if mean[1] > 0 else 1) * (90 - 64) / 2,
    ]
    gaps = []
    for share in np.linspace(0, 1, 401):
        x, y = np.abs(at[0] + (at[1] - at[0]) * share - middle)
        gaps.append(math.hypot(max(x - 65.5, 0), max(y - 32, 0)))
    step = math.dist(at[0], at[1]) / 16
    assert min(gaps) - 1e-6 <= found.heart.clearance_mm[0] <= min(gaps) + step + 1e-6


@settings(max_examples=40, deadline=None)
@given(places, places, st.floats(0, 1500), st.floats(1200, 1600))
def test_a_piece_that_may_lie_anywhere_is_no_clearer_than_where_it_ends_up(butt, top, start, long):
    board = offer(butt_heart_mm=butt, top_heart_mm=top, from_mm=start, to_mm=start + long)
    whole = weigh([board], [need()], SHRINKS, LIMITS, anywhere=True).heart.clearance_mm[0]
    lying = weigh([board], [need(length_mm=long)], SHRINKS, LIMITS).heart.clearance_mm[0]
    assert whole == pytest.approx(lying)


def test_a_heart_measured_a_half_inch_off_is_against_it_and_two_inches_off_is_not():
    near = offer(butt_heart_mm=(0.0, -(32 + 12)), thickness_mm=64.0, width_mm=131.0)
    far = offer(butt_heart_mm=(0.0, -(32 + 51)), thickness_mm=64.0, width_mm=131.0)
    found = weigh([near, far], [need()], SHRINKS, LIMITS)
    assert list(found.heart.clearance_mm) == [pytest.approx(12), pytest.approx(51)]
    assert [bool(why & Why.HEART) for why in found.why] == [True, False]
    assert against(near, need(clear_of_heart=False)) == Why(0)


def test_the_record_says_clear_but_the_heart_was_measured_in_it():
    board = offer(butt_heart_mm=(4.0, -3.0), thickness_mm=64.0, width_mm=131.0)
    assert against(board, need()) == Why.HEART


def test_a_wide_board_with_the_heart_at_one_edge_is_cut_from_the_other():
    board = offer(butt_heart_mm=(120.0, 0.0), width_mm=260.0, heart="in")
    found = weigh([board], [need()], SHRINKS, LIMITS)
    assert found.heart.clearance_mm[0] == pytest.approx(120 - (-130 + 131))
    assert found.heart.clearance_mm[0] > CLEARANCE_MM
    assert not found.why[0] & Why.HEART


def test_rings_asked_on_the_narrow_face_are_a_quarter_turn_away_on_the_wide_one():
    asked = need(rings="quarter", rings_face="sided")  # 64 of 131: the narrow face
    assert against(offer(rings="quarter"), asked) == Why.RINGS
    assert against(offer(rings="flat"), asked) == Why(0)
    assert against(offer(rings="quarter"), need(rings="quarter", rings_face="moulded")) == Why(0)


def test_where_the_heart_was_measured_the_rings_follow_from_it_and_not_from_the_word():
    level = offer(rings="flat", butt_heart_mm=(-400.0, 0.0))  # beside it: rings stand up
    assert against(level, need(rings="quarter")) == Why(0)
    below = offer(rings="quarter", butt_heart_mm=(0.0, -400.0))
    assert against(below, need(rings="quarter")) == Why.RINGS


@pytest.mark.parametrize(
    ("percent", "state", "passes"),
    [
        (17.9, "in_stick", True),
        (18.2, "ready", False),
        (None, "ready", True),
        (None, "green", False),
    ],
)
def test_seasoned_wood_is_as_dry_as_it_was_last_read(percent, state, passes):
    asked = need(seasoning="seasoned", moisture_percent=16.0)
    assert (against(offer(percent=percent, state=state), asked) == Why(0)) == passes


def test_wood_that_still_shrinks_should_have_the_size_to_saw_and_dry_wood_need_not():
    asked = need(ask_mm=(74.0, 140.0))
    assert against(offer(), asked) == Why.GREEN_SIZE
    seasoned = need(ask_mm=(74.0, 140.0), seasoning="seasoned", moisture_percent=14.0)
    assert against(offer(state="ready"), seasoned) == Why(0)
    assert against(offer(state="in_stick", percent=15.5), seasoned) == Why(0)
    wet = against(offer(state="in_stick", percent=24.0), seasoned)
    assert wet & Why.GREEN_SIZE


def test_another_wood_too_thin_and_too_short_are_each_named():
    assert against(offer(wood=LARCH), need()) == Why.WOOD
    assert against(offer(thickness_mm=63.0), need()) == Why.SECTION
    assert against(offer(to_mm=1100.0), need()) == Why.LENGTH
    assert against(offer(thickness_mm=63.7, to_mm=1139.7), need()) == Why(0)  # less than a hair


def test_an_end_too_short_to_use_is_waste_and_a_longer_one_is_stock():
    short, long = offer(to_mm=1140.0 + 260.0), offer(to_mm=1140.0 + 700.0)
    found = weigh([short, long], [need()], SHRINKS, LIMITS)
    assert found.waste_mm3[0] - found.rip_mm3[0] == pytest.approx(260 * 71 * 183)
    assert found.waste_mm3[1] == found.rip_mm3[1]


def test_of_two_alike_wasteful_the_one_with_less_that_was_not_asked_for_goes_first():
    fine, plain = offer(board=1), offer(board=2, heart="unknown", rings="flat")
    found = weigh([fine, plain], [need(clear_of_heart=False)], SHRINKS, LIMITS)
    assert [found.offer[k] for k in found.ranked()] == [1, 0]


def test_of_two_alike_plain_the_cheaper_goes_first_and_what_nobody_priced_last():
    have = [offer(board=n, money_per_mm3=m) for n, m in ((1, None), (2, 8e-6), (3, 3e-6))]
    found = weigh(have, [need()], SHRINKS, LIMITS)
    assert [have[found.offer[k]].board for k in found.ranked()] == [3, 2, 1]
    assert found.money[2] == pytest.approx(3e-6 * 71 * 183 * 1140)


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: offer(thickness_mm=math.nan), "thickness"),
        (lambda: offer(to_mm=math.inf), "end"),
        (lambda: offer(from_mm=3100.0), "runs from"),
        (lambda: offer(heart="perhaps"), "heart"),
        (lambda: need(length_mm=-4.0), "length"),
        (lambda: need(woods=()), "wood"),
        (lambda: need(rings="mixed"), "ring direction"),
        (lambda: need(rings_face="upper"), "judged"),
    ],
)
def test_what_is_no_board_and_no_replacement_is_refused(make, said):
    with pytest.raises(ValueError, match=said):
        make()
