"""The pages of a log's plan: asking, looking, laying out by hand, sawing, and planning again."""

import html
import re
from datetime import date

import pytest
from django.urls import reverse

from timber_stock.actions import Piece, saw_log, tick_cut
from timber_stock.actions.plan_search import carry
from timber_stock.measure import parse_length_mm
from timber_stock.models import Board, CuttingItem, CuttingList, Log, PlanSearch, SawingPlan
from timber_stock.templatetags.measures import lengths_in
from timber_stock.templatetags.sawing import rolled

pytestmark = pytest.mark.django_db


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    return client


@pytest.fixture
def log(woods):
    return Log.objects.create(
        tag="L44", species=next(iter(woods.values())), length_mm=2600, butt_diameter_mm=450,
        top_diameter_mm=390, butt_heart_offset_mm=21, butt_heart_clock=4, sapwood_mm=20,
        butt_trim_mm=50,
    )  # fmt: skip


@pytest.fixture
def wanted(db):
    made = CuttingList.objects.create(name="Frames")
    for label, whom, thick, wide, long, count in (
        ("A", "the smack, frame 3", 70, 128, 1100, 3),
        ("B", "", 32, 104, 2300, 4),
    ):
        CuttingItem.objects.create(
            cutting_list=made, label=label, for_whom=whom, thickness_mm=thick, width_mm=wide,
            length_mm=long, quantity=count, heart_clearance_mm=6, sapwood_allowed=True,
        )  # fmt: skip
    return made


def asked(wanted, **changes):
    return {
        "cutting_list": wanted.pk, "kerf_mm": "3.2 mm", "crosscut_kerf_mm": "9 mm",
        "margin_mm": "2 mm", "margin_deg": "1", "turn_cost_litres": "1", "most_turns": "",
        "seconds": "5", **changes,
    }  # fmt: skip


def to(name, *args):
    return reverse(f"timber_stock:{name}", args=args)


@pytest.fixture
def plan(yard, log, wanted):
    yard.post(to("plan_new", log.pk), asked(wanted))
    search = PlanSearch.objects.get()
    PlanSearch.objects.update(seconds=0.5)
    carry(search.pk)
    return SawingPlan.objects.get()


def layout_fields(plan, **changes):
    fields, keys = {}, []
    for number, bolt in enumerate(plan.plan["bolts"]):
        fields[f"roll-{number}"] = bolt["roll_deg"]
        for timber in bolt["timbers"]:
            key = len(keys)
            keys.append(str(key))
            fields |= {f"{name}-{key}": timber[name] for name in ("id", "x_mm", "y_mm", "from_mm")}
            fields |= {f"bolt-{key}": number, f"wide_face-{key}": timber["wide_face"]}
            if timber["flipped"]:
                fields[f"flipped-{key}"] = "on"
    return {"rows": ",".join(keys), "station": "10", **fields, **changes}


def test_a_search_is_begun_with_what_was_asked_and_shows_how_far_it_is(yard, log, wanted):
    answer = yard.post(to("plan_new", log.pk), asked(wanted))
    search = PlanSearch.objects.get()
    assert answer.headers["Location"] == to("plan_search", search.pk)
    assert search.request["saw"] == {"kerf_mm": 3.2, "crosscut_kerf_mm": 9.0}
    assert search.request["settings"]["turn_cost_mm3"] == 1e6
    assert [line["for"] for line in search.request["wanted"]] == ["the smack, frame 3", ""]
    page = yard.get(to("plan_search", search.pk)).content.decode()
    assert 'hx-trigger="every 1s"' in page
    assert '<noscript><meta http-equiv="refresh"' in page
    yard.post(to("plan_stop", search.pk))
    search.refresh_from_db()
    assert search.stop_asked
    assert "Stopping" in yard.get(to("plan_search", search.pk)).content.decode()


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"kerf_mm": "0"}, "Every saw takes some wood"),
        ({"kerf_mm": "a hair"}, "not a length"),
        ({"margin_deg": "nan"}, "Write a number"),
        ({"margin_deg": "60"}, "Give 45 or less."),
        ({"cutting_list": ""}, "Fill this in"),
        ({"turn_cost_litres": "-3"}, "Give 0 or more."),
        ({"seconds": "9999"}, "Choose one of those listed"),
    ],
)
def test_bad_figures_are_refused_with_what_was_typed_kept(yard, log, wanted, change, said):
    answer = yard.post(to("plan_new", log.pk), asked(wanted, **change))
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert not PlanSearch.objects.exists()


