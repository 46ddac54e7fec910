"""The section bench: all of it in the address, refused in sentences, begun from a log."""

import re
import xml.etree.ElementTree as ET

import pytest

from timber_stock.forms.bench import BenchForm
from timber_stock.forms.bench_begin import begin_bench

pytestmark = pytest.mark.django_db
BENCH = "/timber/bench/"
HTMX = {"HX-Request": "true"}


@pytest.fixture
def ask(signed_in, woods):
    """`ask(up="9")`: the bench as it begins, with what is typed over it."""
    client = signed_in()

    def asking(headers=None, **typed):
        state = {**begin_bench("imperial", "hardwood_trade"), **typed}
        return client.get(BENCH, state, headers=headers or {})

    return asking


def text(response):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", response.content.decode()))


def test_it_shows_something_to_take_hold_of_before_anything_is_typed(signed_in, woods):
    page = signed_in().get(BENCH)
    assert page.status_code == 200
    assert "clear of the heart" in text(page)
    assert 'name="across" value="2 1/2 in"' in page.content.decode()


def test_a_person_who_reads_millimetres_begins_in_millimetres(signed_in, people, woods):
    people["yard"].units = "metric"
    people["yard"].save()
    assert 'value="500 mm"' in signed_in().get(BENCH).content.decode()


def test_htmx_gets_the_drawings_and_figures_alone_and_caches_know(ask):
    piece = ask(headers=HTMX)
    assert "<html" not in piece.content.decode()
    assert "HX-Request" in piece["Vary"]
    assert "Out of square" in text(piece)


def test_below_the_heart_square_to_it_the_board_is_flat_sawn(ask):
    said = text(ask(across="0", up="-5", width="4", thickness="2", butt="24"))
    assert "Flat-sawn , rings at 11.3° to the wide face" in said
    assert "4 in clear of the heart" in said


def test_beside_the_heart_the_same_board_is_quarter_sawn(ask):
    assert "Quarter-sawn" in text(ask(across="-6", up="0", width="4", thickness="2"))


def test_turning_it_a_quarter_turn_where_it_lies_makes_quarter_of_flat(ask):
    there = {"across": "0", "up": "5", "width": "4", "thickness": "2", "butt": "24"}
    assert "Flat-sawn" in text(ask(**there))
    assert "Quarter-sawn" in text(ask(**there, turn="90"))


def test_round_the_heart_a_check_must_open_and_its_width_is_told(ask):
    said = text(ask(across="0", up="0", width="6", thickness="6"))
    assert "Boxed heart" in said
    assert re.search(r"with a check open 7/16 in \(11 mm\)", said)


def test_a_heart_that_lies_elsewhere_at_the_top_twists_the_timber(ask):
    heart = {"butt_heart": "1", "butt_clock": "4", "top_heart": "3 1/2", "top_clock": "3"}
    page = ask(**heart)
    assert abs(page.context["answer"].sheet.twist.wide_face_deg) > 0.1
    assert re.search(r"Twist from end to end −?0\.\d°", text(page))
    assert len(page.context["drawn"]) == 2


def test_the_heart_at_the_top_is_read_as_one_faces_the_top(ask):
    """4 o'clock facing the top is 8 o'clock seen from the butt: there they lie alike."""
    alike = {"butt_heart": "1", "butt_clock": "4", "top_heart": "1", "top_clock": "8"}
    assert "the heart lies alike at both ends" in text(ask(**alike))


def test_whose_limits_class_the_rings_is_chosen_and_named(ask):
    lying = {"across": "5", "up": "3", "width": "4", "thickness": "2"}
    trade, service = ask(**lying), ask(**lying, limits="forest_service")
    assert "Rift" in text(trade)
    assert "NHLA chief inspector" in text(trade)
    assert "Quarter-sawn" in text(service)
    assert "Forest Service publications" in text(service)


def test_the_place_in_the_boat_gives_the_moisture_and_a_moisture_goes_before_it(ask):
    assert "At 30.0 % it has not moved" in text(ask(place="below_waterline"))
    assert "At 8.0 %" in text(ask(place="below_waterline", moisture="8"))


