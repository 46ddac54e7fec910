"""What to ask of the saw for a replacement, and what its section and its bolts will do."""

import re

import pytest

from restoration.models import ReplacementSpec, Yard
from timber_stock.templatetags.measures import about
from timber_stock.web.fields import format_for

pytestmark = pytest.mark.django_db


def text(response):
    plain = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", response.content.decode()))
    return plain.replace("&#x27;", "'")


@pytest.fixture
def spec(make_spec, survey):
    """White oak 2 1/2 x 5, quarter to its moulded face, green, for the deck."""
    made = make_spec(survey, "F12", sided_mm=63.5, moulded_mm=127, length_mm=1066.8)
    made.place_in_boat, made.rings, made.rings_face = "deck", "quarter", "moulded"
    made.save()
    return made


@pytest.fixture
def look(client, people, spec):
    client.force_login(people["yard"])

    def looking(**asked):
        return client.get(f"/specs/{spec.pk}/saw/", asked)

    return looking


def sides(page):
    sided, moulded = page.context["sums"].sides
    return sided, moulded


def test_the_size_to_ask_for_stands_in_one_sentence_on_both_pages(look, client, spec):
    sided, moulded = sides(look())
    said = f"Ask for {format_for(sided.ask_mm, 'imperial')} × "
    said += f"{format_for(moulded.ask_mm, 'imperial')} green"
    assert said in text(look())
    assert said in text(client.get(spec.get_absolute_url()))


def test_it_is_made_up_of_finished_planing_shrinkage_and_sawing(look):
    """White oak to 15 %: tangential 10.5 (30 - 15)/30 = 5.25 % along the rings (the sided size)."""
    sided, moulded = sides(look())
    assert sided.shrinkage_percent == pytest.approx(5.25)
    assert sided.size.shrinkage_mm == pytest.approx((63.5 + 6.35) * 5.25 / 94.75)
    assert moulded.at_deg == 60
    assert sided.size.sawing_mm == pytest.approx(1.645 * 1.5875, abs=0.01)


def test_it_is_worked_to_a_mark_of_the_rule_that_never_finishes_small(look):
    page = look()
    for side, to in zip(sides(page), page.context["sums"].work_to_mm, strict=True):
        assert side.work_to_mm <= to < side.work_to_mm + 25.4 / 32
        assert to / 25.4 * 32 == pytest.approx(round(to / 25.4 * 32))
        assert to > side.size.finished_mm
    across, upright = (format_for(to, "imperial") for to in page.context["sums"].work_to_mm)
    assert f"work it to {across} × {upright} and it comes to size" in text(page)
    drawn = page.content.decode()
    assert f">{across} green<" in drawn
    assert f">{upright}<" in drawn


def test_an_imperial_reader_is_told_inches_before_millimetres(look):
    said = text(look()).split("How it is reckoned")[0]
    bare = re.findall(r"(?<![(\d.−])−?\d[\d.]* mm", said)
    assert bare == []
    assert re.search(r"\d in \([\d.]+ mm\)", said)


def test_the_yards_allowances_are_taken_and_others_are_tried_for_one_look(look):
    Yard.objects.update_or_create(
        pk=1, defaults={"planing_allowance_mm": 10, "sawing_variation_mm": 0}
    )
    assert sides(look())[0].size.planing_mm == 10
    tried = sides(look(planing="1/2", variation="0", undersize="1"))[0]
    assert tried.size.planing_mm == pytest.approx(12.7)
    assert Yard.current().planing_allowance_mm == 10


def test_the_authority_of_the_yard_decides_how_poor_a_quarter_piece_may_be(look):
    Yard.objects.update_or_create(pk=1, defaults={"ring_limits": "oak_catalogue"})
    page = look()
    assert sides(page)[1].at_deg == 75
    assert "oak catalogue" in text(page)
    assert sides(look(limits="forest_service"))[1].at_deg == 45


def test_a_person_who_reads_millimetres_is_told_whole_millimetres(look, people):
    people["yard"].units = "metric"
    people["yard"].save()
    sided, _ = sides(look())
    assert sided.ask_mm == round(sided.exact_mm + 0.5)
    assert f"Ask for {sided.ask_mm:.0f} mm ×" in text(look())


def test_without_a_place_in_the_boat_it_asks_for_one_and_takes_one_for_a_look(look, spec):
    ReplacementSpec.objects.update(place_in_boat="")
    assert "Say where in the boat it serves" in text(look())
    assert "Ask for" in text(look(place="topsides"))
    spec.refresh_from_db()
    assert spec.place_in_boat == ""


def test_what_is_always_wet_does_not_move_and_that_is_said(look):
    page = look(place="below_waterline")
    assert sides(page)[0].shrinkage_percent == 0
    assert "Nothing moves" in text(page)


def test_seasoned_wood_is_asked_for_green_and_worked_to_size_at_its_own_moisture(look, spec):
    ReplacementSpec.objects.update(seasoning="seasoned", moisture_percent=18)
    page = look()
    sided, _ = sides(page)
    assert sided.size.target_mm > 66
    assert 63.5 < sided.work_to_mm < 65
    assert "It goes in at 18.0 %" in text(page)
    assert "Along its bolts" not in text(page)
    assert page.context["sums"].in_place.from_percent == 18


