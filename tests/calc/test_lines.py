"""The lines of a hull from her particulars or from offsets: sizes kept, laws, refusals."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc import lines as hull
from restoration.calc.hull_particulars import Particulars, hull_kinds, lines_from
from restoration.calc.offset_table import OffsetRow, lines_from_offsets

KINDS = list(hull_kinds())
FULL = Particulars(
    hull="long_keel",
    loa_mm=10_700,
    lwl_mm=8_200,
    beam_mm=2_900,
    draught_mm=1_650,
    freeboard_bow_mm=1_120,
    freeboard_least_mm=720,
    freeboard_stern_mm=830,
    overhang_bow_mm=1_200,
)


@st.composite
def particulars(draw):
    loa = draw(st.floats(2_500, 30_000))
    lwl = loa * draw(st.floats(0.55, 1))
    least = loa * draw(st.floats(0.03, 0.1))
    return Particulars(
        hull=draw(st.sampled_from(KINDS)),
        loa_mm=loa,
        lwl_mm=lwl,
        beam_mm=loa * draw(st.floats(0.15, 0.5)),
        draught_mm=loa * draw(st.floats(0.03, 0.3)),
        freeboard_bow_mm=least * draw(st.floats(1, 2.5)),
        freeboard_least_mm=least,
        freeboard_stern_mm=least * draw(st.floats(1, 2)),
        overhang_bow_mm=(loa - lwl) * draw(st.floats(0, 1)),
    )


def places(found, count=60):
    return [found.sheer.start_mm + found.length_mm * i / count for i in range(count + 1)]


@settings(max_examples=60, deadline=None)
@given(particulars())
def test_the_sizes_given_are_the_sizes_drawn(given_sizes):
    found = lines_from(given_sizes)
    assert found.assumed == ()
    assert found.length_mm == given_sizes.loa_mm
    assert min(z for _, z in found.profile.points) == -given_sizes.draught_mm
    assert max(y for _, y in found.deck.points) == pytest.approx(given_sizes.beam_mm / 2)
    heights = [z for _, z in found.sheer.points]
    assert heights[0] == given_sizes.freeboard_bow_mm
    assert min(heights) == given_sizes.freeboard_least_mm
    assert heights[-1] == given_sizes.freeboard_stern_mm


@settings(max_examples=60, deadline=None)
@given(particulars())
def test_the_waterline_begins_and_ends_where_the_overhangs_say(given_sizes):
    found = lines_from(given_sizes)
    rake = 0.0041 * given_sizes.loa_mm
    fore, aft = found.waterline.start_mm, found.waterline.end_mm
    assert fore == pytest.approx(given_sizes.overhang_bow_mm, abs=rake)
    assert aft - fore == pytest.approx(given_sizes.lwl_mm, abs=rake)
    assert hull.keel_height(found, fore) == pytest.approx(0, abs=1e-6)
    assert hull.keel_height(found, aft) == pytest.approx(0, abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(particulars())
def test_everywhere_keel_lies_under_rabbet_under_sheer(given_sizes):
    found = lines_from(given_sizes)
    for along in places(found):
        keel, rabbet = hull.keel_height(found, along), hull.rabbet_height(found, along)
        assert keel - 1e-6 <= rabbet <= hull.sheer_height(found, along) + 1e-6
        assert (
            0 <= hull.waterline_half_breadth(found, along) <= (hull.deck_half_breadth(found, along))
        )


@settings(max_examples=30, deadline=None)
@given(particulars(), st.floats(0.3, 4))
def test_a_hull_twice_the_size_has_the_same_shape(given_sizes, scale):
    sizes = {
        name: value * scale for name, value in vars(given_sizes).items() if name.endswith("_mm")
    }
    small, big = lines_from(given_sizes), lines_from(replace(given_sizes, **sizes))
    for along in places(small, 20)[1:-1]:
        assert hull.keel_height(big, along * scale) == pytest.approx(
            hull.keel_height(small, along) * scale, rel=1e-4, abs=0.01
        )


@pytest.mark.parametrize("kind", KINDS)
def test_length_alone_is_enough_and_what_was_assumed_is_named(kind):
    found = lines_from(Particulars(kind, 9_400))
    assert found.assumed == (
        "lwl",
        "beam",
        "draught",
        "freeboard bow",
        "freeboard least",
        "freeboard stern",
        "overhang bow",
    )
    assert lines_from(replace(FULL, beam_mm=None)).assumed == ("beam",)


def test_a_long_keel_carries_its_draught_aft_and_a_fin_keel_amidships():
    def deepest(kind):
        found = lines_from(replace(FULL, hull=kind))
        return min(places(found, 200), key=lambda along: hull.keel_height(found, along))

    assert deepest("long_keel") / FULL.loa_mm > 0.6
    assert 0.35 < deepest("fin_keel") / FULL.loa_mm < 0.6


def test_the_sheer_is_two_half_parabolas():
    found = lines_from(FULL)
    assert hull.sheer_height(found, 0.34 * 10_700) == pytest.approx(720 + 400 / 4)
    assert hull.sheer_height(found, 0.84 * 10_700) == pytest.approx(720 + 110 / 4)


def test_an_overhang_not_given_takes_its_usual_share():
    found = lines_from(replace(FULL, overhang_bow_mm=None))
    assert found.waterline.start_mm == pytest.approx(0.45 * 2_500)


def test_the_yard_moves_a_control_point():
    found = lines_from(FULL)
    x, z = found.sheer.points[3]
    lifted = hull.move_points(found, {"sheer": {3: (x + 100, z + 150)}})
    assert hull.sheer_height(lifted, x + 100) == pytest.approx(z + 150)
    assert lifted.profile == found.profile
    assert lifted.waterline == found.waterline
    assert found.sheer.points[3] == (x, z), "the lines before are as they were"


@pytest.mark.parametrize("name", hull.CURVES)
def test_moving_a_point_changes_its_own_curve_and_no_other(name):
    found = lines_from(replace(FULL, beam_mm=None))
    x, value = getattr(found, name).points[2]
    after = hull.move_points(found, {name: {2: (x + 1, value + 2)}})
    changed = [each for each in hull.CURVES if getattr(after, each) != getattr(found, each)]
    assert changed == [name]
    assert after.assumed == found.assumed == ("beam",)


def test_a_control_point_moved_where_it_cannot_go_is_refused_with_a_sentence():
    found = lines_from(FULL)
    with pytest.raises(ValueError, match="sheer lies below the keel profile"):
        hull.move_points(found, {"sheer": {4: (found.sheer.points[4][0], -5_000)}})
    with pytest.raises(ValueError, match="doubles back"):
        hull.move_points(found, {"deck": {3: (10_600, 500)}})
    with pytest.raises(ValueError, match="below 0"):
        hull.move_points(found, {"waterline": {2: (found.waterline.points[2][0], -1)}})
    with pytest.raises(ValueError, match="no curve named 'garboard'"):
        hull.move_points(found, {"garboard": {1: (5, 5)}})


def test_stations_are_numbered_from_forward_and_read_back():
    found = lines_from(FULL)
    stations = hull.even_stations(found, 8)
    assert stations.position_mm(0) == 0
    assert stations.position_mm(8) == pytest.approx(10_700)
    assert stations.number_at(stations.position_mm(3.5)) == pytest.approx(3.5)
    own = hull.spaced_stations(1_000, first_mm=250)
    assert own.position_mm(2) == 2_250
    with pytest.raises(ValueError, match="station spacing"):
        hull.spaced_stations(0)
    with pytest.raises(ValueError, match="place of station 0"):
        hull.spaced_stations(1_000, first_mm=math.nan)
    with pytest.raises(ValueError, match="one station space"):
        hull.even_stations(found, 0)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"hull": "submarine"}, "“submarine” is no kind of hull"),
        ({"loa_mm": 0}, "length overall must be more than 0"),
        ({"loa_mm": math.nan}, "length overall must be a number"),
        ({"lwl_mm": 10_800}, "cannot be longer than the vessel"),
        ({"overhang_bow_mm": 2_600}, "longer together than the vessel"),
        ({"overhang_bow_mm": -5}, "bow overhang cannot be below 0"),
        ({"beam_mm": 10_700}, "beam of 10700 mm is as great"),
        ({"draught_mm": 11_000}, "draught of 11000 mm is as great"),
        ({"freeboard_least_mm": 900}, "least freeboard is more"),
        ({"freeboard_bow_mm": -1}, "bow freeboard must be more than 0"),
    ],
)
def test_an_impossible_vessel_is_refused_with_a_sentence(changes, says):
    with pytest.raises(ValueError, match=says):
        lines_from(replace(FULL, **changes))


TABLE = (
    OffsetRow(0, 1_050, None, 1_100, 0),
    OffsetRow(1_500, -200, -150, 950, 700, 300),
    OffsetRow(4_000, -1_100, -800, 760, 1_300, 1_150),
    OffsetRow(7_000, -1_300, -500, 700, 1_200, 900),
    OffsetRow(9_000, 300, None, 800, 600),
)


def test_offsets_measured_are_offsets_drawn():
    found = lines_from_offsets(TABLE)
    assert found.assumed == ()
    for row in TABLE:
        assert hull.keel_height(found, row.along_mm) == pytest.approx(row.keel_mm)
        assert hull.sheer_height(found, row.along_mm) == pytest.approx(row.sheer_mm)
        assert hull.deck_half_breadth(found, row.along_mm) == pytest.approx(
            row.deck_half_breadth_mm
        )
        if row.rabbet_mm is not None:
            assert hull.rabbet_height(found, row.along_mm) == pytest.approx(row.rabbet_mm)
            assert hull.waterline_half_breadth(found, row.along_mm) == pytest.approx(
                row.waterline_half_breadth_mm
            )
    assert hull.waterline_half_breadth(found, 8_000) == 0


def test_a_rabbet_is_drawn_no_higher_than_the_sheer():
    high = [replace(row, rabbet_mm=row.rabbet_mm and 2_000) for row in TABLE]
    found = lines_from_offsets(high)
    assert hull.rabbet_height(found, 4_000) == hull.sheer_height(found, 4_000)


def test_offsets_not_measured_are_passed_over_and_whole_columns_are_assumed():
    bare = [replace(row, rabbet_mm=None, waterline_half_breadth_mm=None) for row in TABLE]
    bare[2] = replace(bare[2], sheer_mm=None)
    found = lines_from_offsets(bare)
    assert found.assumed == ("rabbet", "waterline")
    assert 700 < hull.sheer_height(found, 4_000) < 950
    assert hull.rabbet_height(found, 4_000) == hull.keel_height(found, 4_000)
    assert hull.waterline_half_breadth(found, 4_000) == pytest.approx(1_300)


@pytest.mark.parametrize(
    ("table", "says"),
    [
        (
            (TABLE[0], TABLE[2], TABLE[1], *TABLE[3:]),
            r"doubles back in row 3: 4 ft 11 1/16 in \(1500 mm\) comes after .*\(4000 mm\)",
        ),
        ((*TABLE[:2], TABLE[1], *TABLE[2:]), "doubles back in row 3"),
        (TABLE[:2], "three rows or more"),
        ((replace(TABLE[0], sheer_mm=None), *TABLE[1:]), "first row of the offset table has no sh"),
        ((*TABLE[:4], replace(TABLE[4], deck_half_breadth_mm=None)), "last row of .* deck half"),
        ((*TABLE[:2], replace(TABLE[2], sheer_mm=-1_200), *TABLE[3:]), "sheer lies below the keel"),
        (
            (*TABLE[:2], replace(TABLE[2], sheer_mm=None, keel_mm=1_000), *TABLE[3:]),
            "At 4000 mm the sheer lies below the keel",
        ),
        ((*TABLE[:2], replace(TABLE[2], keel_mm=math.nan), *TABLE[3:]), "must be a number"),
        ((*TABLE[:2], replace(TABLE[2], deck_half_breadth_mm=-1), *TABLE[3:]), "below 0"),
        (
            [
                replace(row, keel_mm=500, waterline_half_breadth_mm=None)
                for row in (TABLE[0], TABLE[1], TABLE[4])
            ],
            "nowhere under water",
        ),
    ],
)
def test_an_impossible_offset_table_is_refused_with_a_sentence(table, says):
    with pytest.raises(ValueError, match=says):
        lines_from_offsets(table)


def test_curves_of_unequal_length_make_no_hull():
    found = lines_from_offsets(TABLE)
    short = replace(found.deck, points=found.deck.points[:-1])
    with pytest.raises(ValueError, match="deck edge must run the same length as the sheer"):
        replace(found, deck=short)
