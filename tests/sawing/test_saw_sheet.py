"""The saw sheet: what it tells of each cut adds up to the timbers of the plan."""

from collections import Counter

import pytest

from timber_stock.sawing.plan import make_plan
from timber_stock.sawing.read_layout import parse_layout
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.saw_sheet import saw_sheet
from timber_stock.sawing.search import Allowance


def line(name, thickness, width, length, quantity, **more):
    return {"id": name, "thickness_mm": thickness, "width_mm": width, "length_mm": length,
            "quantity": quantity, "heart_clearance_mm": 8, "worth": 1, **more}  # fmt: skip


@pytest.fixture(scope="module", params=[(3700, 3), (2950, 11)])
def stages(request):
    long_mm, seed = request.param
    asked = parse_request({
        "log": {"length_mm": long_mm, "butt_diameter_mm": [540, 500], "sapwood_mm": 22,
                "top_diameter_mm": [450, 430], "butt_pith_mm": [25, -12],
                "top_pith_mm": [-8, 14], "knots": [], "rot": []},
        "saw": {"kerf_mm": 3.2, "crosscut_kerf_mm": 8},
        "wanted": [line("floor", 90, 150, 1300, 3, worth=3),
                   line("plank", 34, 130, 2800, 4, sapwood_allowed=True),
                   line("wedge", 60, 70, 700, 5, sapwood_allowed=True)],
    })  # fmt: skip
    plan = make_plan(asked, Allowance(steps=400), seed=seed)
    return saw_sheet(asked, parse_layout(asked, plan["bolts"]), plan["cuts"])


def counted(said):
    """{"floor": 1, "wedge": 3} of ("floor", "3 wedge")."""
    told = Counter()
    for words in said:
        number, _, name = words.rpartition(" ")
        told[name] += int(number or 1)
    return told


def test_a_cut_along_the_log_frees_a_timber_or_says_what_comes_off_above_it(stages):
    cuts = [cut for stage in stages for cut in stage.cuts]
    assert any(cut.off == () for cut in cuts)
    assert any(cut.off for cut in cuts)
    for cut in cuts:
        assert cut.crosscut or cut.frees or cut.skims or cut.off is not None
        assert cut.off is None or not (cut.crosscut or cut.frees)


def test_what_comes_off_above_a_cut_is_still_to_be_freed_by_later_ones(stages):
    cuts = [cut for stage in stages for cut in stage.cuts]
    for n, cut in enumerate(cuts):
        later = Counter(name for each in cuts[n + 1 :] for name in each.frees)
        assert counted(cut.off or ()) <= later


def test_a_piece_taken_up_is_named_at_the_start_of_a_stage_too_where_there_are_others(stages):
    bolts = Counter()
    for stage in stages:
        bolts[stage.bolt] += sum(len(cut.frees) for cut in stage.cuts)
    begun = [stage for stage in stages if stage.axis is not None and not stage.first]
    parted = [s for s in begun if len(s.cuts[0].cutting.before.timbers) < bolts[s.bolt]]
    assert parted
    for stage in parted:
        cut = stage.cuts[0]
        assert counted(cut.holds).total() == len(cut.cutting.before.timbers)