def test_a_finished_search_leads_to_its_plan_with_and_without_script(yard, plan):
    search = PlanSearch.objects.get()
    assert yard.get(to("plan_search", search.pk)).headers["Location"] == plan.get_absolute_url()
    piece = yard.get(to("plan_search", search.pk), headers={"HX-Request": "true"})
    assert piece.status_code == 204
    assert piece.headers["HX-Redirect"] == plan.get_absolute_url()


def test_the_plan_shows_its_timbers_both_ring_opinions_and_the_usual_ways(yard, plan):
    page = yard.get(plan.get_absolute_url()).content.decode()
    assert "the smack, frame 3" in page
    assert "rings as the bark" in page
    assert "Through and through" in page
    assert "Quartered" in page
    assert page.count("<svg") >= 4
    assert yard.get(to("plans", plan.log_id)).status_code == 200


def test_only_the_trade_looks_and_only_the_yard_changes(client, people, plan):
    client.force_login(people["client"])
    assert client.get(plan.get_absolute_url()).status_code == 403
    client.force_login(people["surveyor"])
    assert client.get(to("saw_sheet", plan.pk)).status_code == 200
    assert "is made</button>" not in client.get(to("saw_sheet", plan.pk)).content.decode()
    assert client.post(to("cut_done", plan.pk, 1)).status_code == 403
    assert client.post(to("plan_keep", plan.pk), layout_fields(plan)).status_code == 403


def test_a_layout_is_judged_as_it_is_moved(yard, plan):
    fair = yard.post(to("plan_judge", plan.pk), layout_fields(plan)).content.decode()
    assert "It can be sawn so." in fair
    out = yard.post(to("plan_judge", plan.pk), layout_fields(plan, **{"x_mm-0": "900"}))
    assert "It cannot be sawn so yet." in out.content.decode()
    assert "runs out of the wood" in out.content.decode()


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"x_mm-0": "nan"}, "not a number"),
        ({"x_mm-0": ""}, "not a number"),
        ({"roll-0": "round"}, "not a number"),
        ({"id-0": "mast"}, "not on the cutting list"),
        ({"bolt-0": "77"}, "does not have"),
        ({"rows": "0,0x,1"}, "cannot be read"),
        ({"bolt-0": "-1"}, "cannot be read"),
        ({"add": "mast"}, "not on the cutting list"),
        ({"station": "amidships"}, "not a length"),
    ],
)
def test_a_layout_that_cannot_be_read_is_refused_in_a_sentence(yard, plan, change, said):
    answer = yard.post(to("plan_judge", plan.pk), layout_fields(plan, **change))
    assert answer.status_code == 422
    assert said in answer.content.decode()
    page = yard.post(to("plan_by_hand", plan.pk), layout_fields(plan, **change))
    assert page.status_code == 422
    assert said in page.content.decode()


@pytest.mark.parametrize("page", ["plan_by_hand", "plan_keep"])
@pytest.mark.parametrize("wrong", [{"x_mm-0": ""}, {"roll-0": "round"}, {"station": "amidships"}])
def test_a_figure_that_cannot_be_read_takes_no_other_with_it(yard, plan, page, wrong):
    said = layout_fields(plan, **{"y_mm-0": "12.345", "why": "Off the knot."}) | wrong
    shown = yard.post(to(page, plan.pk), said).content.decode()
    assert 'name="y_mm-0" value="12.345"' in shown
    assert 'value="Off the knot."' in shown


def test_a_lawful_layout_is_kept_as_a_new_version_and_the_old_one_stays(yard, plan):
    before = plan.plan
    yard.post(
        to("plan_keep", plan.pk), layout_fields(plan, **{"out-0": "on", "why": "Too\0 many."})
    )
    kept = SawingPlan.objects.get(number=2)
    assert kept.supersedes == plan
    assert kept.why == "Too many."
    assert sum(len(b["timbers"]) for b in kept.plan["bolts"]) == (
        sum(len(b["timbers"]) for b in before["bolts"]) - 1
    )
    plan.refresh_from_db()
    assert plan.plan == before
    again = yard.post(to("plan_keep", plan.pk), layout_fields(plan))
    assert again.status_code == 422
    assert "work from that." in again.content.decode()


