"""A proposed set of members: marks, places, counts, no sizes but typed ones, refusals."""

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.hull_particulars import hull_kinds
from restoration.calc.lines import Stations
from restoration.calc.setting_out import Layout, propose, resize
from restoration.calc.tables import rows
from restoration.calc.vocabulary import member_kinds

YAWL = Layout(
    hull="long_keel",
    loa_mm=10_000,
    stations=Stations(0, 1_000),
    first_frame_mm=600,
    last_frame_mm=9_200,
    frame_spacing_mm=250,
    strakes=14,
    beams=17,
    keel_bolts=7,
    frame_kind="frame_steamed",
)


@st.composite
def layouts(draw):
    loa = draw(st.floats(3_000, 25_000))
    first = loa * draw(st.floats(0, 0.4))
    last = first + (loa - first) * draw(st.floats(0, 1))
    return Layout(
        hull=draw(st.sampled_from(list(hull_kinds()))),
        loa_mm=loa,
        stations=Stations(draw(st.floats(-500, 500)), draw(st.floats(200, 3_000))),
        first_frame_mm=first,
        last_frame_mm=last,
        frame_spacing_mm=draw(st.floats(150, 900)),
        strakes=draw(st.integers(2, 24)),
        floors_every=draw(st.integers(0, 3)),
        beams=draw(st.integers(0, 30)),
        keel_bolts=draw(st.integers(0, 20)),
    )


def of(kind, members):
    return [member for member in members if member.kind == kind]


@settings(max_examples=60, deadline=None)
@given(layouts())
def test_every_proposal_has_marks_of_its_own_and_lies_on_the_hull(layout):
    members = propose(layout)
    assert max(Counter(member.mark.upper() for member in members).values()) == 1
    low, high = (layout.stations.number_at(end) for end in (0, layout.loa_mm))
    for member in members:
        assert low - 0.001 <= member.station_from <= member.station_to <= high + 0.001
        assert member.kind in member_kinds()
        assert member.side in ("C", "P", "S", "B")


@settings(max_examples=40, deadline=None)
@given(layouts())
def test_no_size_is_ever_proposed(layout):
    for member in propose(layout):
        assert member.sided_mm is None
        assert member.moulded_mm is None


@settings(max_examples=40, deadline=None)
@given(layouts())
def test_what_stands_to_port_stands_to_starboard(layout):
    members = propose(layout)

    def side(letter):
        return [
            (m.kind, m.number, m.station_from, m.station_to) for m in members if m.side == letter
        ]

    assert side("P") == side("S")


@settings(max_examples=40, deadline=None)
@given(layouts())
def test_the_counts_are_those_typed(layout):
    members = propose(layout)
    planks = [m for m in members if member_kinds()[m.kind].group == "shell" and m.side == "P"]
    assert sum(
        m.kind in ("garboard", "broad_strake", "planking", "sheer_strake") for m in planks
    ) == (layout.strakes)
    assert len(of("deck_beam", members)) == layout.beams
    assert len(of("keel_bolt", members)) == layout.keel_bolts


def test_frames_stand_at_their_spacing_on_both_sides():
    frames = of("frame_steamed", propose(YAWL))
    assert len(frames) == 2 * 35
    assert [m.mark for m in frames[:3]] == ["FRB1P", "FRB1S", "FRB2P"]
    assert [m.station_from for m in frames[::2]][:3] == [0.6, 0.85, 1.1]
    assert frames[-1].station_from == 9.1


def test_a_frame_that_falls_on_the_last_place_is_not_lost_to_rounding():
    layout = replace(
        YAWL, first_frame_mm=100, last_frame_mm=100 + 3 * 0.1 * 3_000, frame_spacing_mm=300
    )
    assert len(of("frame_steamed", propose(layout))) == 2 * 4


def test_a_floor_has_the_number_of_its_frame():
    members = propose(replace(YAWL, floors_every=2))
    at = {m.number: m.station_from for m in of("frame_steamed", members)}
    floors = of("floor_timber", members)
    assert [m.number for m in floors][:3] == [3, 5, 7]
    assert all(m.station_from == at[m.number] and m.side == "B" for m in floors)
    assert floors[0].mark == "F3"
    assert of("floor_timber", propose(replace(YAWL, floors_every=0))) == []


