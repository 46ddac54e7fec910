"""Small sums: moisture from air, meter and sample; movement of a size and of planks; a lift."""

import pytest
from django.urls import reverse

from timber_stock.models import Board, WoodFigure


def ask(client, where, kind=None, htmx=False, **typed):
    sent = {f"{kind}-{name}": value for name, value in typed.items()} if kind else typed
    headers = {"HX-Request": "true"} if htmx else {}
    if kind:
        sent["ask"] = kind
    return client.get(reverse(f"timber_stock:{where}"), sent, headers=headers)


def text(response):
    import re

    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def test_the_air_gives_the_moisture_by_both_forms_in_either_scale(signed_in):
    client = signed_in("surveyor")
    # Wood Handbook Table 4-2: 70 °F and 65 % give 12.0 %.
    in_f = ask(client, "moisture_tools", "air", temperature="70", unit="F", humidity="65")
    said = text(in_f)
    assert "12.0 % is the moisture wood goes towards at 21.1 °C (70 °F) and 65 % humidity" in said
    in_c = ask(client, "moisture_tools", "air", temperature="70 F", unit="C", humidity="65")
    assert in_c.context["air_form"].answer == in_f.context["air_form"].answer
    assert "Wood that touches water" in said


@pytest.mark.parametrize(
    ("typed", "field", "says"),
    [
        ({"temperature": "20", "humidity": "101"}, "humidity", "between 0 % and 100 %"),
        ({"temperature": "20", "humidity": "-1"}, "humidity", "between 0 % and 100 %"),
        ({"temperature": "150", "humidity": "50"}, "temperature", "between -40 °C and 130 °C"),
        ({"temperature": "mild", "humidity": "50"}, "temperature", "is not a temperature"),
        ({"temperature": "", "humidity": "50"}, "temperature", "Fill this in"),
        ({"temperature": "20", "humidity": "inf"}, "humidity", "Write a number"),
    ],
)
def test_air_that_cannot_be_is_refused_beside_its_field_and_stays_as_typed(
    signed_in, typed, field, says
):
    for htmx in (False, True):
        response = ask(signed_in(), "moisture_tools", "air", htmx=htmx, **typed)
        assert response.status_code == 422
        assert says in str(response.context["air_form"].errors[field])
        html = response.content.decode()
        assert ("<html" in html) is not htmx
        for value in filter(None, typed.values()):
            assert f'value="{value}"' in html


def test_a_meters_reading_is_corrected_for_temperature_and_wood_with_the_salt_caution(
    signed_in, woods
):
    client = signed_in()
    response = ask(
        client, "moisture_tools", "meter", reading="23.5", wood_temperature="10",
        wood=woods["teak"].pk, salt_water="on",
    )  # fmt: skip
    said = text(response)
    assert "20.5 % as read 23.5 %" in said  # + 1 for the cold, - 4 for teak (24 is 20)
    assert "+1.0 points for temperature 10 °C" in said
    assert "−4.0 points for the wood" in said.replace("-4.0", "−4.0")
    assert "No published correction for sea salt is known" in said
    plain = ask(client, "moisture_tools", "meter", reading="15")
    assert "nothing was corrected" in text(plain)
    other = ask(
        client, "moisture_tools", "meter", reading="15", wood_temperature="40",
        rule="table_at_fifteen",
    )  # fmt: skip
    assert "12.0 % as read 15.0 %" in text(other)


@pytest.mark.parametrize(
    ("typed", "field", "says"),
    [
        ({"reading": "31"}, "reading", "outside the range of a pin meter, 6 to 30 %"),
        ({"reading": "5.5"}, "reading", "outside the range of a pin meter"),
        ({"reading": "14", "wood_temperature": "-8"}, "wood_temperature", "between 0 °C and 50"),
        ({"reading": "14", "rule": "guess"}, "rule", "Choose one of those listed"),
    ],
)
def test_a_reading_outside_the_meters_range_is_refused_in_a_sentence(signed_in, typed, field, says):
    response = ask(signed_in(), "moisture_tools", "meter", **typed)
    assert response.status_code == 422
    assert says in str(response.context["meter_form"].errors[field])


def test_a_sample_weighed_wet_and_dry_gives_its_moisture_up_to_what_the_wood_holds(
    signed_in, woods
):
    client = signed_in()
    found = ask(client, "moisture_tools", "sample", wet_mass="171.5", dry_mass="140")
    assert "22.5 % of the dry weight" in text(found)
    assert "Decay: watch" in text(found)
    less = ask(client, "moisture_tools", "sample", wet_mass="130", dry_mass="140")
    assert "less than the ovendry mass" in str(less.context["sample_form"].errors["wet_mass"])
    none = ask(client, "moisture_tools", "sample", wet_mass="130", dry_mass="0")
    assert "more than nought" in str(none.context["sample_form"].errors["dry_mass"])
    full = ask(
        client, "moisture_tools", "sample", wet_mass="300", dry_mass="140",
        wood=woods["oak_white"].pk,
    )  # fmt: skip
    assert full.status_code == 422
    assert "is full of water at 101.7 %" in text(full)


