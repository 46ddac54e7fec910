"""The log replayed cut by cut, and what is left of it."""

from collections import Counter
from dataclasses import replace

import pytest

from timber_stock.sawing.as_cut import replay, uncut
from timber_stock.sawing.plan import make_plan
from timber_stock.sawing.read_layout import layout_data, parse_layout
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.rest import changes, hearts_in_section, rest_of_log
from timber_stock.sawing.search import Allowance
from timber_stock.sawing.ways_to_saw import kept_as, placed_ids, plan_from


def request_data(**log):
    return {
        "log": {
            "length_mm": 3700,
            "butt_diameter_mm": [520, 470],
            "top_diameter_mm": [430, 410],
            "butt_pith_mm": [25, -12],
            "top_pith_mm": [-8, 14],
            "sapwood_mm": 22,
            "knots": [],
            "rot": [],
            **log,
        },
        "saw": {"kerf_mm": 3.2, "crosscut_kerf_mm": 8},
        "wanted": [
            {
                "id": "floor",
                "thickness_mm": 90,
                "width_mm": 150,
                "length_mm": 1300,
                "quantity": 3,
                "worth": 3,
                "heart_clearance_mm": 12,
            },
            {
                "id": "plank",
                "thickness_mm": 34,
                "width_mm": 130,
                "length_mm": 3500,
                "quantity": 6,
                "worth": 1,
                "heart_clearance_mm": 5,
                "sapwood_allowed": True,
            },
        ],
    }


@pytest.fixture(scope="module")
def planned():
    request = parse_request(request_data())
    plan = make_plan(request, Allowance(steps=600), seed=3)
    return request, parse_layout(request, plan["bolts"]), plan


def test_a_layout_read_back_is_the_layout(planned):
    request, layout, _ = planned
    assert parse_layout(request, layout_data(request, layout)) == layout
    assert sum(len(bolt.timbers) for bolt in layout) >= 4


@pytest.mark.parametrize(
    ("bad", "said"),
    [
        ("planks", "The layout is missing"),
        ([{"from_mm": 0, "to_mm": 9000, "roll_deg": 0}], "does not lie in the log"),
        ([{"from_mm": 0, "to_mm": float("nan"), "roll_deg": 0}], "can be measured"),
        ([{"from_mm": 0, "to_mm": 900, "roll_deg": 0, "timbers": [{"id": "mast"}]}], "mast is not"),
        ([{"from_mm": 0, "to_mm": 900, "roll_deg": 0, "faces": [1, 2]}], "are four"),
        ([{"from_mm": 0, "to_mm": 900, "roll_deg": True}], "must be a number"),
    ],
)
def test_what_is_no_layout_is_refused_in_a_sentence(planned, bad, said):
    with pytest.raises(ValueError, match=said):
        parse_layout(planned[0], bad)


def test_every_cut_frees_what_the_plan_says_it_frees(planned):
    request, layout, plan = planned
    told = replay(request, layout, plan["cuts"])
    for cut, cutting in zip(plan["cuts"], told, strict=True):
        names = [
            request.wanted[layout[p.bolt].timbers[p.timbers[0]].line].id for p in cutting.freed
        ]
        assert names == cut["releases"]
    freed = [part for part in told[-1].after if part.freed]
    assert len(freed) == sum(len(bolt.timbers) for bolt in layout)


def test_pieces_come_as_wanted_when_the_saw_keeps_to_the_plan(planned):
    request, layout, plan = planned
    for part in replay(request, layout, plan["cuts"])[-1].after:
        if part.freed:
            sizes = [high - low for low, high in part.sawn]
            placed = layout[part.bolt].timbers[part.timbers[0]]
            assert sizes == pytest.approx(placed.sizes(request.wanted[placed.line]), abs=0.02)


def test_a_cut_that_came_high_makes_the_piece_under_it_thicker(planned):
    request, layout, plan = planned
    first = plan["cuts"][0]["step"]
    true, over = (
        replay(request, layout, plan["cuts"]),
        replay(request, layout, plan["cuts"], {first: 4.0}),
    )
    assert over[0].at_mm == pytest.approx(true[0].at_mm + 4)
    axis = true[0].axis
    low, low_over = true[0].after[0], over[0].after[0]
    assert low_over.sawn[axis][1] == pytest.approx(low.sawn[axis][1] + 4)
    assert low_over.planned == low.planned


