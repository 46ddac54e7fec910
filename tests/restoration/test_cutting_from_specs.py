"""Timbers drawn from the replacements of any vessels onto one cutting list, at their green size."""

import re
from html import unescape

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from restoration.models import Survey, WantedTimber, Yard
from timber_stock.models import CuttingItem, CuttingList

URL = "restoration:cutting_from_specs"
SAID = {
    "new_name": "Oak for the spring",
    "heart_clearance_mm": "3/4",
    "to_trim_mm": "3",
    "usual_moisture_percent": "15",
}


@pytest.fixture
def yard_client(client, people):
    client.force_login(people["yard"])
    return client


@pytest.fixture
def specs(survey, other_vessel, make_spec, people):
    other = Survey.objects.create(
        vessel=other_vessel, surveyed_on=survey.surveyed_on, place="Sallow Creek", lying="ashore",
        surveyor_name="P. Prober", methods="spike", not_reached="none",
        recorded_by=people["surveyor"],
    )  # fmt: skip
    quarter = make_spec(survey, "F12", rings="quarter", rings_face="sided")
    return [quarter, make_spec(other, "F12", sapwood_allowed=True, clear_of_heart=False)]


def draw(client, chosen, **changes):
    return client.post(reverse(URL), SAID | {"specs": [s.pk for s in chosen]} | changes)


def words(response):
    return unescape(" ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split()))


def test_replacements_of_two_vessels_come_onto_one_list(yard_client, specs):
    listed_at = draw(yard_client, specs)["Location"]
    listed = CuttingList.objects.get()
    assert listed_at == listed.get_absolute_url()
    one, other = listed.items.order_by("-label")
    assert (one.label, other.label) == ("TEN-F12", "KIT-F12")
    assert one.for_whom.startswith("Tenacious Wren")
    assert one.length_mm == pytest.approx(1100 + 3 * 25.4)
    assert one.heart_clearance_mm == pytest.approx(0.75 * 25.4)
    assert other.heart_clearance_mm is None
    assert other.sapwood_allowed
    # Quarter-sawn on the narrow, sided face is flat-sawn to the wide one.
    assert one.rings() == {"mean_max_deg": 30}
    assert other.rings() == {}
    assert WantedTimber.objects.get(item=one).spec == specs[0]


def test_the_green_size_is_the_published_sum_of_what_is_lost(yard_client, specs):
    """White oak to 15 %: tangential 10.5 and radial 5.6 % green to ovendry, halved; F + P over
    1 - S, and 1.645 standard deviations of the saw."""
    yard = Yard.current()
    draw(yard_client, specs[1:])
    item = CuttingItem.objects.get()
    mark = 25.4 / 16
    for finished, sawn in ((63.5, item.thickness_mm), (127, item.width_mm)):
        target = (finished + yard.planing_allowance_mm) / (1 - 0.0525)
        target += 1.645 * yard.sawing_variation_mm
        assert target - 0.01 <= sawn < target + mark


def test_the_same_mark_twice_gets_a_number(yard_client, specs, make_spec):
    draw(yard_client, specs[:1])
    listed = CuttingList.objects.get()
    CuttingItem.objects.filter(label="TEN-F12").update(label="KIT-f12")
    draw(yard_client, specs[1:], cutting_list=listed.pk)
    assert [item.label for item in listed.items.all()] == ["KIT-f12", "KIT-F12.2"]


def test_what_is_on_a_list_is_not_drawn_again_until_it_is_taken_off(yard_client, specs):
    draw(yard_client, specs)
    page = words(yard_client.get(reverse(URL)))
    assert "No replacement waits for timber" in page
    assert "On open lists already" in page
    item = CuttingItem.objects.get(label="TEN-F12")
    refused = yard_client.post(
        reverse("timber_stock:cutting_item_delete", args=[item.pk]), follow=True
    )
    assert "still waits for it. Take it off there first" in words(refused)
    wanted = WantedTimber.objects.get(item=item)
    yard_client.post(reverse("restoration:wanted_timber_delete", args=[wanted.pk]))
    assert not CuttingItem.objects.filter(pk=item.pk).exists()
    assert "TEN-F12" in words(yard_client.get(reverse(URL)))


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"new_name": ""}, "Name the new list"),
        ({"specs": []}, "Choose at least one replacement"),
        ({"usual_moisture_percent": "nan"}, "Write a number"),
        ({"usual_moisture_percent": "45"}, "Give 30 or less."),
        ({"to_trim_mm": "a bit"}, "a bit"),
    ],
)
def test_what_cannot_be_drawn_is_refused_with_what_was_typed_and_ticked(
    yard_client, specs, changes, sentence
):
    response = draw(yard_client, specs[:1], **changes)
    assert response.status_code == 422
    assert sentence in words(response)
    assert 'value="3/4"' in response.content.decode()
    if "specs" not in changes:
        assert f'value="{specs[0].pk}" checked' in response.content.decode()
    assert not CuttingList.objects.exists()


def test_a_wood_whose_shrinkage_is_not_known_says_so_and_cannot_be_ticked(yard_client, specs):
    from timber_stock.models import Species

    own = Species.objects.create(
        code="yard-elm", botanical_name="Ulmus sp.", common_name="yard elm", group="hardwood"
    )
    spec = specs[0]
    spec.wood = own
    spec.save()
    page = yard_client.get(reverse(URL)).content.decode()
    assert f'name="specs" value="{spec.pk}"' not in page
    assert draw(yard_client, [spec]).status_code == 422
    assert not CuttingList.objects.exists()


def test_more_replacements_ask_no_more_of_the_database(yard_client, survey, specs, make_spec):
    def asked():
        with CaptureQueriesContext(connection) as queries:
            yard_client.get(reverse(URL))
        return len(queries)

    few = asked()
    for n in range(5):
        make_spec(survey, f"F2{n}")
    assert asked() == few