def test_an_unlawful_layout_is_not_kept(yard, plan):
    answer = yard.post(to("plan_keep", plan.pk), layout_fields(plan, **{"y_mm-0": "-800"}))
    assert answer.status_code == 422
    assert "cannot be kept yet" in answer.content.decode()
    assert SawingPlan.objects.count() == 1


def test_what_is_pinned_stays_and_what_is_left_out_does_not_come_when_the_rest_is_filled_in(
    yard, plan
):
    pinned = plan.plan["bolts"][0]["timbers"][0]
    other = "B" if pinned["id"] == "A" else "A"
    fields = layout_fields(plan, **{"pinned-0": "on", "left_out": other, "fill": "yes"})
    yard.post(to("plan_keep", plan.pk), fields)
    search = PlanSearch.objects.order_by("-pk")[0]
    PlanSearch.objects.filter(pk=search.pk).update(seconds=0.6)
    carry(search.pk)
    filled = SawingPlan.objects.get(number=2)
    timbers = [t for bolt in filled.plan["bolts"] for t in bolt["timbers"]]
    assert {t["id"] for t in timbers} == {pinned["id"]}
    (held,) = [t for t in timbers if t["pinned"]]
    assert (held["x_mm"], held["y_mm"]) == (pinned["x_mm"], pinned["y_mm"])
    # The line left out is asked for again as soon as it is no longer left out.
    sheet = yard.post(to("plan_keep", filled.pk), layout_fields(filled, fill="yes"))
    assert sheet.status_code == 302
    line = next(
        w for w in PlanSearch.objects.order_by("-pk")[0].request["wanted"] if w["id"] == other
    )
    assert line["quantity"] == CuttingItem.objects.get(label=other).quantity


def test_a_cut_is_ticked_on_the_sheet_with_how_it_came(yard, plan):
    sheet = yard.get(to("saw_sheet", plan.pk)).content.decode()
    assert "Cut 1 is made" in sheet
    yard.post(to("cut_done", plan.pk, 1), {"came_mm": "20 mm"})
    assert not plan.cuts_made.exists()  # so far off it is another cut
    height = plan.cuts()[0]["from_bed_mm"] + 2
    yard.post(to("cut_done", plan.pk, 1), {"came_mm": f"{height:.3f} mm"})
    assert plan.cuts_made.get().over_mm == pytest.approx(2, abs=0.01)
    sheet = yard.get(to("saw_sheet", plan.pk)).content.decode()
    assert "Cut 2 is made" in sheet
    assert "high." in sheet
    yard.post(to("cut_done", plan.pk, 1), {"undo": "yes"})
    assert not plan.cuts_made.exists()


def test_a_measure_that_cannot_be_read_ticks_nothing(yard, plan):
    answer = yard.post(to("cut_done", plan.pk, 1), {"came_mm": "a bit more"})
    assert answer.status_code == 422
    assert "not a length" in answer.content.decode()
    assert not plan.cuts_made.exists()
    assert yard.post(to("cut_done", plan.pk, 999)).status_code == 302


def test_every_cut_ticked_with_one_tap_fills_the_stock(yard, plan):
    for cut in plan.cuts():
        yard.post(to("cut_done", plan.pk, cut["step"]))
    plan.refresh_from_db()
    assert plan.state == "sawn"
    assert Board.objects.count() == sum(len(b["timbers"]) for b in plan.plan["bolts"])
    assert "what they freed is in stock" in yard.get(to("saw_sheet", plan.pk)).content.decode()