def test_cuts_of_another_layout_are_refused(planned):
    request, layout, plan = planned
    strange = [{**plan["cuts"][0], "piece": "bolt.7.2"}]
    with pytest.raises(ValueError, match="belong to this layout"):
        replay(request, layout, strange)


def test_before_any_cut_the_whole_log_is_left_and_may_be_rolled(planned):
    request, layout, plan = planned
    rest = rest_of_log(request, layout, uncut(request, layout, plan["cuts"]))
    assert [(b.from_mm, b.to_mm) for b in rest] == [(0, 3700)]
    assert not rest[0].roll_settled


def test_what_is_left_after_some_cuts_is_planned_again_inside_its_sawn_faces(planned):
    request, layout, plan = planned
    half = len(plan["cuts"]) // 2
    told = replay(request, layout, plan["cuts"][:half])
    names = [
        request.wanted[layout[p.bolt].timbers[p.timbers[0]].line].id
        for p in told[-1].after
        if p.freed
    ]
    had = Counter(names)
    left = replace(
        request,
        wanted=tuple(replace(t, quantity=max(0, t.quantity - had[t.id])) for t in request.wanted),
    )
    rest = rest_of_log(left, layout, told[-1].after)
    done = [part.sawn for part in told[-1].after if part.freed]
    assert done
    assert not {(b.faces[:2], b.faces[2:], (b.from_mm, b.to_mm)) for b in rest} & {*done}
    again = plan_from(left, rest, 0.4, lambda: False, lambda share, best: None)
    placed = parse_layout(left, again["bolts"])
    for bolt in placed:
        x0, x1, y0, y1 = bolt.faces
        for timber in bolt.timbers:
            sx, sy, long = timber.sizes(left.wanted[timber.line])
            assert x0 <= timber.x_mm + 1e-6
            assert timber.x_mm + sx <= x1 + 1e-6
            assert y0 <= timber.y_mm + 1e-6
            assert timber.y_mm + sy <= y1 + 1e-6
            assert bolt.from_mm <= timber.from_mm + 1e-6
            assert timber.from_mm + long <= bolt.to_mm + 1e-6
    # Nothing went wrong at the saw, so nothing that was still to come need be lost.
    assert len(names) + len(placed_ids(left, placed)) >= sum(len(b.timbers) for b in layout) - 1
    assert [len(c.freed) for c in replay(left, placed, again["cuts"])] == [
        len(c["releases"]) for c in again["cuts"]
    ]


def test_a_bolt_is_not_bucked_twice():
    data = request_data(length_mm=2700, sapwood_mm=0)
    data["wanted"][0]["quantity"] = 12
    data["wanted"][1]["quantity"] = 0
    request = parse_request(data)
    row = {"id": "floor", "x_mm": -75, "y_mm": 60, "wide_face": "x"}
    bolts = [
        {"from_mm": 0, "to_mm": 1300, "roll_deg": 0, "timbers": [{**row, "from_mm": 0}]},
        {"from_mm": 1308, "to_mm": 2700, "roll_deg": 40, "timbers": [{**row, "from_mm": 1308}]},
    ]
    layout = parse_layout(request, bolts)
    plan = kept_as(request, layout)
    assert plan["cuts"][0]["piece"] == "log"
    bucked = replay(request, layout, plan["cuts"][:1], {1: 5.0})[-1].after
    assert [p.sawn[2] for p in bucked] == [(0, 1305), (1313, 2700)]
    rest = rest_of_log(request, layout, bucked)
    assert sorted((b.from_mm, b.to_mm) for b in rest) == [(0, 1305), (1313, 2700)]
    assert all(p.bucked for p in bucked)


def test_changes_name_only_what_differs():
    assert changes(["a", "a", "b"], ["a", "b", "c"]) == [("a", 2, 1), ("c", 0, 1)]


def test_the_heart_is_told_from_the_middle_of_the_section_along_and_across_the_wide_face():
    request = parse_request(request_data())
    spans = ((25.0, 175.0), (8.0, 98.0), (0.0, 3700.0))
    butt, top = hearts_in_section(request, 0.0, spans, wide_x=True)
    assert butt == pytest.approx((25 - 100, -12 - 53))
    assert top == pytest.approx((-8 - 100, 14 - 53))
    on_edge, _ = hearts_in_section(request, 0.0, spans, wide_x=False)
    assert on_edge == pytest.approx((-12 - 53, -(25 - 100)))