def size(client, wood, **changes):
    typed = {"wood": wood.pk, "size_mm": "200 mm", "direction": "tangential",
             "moisture_from": "30", "moisture_to": "15", **changes}  # fmt: skip
    return ask(client, "shrinkage_tools", "size", **typed)


def test_a_size_at_another_moisture_with_its_figures_formula_and_source(signed_in, woods):
    response = size(signed_in(), woods["oak_white"])
    found = response.context["size_form"].answer
    assert found.after_mm == pytest.approx(200 * (1 - 0.0525))  # half of 10.5 %
    said = text(response)
    assert "−13/32 in (−10.5 mm)" in said
    assert "Tangential shrinkage, green to ovendry: 10.5 % read" in said
    assert "FPL-GTR-282 Eq. 4-9" in said
    assert found.by_coefficient_mm is None  # made for 6 to 14 % only


def test_between_six_and_fourteen_percent_the_handbooks_coefficient_stands_beside_it(
    signed_in, woods
):
    found = size(
        signed_in(), woods["oak_white"], moisture_from="8", moisture_to="12", direction="radial"
    ).context["size_form"].answer  # fmt: skip
    assert found.by_coefficient_mm == pytest.approx(200 * 0.0018 * 4)
    assert found.change_mm == pytest.approx(found.by_coefficient_mm, rel=0.1)


def test_at_an_angle_to_the_rings_the_change_lies_between_the_two(signed_in, woods):
    client, oak = signed_in(), woods["oak_white"]

    def change(**asked):
        return size(client, oak, **asked).context["size_form"].answer.change_mm

    flat, quarter = change(), change(direction="radial")
    assert change(direction="angle", ring_angle="0") == pytest.approx(flat)
    assert change(direction="angle", ring_angle="90") == pytest.approx(quarter)
    assert flat < change(direction="angle", ring_angle="55") < quarter < 0


def test_the_yards_own_figure_is_what_the_sum_takes(signed_in, woods):
    oak = woods["oak_white"]
    WoodFigure.objects.create(
        species=oak, kind="tangential_percent", value="9", source="a b", entered_by="Ane"
    )
    response = size(signed_in(), oak)
    assert response.context["size_form"].answer.change_mm == pytest.approx(-9.0)
    assert "9 % the yard&#x27;s own" in text(response)


@pytest.mark.parametrize(
    ("code", "changes", "field", "says"),
    [
        ("oak_white", {"moisture_to": "-1"}, "moisture_to", "less than no water"),
        ("oak_white", {"moisture_from": "104"}, "moisture_from", "is full of water at 101.7"),
        ("oak_white", {"size_mm": "0"}, "size_mm", "more than nothing"),
        ("oak_white", {"size_mm": "wide"}, "size_mm", "is not a length"),
        ("oak_white", {"direction": "angle"}, "ring_angle", "Give the angle to the rings"),
        ("oak_white", {"direction": "angle", "ring_angle": "95"}, "ring_angle", "90 degrees"),
        ("afzelia", {}, "__all__", "No tangential shrinkage, green to ovendry is known for"),
    ],
)
def test_a_size_that_cannot_be_reckoned_is_refused_beside_its_field(
    signed_in, woods, code, changes, field, says
):
    response = size(signed_in(), woods[code], **changes)
    assert response.status_code == 422
    assert says in str(response.context["size_form"].errors[field])
    assert 'value="30"' in response.content.decode() or "moisture_from" in changes


def planks(client, wood, **changes):
    typed = {
        "wood": wood.pk, "width_mm": "150 mm", "planks": "9", "seam_mm": "2 mm",
        "direction": "tangential", "moisture_from": "12", "moisture_to": "18", **changes,
    }  # fmt: skip
    return ask(client, "shrinkage_tools", "planks", **typed)


def test_planks_that_swell_close_their_seams_and_then_press(signed_in, woods):
    response = planks(signed_in(), woods["oak_white"])
    moved = response.context["planks_form"].answer.movement
    grown = 150 * ((1 - 0.105 * 12 / 30) / (1 - 0.105 * 18 / 30) - 1)
    assert moved.plank_mm == pytest.approx(grown)
    assert moved.all_planks_mm == pytest.approx(9 * grown)
    assert moved.squeeze_mm == pytest.approx(grown - 2)
    assert "the seam closes" in text(response)
    dry = planks(signed_in(), woods["oak_white"], moisture_to="8")
    assert dry.context["planks_form"].answer.movement.seam_mm > 2
    for changes, field in (({"planks": "0"}, "planks"), ({"width_mm": "0"}, "width_mm")):
        refused = planks(signed_in(), woods["oak_white"], **changes)
        assert refused.status_code == 422
        assert refused.context["planks_form"].errors[field]