@pytest.mark.parametrize(
    ("met", "said"),
    [
        ({"what": "heart", "by_mm": "20 mm"}, "Give this too"),
        ({"what": "heart", "by_mm": "900 mm", "clock": "3"}, "lies outside the log"),
        ({"what": "knot", "clock": "3", "from_mm": "9 m", "across_mm": "40 mm"}, "beyond the log"),
        (
            {"what": "rot", "from_mm": "1 m", "to_mm": "0.5 m", "across_mm": "40 mm"},
            "than it begins",
        ),
        ({"what": "knot", "clock": "25", "from_mm": "1 m", "across_mm": "40 mm"}, "25"),
        ({}, "Fill this in"),
    ],
)
def test_what_cannot_have_been_met_is_refused_in_a_sentence(yard, plan, met, said):
    answer = yard.post(
        to("opened", plan.pk), {"clock_by": "marks", "end": "both", "seconds": "3", **met}
    )
    assert answer.status_code == 422
    assert said in answer.content.decode()
    assert PlanSearch.objects.count() == 1


def test_the_heart_is_moved_as_the_piece_lies_on_the_saw_or_by_the_marks(yard, plan):
    tick_cut(plan=plan, step=1, made_by="Edda")
    fields = {"what": "heart", "by_mm": "20 mm", "clock": "3", "end": "both", "seconds": "3"}
    yard.post(to("opened", plan.pk), {**fields, "clock_by": "marks"})
    by_marks = PlanSearch.objects.order_by("-pk")[0]
    old = plan.request["log"]["butt_pith_mm"]
    assert by_marks.request["log"]["butt_pith_mm"] == pytest.approx([old[0] + 20, old[1]])
    PlanSearch.objects.filter(pk=by_marks.pk).update(seconds=0.5)
    carry(by_marks.pk)
    again = SawingPlan.objects.get(number=2)
    assert "The heart lies" in again.why
    page = yard.get(again.get_absolute_url()).content.decode()
    assert "What changes from plan 1" in page


def test_a_plan_being_sawn_is_not_laid_out_by_hand(yard, plan):
    tick_cut(plan=plan, step=1, made_by="Edda")
    answer = yard.post(to("plan_keep", plan.pk), layout_fields(plan))
    assert answer.status_code == 422
    assert "being sawn" in answer.content.decode()


def test_planning_again_from_the_cuts_as_they_came(yard, plan):
    tick_cut(plan=plan, step=1, made_by="Edda", over_mm=5)
    answer = yard.post(to("replan", plan.pk))
    search = PlanSearch.objects.order_by("-pk")[0]
    assert answer.headers["Location"] == to("plan_search", search.pk)
    (bolts,) = [search.start["bolts"]]
    faces = [face for bolt in bolts for face in bolt["faces"] if face is not None]
    assert any(abs(face - plan.cuts()[0]["at_mm"] - 5) < 0.01 for face in faces)


def test_no_page_of_a_plan_asks_more_of_the_database_as_cuts_are_made(
    yard, plan, django_assert_max_num_queries
):
    for cut in plan.cuts()[:6]:
        yard.post(to("cut_done", plan.pk, cut["step"]))
    with django_assert_max_num_queries(14):
        yard.get(to("saw_sheet", plan.pk))
    with django_assert_max_num_queries(14):
        yard.get(plan.get_absolute_url())


def test_a_piece_sawn_already_may_be_offered_to_the_saw_again(yard, plan):
    boards = []
    for cut in plan.cuts():
        boards += tick_cut(plan=plan, step=cut["step"], made_by="Edda")
        if boards:
            break
    page = yard.get(to("opened", plan.pk)).content.decode()
    assert boards[0].tag in page
    fields = {"what": "sizes", "clock_by": "marks", "end": "both", "seconds": "3"}
    yard.post(to("opened", plan.pk), {**fields, "again": [boards[0].pk]})
    search = PlanSearch.objects.order_by("-pk")[0]
    assert [bolt["board"] for bolt in search.start["bolts"] if bolt.get("board")] == [boards[0].pk]
    Board.objects.filter(pk=boards[0].pk).update(held_for="the smack")
    refused = yard.post(to("opened", plan.pk), {**fields, "again": [boards[0].pk]})
    assert refused.status_code == 422