def test_the_exaggeration_is_stated_beside_the_drawing(ask):
    assert "movement drawn 7 times" in text(ask(exaggeration="7"))
    assert "drawn true" in text(ask(exaggeration="1"))


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"up": "9"}, "a corner of it lies 1 7/8 in outside a butt 20 in across"),
        ({"butt_heart": "11", "butt_clock": "3"}, "given 11 in from the centre, outside an end"),
        ({"butt_heart": "1"}, "Say towards which o'clock the heart is off at the butt"),
        ({"sapwood": "10"}, "leaves no heartwood"),
        ({"moisture": "-2"}, "wood cannot hold less than no water"),
        ({"moisture": "200"}, "is full of water at"),
        ({"place": ""}, "Choose a place in the boat, or give the moisture"),
        ({"width": "0"}, "must be more than nothing"),
        ({"width": "about six"}, "not a length that can be read"),
        ({"across": "-"}, "Middle, right of the log's centre"),
        ({"exaggeration": "400"}, "between 1 and 20"),
        ({"butt": "0"}, "must be more than nothing"),
        ({"wood": "999999"}, "Wood"),
        ({"turn": "a bit"}, "Turned, degrees"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence_and_kept_as_typed(ask, typed, says):
    page = ask(**typed)
    assert page.status_code == 422
    assert says in text(page).replace("&#x27;", "'")
    assert "Not reckoned" in text(page)
    for name, value in typed.items():
        if name not in ("place", "wood"):
            assert f'name="{name}" value="{value}"' in page.content.decode()


def test_a_section_outside_the_log_is_still_drawn_so_that_it_can_be_dragged_back(ask):
    page = ask(up="9", headers=HTMX).content.decode()
    assert 'data-up="228.6000"' in page
    assert "stroke-dasharray" in re.search(r"<rect[^>]*data-drag[^>]*>", page)[0]


def test_an_oval_end_holds_what_a_round_one_would_not(ask):
    lying = {"across": "10 1/2", "up": "0", "width": "2", "thickness": "2"}
    assert ask(**lying).status_code == 422
    assert ask(**lying, butt="26", butt_other="20").status_code == 200


def test_what_fits_the_butt_and_not_the_top_is_pointed_out(ask):
    assert "At the top it runs out of the log" in text(ask(top="9"))
    assert "At the top it runs out" not in text(ask())


def test_sapwood_in_the_section_is_told(ask):
    assert "Clear of sapwood" in text(ask())
    assert "Some of it is sapwood" in text(ask(sapwood="4"))


def test_a_log_gives_its_diameters_heart_and_sapwood(signed_in, log):
    page = signed_in().get(BENCH, {"log": log.pk})
    form = page.context["form"]
    butt = form.ends.butt
    assert (butt.diameter_x_mm, butt.sapwood_mm) == pytest.approx((530, 25), abs=1)
    assert butt.pith_mm == pytest.approx(log.butt_heart_mm(), abs=1)
    assert form.ends.top.pith_mm == pytest.approx(log.top_heart_mm(), abs=1)
    assert "Begun from log L07" in text(page)


def test_an_oval_log_gives_both_its_diameters(signed_in, log):
    log.butt_diameter_2_mm = 480
    log.save()
    ends = signed_in().get(BENCH, {"log": log.pk}).context["form"].ends
    assert ends.butt.diameter_y_mm == pytest.approx(480, abs=1)


def test_a_log_that_is_not_there_is_not_found(signed_in, woods):
    assert signed_in().get(BENCH, {"log": 999_999}).status_code == 404
    assert signed_in().get(BENCH, {"log": "L07"}).status_code == 422


def test_a_wood_of_the_yards_own_without_shrinkage_asks_for_the_figure(ask, woods):
    from timber_stock.models import Species

    own = Species.objects.create(
        code="own-plum", botanical_name="Prunus domestica", common_name="plum", group="hardwood"
    )
    said = text(ask(wood=own.pk))
    assert "No radial shrinkage, green to ovendry is known for plum" in said


def test_the_yards_own_figure_is_reckoned_with_and_named(ask, woods):
    from timber_stock.models import WoodFigure

    oak = woods["oak_european"]
    before = text(ask())
    WoodFigure.objects.create(
        species=oak, kind="tangential_percent", value="12", source="Three slices of a log of ours",
        entered_by="A. Wright",
    )  # fmt: skip
    after = text(ask())
    assert "Three slices of a log of ours" in after
    assert before != after


def test_the_address_holds_the_whole_state(ask):
    """What is shared shows the same to whoever opens it."""
    state = {"across": "−3 1/4 in", "up": "1-3+", "turn": "12.5", "log": ""}
    form = ask(up="4").context["form"]
    assert set(BenchForm.base_fields) == {*form.fields}
    assert ask(**state).context["form"]["across"].value() == "−3 1/4 in"
    assert ask(**{**state, "up": "4"}).context["form"].laid.middle_mm[0] == pytest.approx(-82.55)


def test_every_drawing_is_well_formed_and_says_what_it_shows(ask):
    page = ask(headers=HTMX, across="0", up="0").content.decode()
    drawings = re.findall(r"<svg.*?</svg>", page, re.DOTALL)
    assert len(drawings) >= 2
    for drawn in drawings:
        assert ET.fromstring(drawn).find("{http://www.w3.org/2000/svg}title").text


def test_the_surveyor_may_use_it_and_the_client_may_not(signed_in, woods):
    assert signed_in("surveyor").get(BENCH).status_code == 200
    assert signed_in("client").get(BENCH).status_code == 403