def test_strakes_are_named_from_the_garboard_to_the_sheer():
    names = {m.kind: m.mark for m in propose(replace(YAWL, strakes=5)) if m.side == "S"}
    assert {kind: names[kind] for kind in ("garboard", "broad_strake", "sheer_strake")} == {
        "garboard": "GS",
        "broad_strake": "BRS",
        "sheer_strake": "SSS",
    }
    planks = of("planking", propose(replace(YAWL, strakes=5)))
    assert [m.mark for m in planks] == ["P3P", "P3S", "P4P", "P4S"]
    three = [m.kind for m in propose(replace(YAWL, strakes=3)) if m.side == "P"]
    assert "broad_strake" not in three


def test_keel_bolts_stand_within_the_ballast():
    members = propose(YAWL)
    (ballast,) = of("ballast_keel", members)
    for bolt in of("keel_bolt", members):
        assert ballast.station_from < bolt.station_from < ballast.station_to


def test_a_single_beam_stands_in_the_middle():
    (beam,) = of("deck_beam", propose(replace(YAWL, beams=1)))
    assert beam.station_from == pytest.approx(5.1)


def test_kinds_she_has_not_are_left_out():
    members = propose(replace(YAWL, leave_out=("rudder_trunk", "keel_bolt")))
    assert of("rudder_trunk", members) == of("keel_bolt", members) == []
    assert len(members) == len(propose(YAWL)) - 8


@pytest.mark.parametrize("hull", list(hull_kinds()))
def test_every_kind_of_hull_has_a_backbone_from_end_to_end(hull):
    backbone = [row for row in rows("setting_out") if row["hull"] == hull and row["side"] == "C"]
    kinds = {row["kind"] for row in backbone}
    assert {"stem", "keel", "transom", "rudder"} <= kinds
    reach = 0.0
    for row in sorted(backbone, key=lambda row: float(row["from"])):
        assert float(row["from"]) <= reach + 1e-9, "a gap in the backbone"
        reach = max(reach, float(row["to"]))
    assert reach == 1.0
    assert ("ballast_keel" in kinds) == (hull in ("long_keel", "fin_keel"))


def test_sizes_are_given_by_range():
    members = resize(propose(YAWL), "floor_timber", (4, 9), sided_mm=76.2)
    sized = [m.number for m in members if m.sided_mm == 76.2]
    assert sized == [4, 5, 6, 7, 8, 9]
    again = resize(members, "floor_timber", (9, 10), moulded_mm=150)
    assert {m.number: (m.sided_mm, m.moulded_mm) for m in again if m.moulded_mm} == {
        9: (76.2, 150),
        10: (None, 150),
    }


def test_sizes_are_given_to_one_side_or_to_a_whole_kind():
    members = resize(propose(YAWL), "frame_steamed", (5, 5), moulded_mm=32, side="S")
    assert [m.mark for m in members if m.moulded_mm] == ["FRB5S"]
    members = resize(propose(YAWL), "garboard", sided_mm=30)
    assert [m.mark for m in members if m.sided_mm] == ["GP", "GS"]


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("floor_timber", (90, 99), 76.2), "no floor timber in that range"),
        (("floor_timber", (9, 4), 76.2), "no floor timber in that range"),
        (("floor_timber", (4, 9)), "Give a sided or a moulded"),
        (("floor_timber", (4, 9), 0), "sided dimension must be more than 0"),
        (("floor_timber", (4, 9), None, -1), "moulded dimension must be more than 0"),
        (("keelbolt", (4, 9), 76.2), "no kind of member"),
    ],
)
def test_an_impossible_range_is_refused_with_a_sentence(arguments, says):
    with pytest.raises(ValueError, match=says):
        resize(propose(YAWL), *arguments)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"hull": "raft"}, "“raft” is no kind of hull"),
        ({"loa_mm": 0}, "length overall"),
        ({"frame_spacing_mm": 0}, "frame spacing"),
        ({"first_frame_mm": 9_300}, "from forward to aft"),
        ({"last_frame_mm": 10_001}, "lie on the hull"),
        ({"first_frame_mm": -1}, "lie on the hull"),
        ({"first_frame_mm": float("nan")}, "must be a number"),
        ({"frame_spacing_mm": 43}, "At most 200 frames"),
        ({"strakes": 1}, "two strakes"),
        ({"beams": -1}, "beams cannot be -1"),
        ({"floors_every": 1.5}, "whole number"),
        ({"keel_bolts": 201}, "keel bolts cannot be 201"),
        ({"frame_kind": "rib cage"}, "no kind of member"),
        ({"leave_out": ("plank",)}, "no kind of member"),
    ],
)
def test_an_impossible_layout_is_refused_with_a_sentence(changes, says):
    with pytest.raises(ValueError, match=says):
        propose(replace(YAWL, **changes))