def test_what_is_left_round_the_list_is_filled_with_boards_for_stock(yard, log, wanted):
    yard.post(to("plan_new", log.pk), asked(wanted, stock=["1 in", "1 1/2 in"]))
    search = PlanSearch.objects.get()
    PlanSearch.objects.update(seconds=0.8)
    carry(search.pk)
    search.refresh_from_db()
    assert search.plan, search.ended_why
    plan = search.plan
    extra = {row["id"]: row for row in plan.request["wanted"] if row.get("by_product")}
    placed = [t["id"] for bolt in plan.plan["bolts"] for t in bolt["timbers"]]
    assert extra
    assert {name: placed.count(name) for name in extra} == {
        name: row["quantity"] for name, row in extra.items()
    }
    assert plan.plan["wanted_worth_mm3"] < plan.plan["worth_mm3"]
    fair = yard.post(to("plan_judge", plan.pk), layout_fields(plan)).content.decode()
    assert "It can be sawn so." in fair
    assert "(from what is left)" in yard.get(plan.get_absolute_url()).content.decode()
    assert yard.get(to("saw_sheet", plan.pk)).status_code == 200


def test_a_log_sawn_into_by_no_plan_is_not_planned_as_whole_without_a_word(yard, log):
    said = "has been sawn into already"
    assert said not in yard.get(to("plan_new", log.pk)).content.decode()
    saw_log(
        log=log, pieces=[Piece("L44-1", 76, 300, 2500)], sawn_on=date(2026, 2, 3),
        sawn_by="Bram Oddy", kerf_mm=6, finishes_log=False,
    )  # fmt: skip
    assert said in yard.get(to("plan_new", log.pk)).content.decode()


def test_lengths_within_a_reason_are_told_in_the_readers_own_units():
    why = "It is 3048 mm long and the log 2743.2 mm: 304.8 mm too long; at 1.83 m long, 6 m³."
    assert lengths_in(why) == (
        "It is 10 ft long and the log 9 ft: 12 in too long; at 6 ft 0 3/64 in long, 6 m³."
    )
    assert lengths_in("It would fit if 138 mm narrower.", "metric") == (
        "It would fit if 138 mm narrower."
    )


def test_a_reader_of_inches_is_told_in_inches_which_station_is_looked_at(yard, plan):
    fields = layout_fields(plan, station="3 ft 4 1/2")
    piece = yard.post(to("plan_judge", plan.pk), fields).content.decode()
    assert "3 ft 4 1/2 in from the trimmed butt" in piece
    assert f'data-station="{40.5 * 25.4:.0f}"' in piece
    assert "The section 3 ft 4 1/2 in from the butt" in piece
    bare = yard.post(to("plan_judge", plan.pk), layout_fields(plan, station="1016"))
    assert "3 ft 4 in from the trimmed butt" in bare.content.decode()  # as the slide sends it


def test_the_first_station_shown_lies_in_the_bolt_it_is_of_when_it_is_sent_back(yard, plan):
    """What is shown to a sixteenth may lie a little before what it stands for."""
    longest = max(plan.plan["bolts"], key=lambda bolt: len(bolt["timbers"]))
    number = plan.plan["bolts"].index(longest)
    longest["from_mm"] = 1100.0 - 0.4  # nearest sixteenth: 0.9 mm before it
    plan.save()
    page = yard.get(to("plan_by_hand", plan.pk)).content.decode()
    shown = re.search(r'name="station"[^>]*value="([^"]+)"', page)[1]
    assert f'id="hand-drawing" data-bolt="{number}"' in page
    assert parse_length_mm(html.unescape(shown)) > longest["from_mm"]


def test_the_roll_of_a_log_is_told_as_near_as_an_eye_stands_it_with_its_angle_beside():
    assert rolled(2.6) == "about 2:30 (78° clockwise from 12)"
    assert rolled(2.5) == "2:30 (75° clockwise from 12)"
    assert rolled(5.99) == "6 o'clock (180° clockwise from 12)"
    assert rolled(0.04) == "about 12 o'clock (1° clockwise from 12)"
    assert rolled(11.93) == "about 12 o'clock (358° clockwise from 12)"
    assert rolled(12.0) == rolled(11.99) == "12 o'clock"


def test_the_saw_sheet_names_no_minute_that_no_eye_can_set(yard, plan):
    for bolt in plan.plan["bolts"]:
        bolt["roll_deg"] = 73.4
    plan.save()
    for name in ("saw_sheet", "plan"):
        page = yard.get(to(name, plan.pk)).content.decode()
        assert "about 2:30 (73° clockwise from 12)" in page
        assert "2:27" not in page