def test_a_leaning_piece_that_is_planed_dry_is_asked_for_larger(look):
    ReplacementSpec.objects.update(rings="rift")
    _, green = sides(look())
    ReplacementSpec.objects.update(seasoning="seasoned", moisture_percent=18)
    page = look()
    _, dry = sides(page)
    assert dry.true_mm > green.true_mm == 0
    assert "To plane true" in text(page)


def test_any_ring_direction_shows_what_each_would_do_and_asks_for_the_worst(look):
    ReplacementSpec.objects.update(rings="any", rings_face="", clear_of_heart=False)
    page = look()
    names = [way.name for way, _ in page.context["sums"].ways]
    assert names == ["quarter", "rift", "flat", "boxed heart"]
    assert [side.shrinkage_percent for side in sides(page)] == pytest.approx([5.25, 5.25])


@pytest.mark.parametrize(("sided_mm", "moulded_mm"), [(63.5, 127), (127, 63.5)])
def test_what_it_planes_up_to_is_said_sided_by_moulded(look, sided_mm, moulded_mm):
    ReplacementSpec.objects.update(
        rings="any", rings_face="", clear_of_heart=False, sided_mm=sided_mm, moulded_mm=moulded_mm
    )
    page = look()
    for way, _ in page.context["sums"].ways:
        change = way.end.shape.change
        broad, thin = change.clean_width_mm, change.clean_thickness_mm
        sizes = (thin, broad) if sided_mm < moulded_mm else (broad, thin)
        assert f"<dd>{about(sizes[0])} × {about(sizes[1])}</dd>" in page.content.decode()


def test_what_its_bolts_lose_is_told_with_the_caution(look):
    page = look()
    along = {each.through: each for each in page.context["sums"].green.take_up}
    assert along["moulded"].expected_mm == pytest.approx(127 * 0.028, rel=0.03)
    assert "Slack bolts carry nothing" in text(page)
    assert "Were it fitted today, these are the days to come back to the nuts" in text(page)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"planing": "a shaving"}, "not a length that can be read"),
        ({"planing": "2 m"}, "planing allowance is 2000 mm"),
        ({"undersize": "70"}, "Give 50 or less."),
        ({"exaggeration": "0"}, "Give 1 or more."),
        ({"limits": "mine"}, "Choose one of those listed"),
        ({"place": "masthead"}, "Choose one of those listed"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence_and_kept(look, typed, says):
    page = look(**typed)
    assert page.status_code == 422
    assert says in text(page)
    name, value = next(iter(typed.items()))
    if name in ("planing", "undersize", "exaggeration"):
        assert f'name="{name}" value="{value}"' in page.content.decode()


def test_a_wood_without_shrinkage_figures_asks_for_the_yards_own(look):
    from timber_stock.models import Species

    plum = Species.objects.create(
        code="own-plum", botanical_name="Prunus domestica", common_name="plum", group="hardwood"
    )
    ReplacementSpec.objects.update(wood=plum)
    page = look()
    assert page.status_code == 200
    assert "is known for plum: enter the yard's own figure" in text(page)


def test_htmx_gets_the_piece(look, client, spec):
    piece = client.get(f"/specs/{spec.pk}/saw/", headers={"HX-Request": "true"})
    assert "<html" not in piece.content.decode()
    assert 'id="what-to-saw"' in piece.content.decode()


def test_it_leads_to_the_four_ways_of_cutting_it(look, client):
    address = look().context["compare"]
    assert client.get(address).status_code == 200


def test_the_place_in_the_boat_is_entered_with_the_specification(client, people, spec):
    client.force_login(people["yard"])
    form = client.get(f"/specs/{spec.pk}/edit/").context["form"]
    kept = {name: form[name].value() or "" for name in form.fields if name != "other_woods"}
    kept["place_in_boat"] = "bilge"
    assert client.post(f"/specs/{spec.pk}/edit/", kept).status_code == 302
    spec.refresh_from_db()
    assert spec.place_in_boat == "bilge"
    assert "Serves bilge" in text(client.get(spec.get_absolute_url()))


def test_the_yard_sets_its_allowances_and_its_authority(client, people):
    client.force_login(people["yard"])
    page = client.get("/yard/")
    assert 'value="1/4 in"' in page.content.decode()
    kept = {
        "name": "Slip", "currency": "EUR", "log_rule": "smalian", "planing_allowance_mm": "3/8",
        "sawing_variation_mm": "1/32", "ring_limits": "older_handbooks",
        "paper": "A4", "cost_by": Yard.current().cost_by,
    }  # fmt: skip
    assert client.post("/yard/", kept).status_code == 302
    yard = Yard.current()
    assert yard.planing_allowance_mm == pytest.approx(9.525)
    assert yard.ring_limits == "older_handbooks"
    refused = client.post("/yard/", {**kept, "planing_allowance_mm": "5 in"})
    assert refused.status_code == 422
    assert "between 0 and 100 mm" in text(refused)
    assert "5 in" in refused.content.decode()


def test_the_bench_and_the_boards_go_by_the_authority_of_the_yard(client, people, woods):
    Yard.objects.update_or_create(pk=1, defaults={"ring_limits": "oak_catalogue"})
    client.force_login(people["yard"])
    assert client.get("/timber/bench/").context["form"]["limits"].value() == "oak_catalogue"