def test_one_sum_leaves_the_other_unasked_and_htmx_gets_its_part_alone(signed_in, woods):
    response = planks(signed_in(), woods["oak_white"])
    assert not response.context["size_form"].is_bound
    part = ask(
        signed_in(), "shrinkage_tools", "size", htmx=True, wood=woods["teak"].pk, size_mm="4",
        moisture_from="30", moisture_to="12",
    ).content.decode()  # fmt: skip
    assert 'id="size"' in part
    assert 'id="planks"' not in part
    chosen = ask(signed_in(), "shrinkage_tools", wood=woods["teak"].pk).content.decode()
    assert chosen.count(f'<option value="{woods["teak"].pk}" selected>') == 2


def lift(client, htmx=False, **typed):
    return ask(client, "lift_tools", htmx=htmx, **{"state": "green", **typed})


def test_a_lift_is_weighed_from_tags_and_sizes_with_allowance_gear_and_caution(
    signed_in, woods, log, flitch
):
    response = lift(
        signed_in(), tags="l07-1", gear_kg="35", allowance_percent="10",
        **{"row-0-wood": woods["ash_white"].pk, "row-0-shape": "squared", "row-0-first_mm": "50 mm",
           "row-0-second_mm": "200 mm", "row-0-length_mm": "3 m", "row-0-quantity": "4"},
    )  # fmt: skip
    sheet = response.context["sheet"]
    oak = 0.076 * 0.36 * 4.1 * 600 * 1.64  # basic 0.60, green heartwood 64 %
    ash = 4 * 0.05 * 0.2 * 3.0 * 550 * 1.46
    assert [piece.kg for piece in sheet.pieces] == pytest.approx([oak, ash])
    assert sheet.total_kg == pytest.approx((oak + ash) * 1.1 + 35)
    said = text(response)
    assert "A competent person plans the lift" in said
    assert "each carries the whole weight" in said


def test_a_log_is_lifted_with_its_sapwood_and_a_dry_lift_weighs_its_wood_and_twelve_percent(
    signed_in, woods, log
):
    client = signed_in()
    green = lift(client, tags="L07").context["sheet"].pieces[0].kg
    dry = lift(client, tags="L07", state="dry").context["sheet"].pieces[0].kg
    wet = lift(client, tags="L07", state="at", moisture="64").context["sheet"].pieces[0].kg
    assert dry * 1.64 / 1.12 == pytest.approx(wet)
    assert wet < green < wet * 1.78 / 1.64  # sapwood holds 78 %, heartwood 64
    round_log = lift(
        client,
        **{"row-1-wood": woods["oak_white"].pk, "row-1-shape": "round", "row-1-quantity": "1",
           "row-1-first_mm": "530 mm", "row-1-second_mm": "410 mm", "row-1-length_mm": "4200 mm"},
    )  # fmt: skip
    assert round_log.context["sheet"].pieces[0].kg == pytest.approx(wet)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({}, "Name pieces by their tags, or give the sizes"),
        ({"tags": "L07 Q99"}, "Nothing in the stock has the tag q99"),
        ({"tags": "L07", "state": "at"}, "Give the moisture"),
        ({"tags": "L07", "state": "at", "moisture": "140"}, "is full of water at 101.7"),
        ({"tags": "L07", "gear_kg": "-3"}, "Give 0 or more."),
        ({"tags": "X1-3", "row-0-length_mm": "3 m"}, "Say of which wood it is"),
        ({"tags": "gone"}, "it is not in stock"),
        ({"tags": " ".join(f"T{n}" for n in range(61))}, "60 tags at the most"),
    ],
)
def test_a_lift_that_cannot_be_weighed_is_refused_in_a_sentence_and_stays_as_typed(
    signed_in, woods, mill, log, board, typed, says
):
    Board.objects.create(
        tag="GONE", species=woods["teak"], supplier=mill, thickness_mm=50, width_mm=60,
        length_mm=900, state="gone",
    )  # fmt: skip
    response = lift(signed_in(), **typed)
    assert response.status_code == 422
    assert says in response.content.decode().replace("&#x27;", "'")
    if "tags" in typed:
        assert typed["tags"] in response.content.decode()


def test_a_wood_without_a_density_cannot_be_lifted_by_the_tables(signed_in, woods, mill):
    Board.objects.create(
        tag="P1", species=woods["pine_scots"], supplier=mill, thickness_mm=50, width_mm=60,
        length_mm=900,
    )  # fmt: skip
    response = lift(signed_in(), tags="P1")
    assert response.status_code == 422
    assert "No basic specific gravity is known for Scots pine" in text(response)
    assert "No basic specific gravity" in text(
        signed_in().get(Board.objects.get().get_absolute_url())
    )
