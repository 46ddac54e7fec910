"""Cutting lists in pages, the log to ask for, and which log serves a list best."""

import re
from html import unescape

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from timber_stock.actions.log_choice import choose_logs
from timber_stock.models import CuttingItem, CuttingList, Log
from timber_stock.sawing.request import Saw
from timber_stock.templatetags.measures import length

FLOOR = {
    "label": "F12",
    "for_whom": "Tenacious Wren, floor at 12",
    "quantity": "2",
    "worth": "3",
    "thickness_mm": "3 1/8",
    "width_mm": "6 1/2",
    "length_mm": "4 ft 9",
    "heart_clearance_mm": "1",
    "knot_free": "0 to 25, 75 to 100",
    "mean_min_deg": "60",
    "worst_min_deg": "",
    "mean_max_deg": "",
    "worst_max_deg": "",
}
SAW = {"kerf_mm": "1/8", "crosscut_kerf_mm": "3/8"}
NEVER = float("inf")


@pytest.fixture
def listed(db):
    return CuttingList.objects.create(name="Floors and stringers")


@pytest.fixture
def items(listed):
    common = {"cutting_list": listed, "heart_clearance_mm": 20}
    return [
        CuttingItem.objects.create(
            label="F12", thickness_mm=80, width_mm=165, length_mm=1450, quantity=2, worth=3,
            **common,
        ),
        CuttingItem.objects.create(
            label="ST", thickness_mm=45, width_mm=70, length_mm=3600, quantity=3, **common
        ),
    ]  # fmt: skip


def words(response):
    return unescape(" ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split()))


def test_a_list_is_begun_and_timbers_are_put_on_it(signed_in):
    client = signed_in()
    client.post(
        reverse("timber_stock:cutting_list_new"), {"name": "Spring", "made_on": "2026-03-02"}
    )
    listed = CuttingList.objects.get()
    client.post(reverse("timber_stock:cutting_item_new", args=[listed.pk]), FLOOR)
    (item,) = listed.items.all()
    assert item.knot_free == [[0, 0.25], [0.75, 1]]
    assert item.rings() == {"mean_min_deg": 60}
    assert item.length_mm == pytest.approx(57 * 25.4)
    page = words(client.get(listed.get_absolute_url()))
    assert "0 to 25 %, 75 to 100 %" in page
    assert "mean 60° or more" in page


def test_what_was_typed_is_read_back(signed_in, listed):
    client = signed_in()
    client.post(reverse("timber_stock:cutting_item_new", args=[listed.pk]), FLOOR)
    item = CuttingItem.objects.get()
    edit = reverse("timber_stock:cutting_item_edit", args=[item.pk])
    page = client.get(edit).content.decode()
    assert 'value="0 to 25, 75 to 100"' in page
    assert 'value="3 1/8"' in page
    assert client.post(edit, FLOOR | {"knot_free": "all"}).status_code == 302
    item.refresh_from_db()
    assert item.knot_free == [[0, 1]]


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"thickness_mm": "7"}, "give the lesser as the thickness"),
        ({"quantity": "0"}, "Give 1 or more."),
        ({"quantity": "10000"}, "Give 5000 or less."),
        ({"knot_free": "the middle"}, "is no part of a length"),
        ({"knot_free": "80 to 20"}, "is no part of a length"),
        ({"mean_min_deg": "95"}, "Give 90 or less."),
        ({"mean_max_deg": "40"}, "must not be more than the greatest"),
        ({"worth": "nan"}, "Write a number"),
        ({"label": "st"}, "has this mark"),
    ],
)
def test_a_line_that_cannot_be_is_refused_and_all_that_was_typed_stays(
    signed_in, listed, items, changes, sentence
):
    url = reverse("timber_stock:cutting_item_new", args=[listed.pk])
    response = signed_in().post(url, FLOOR | {"label": "F14"} | changes)
    assert response.status_code == 422
    assert sentence in words(response)
    assert 'value="4 ft 9"' in response.content.decode()
    assert listed.items.count() == 2


def test_a_timber_is_taken_off(signed_in, listed, items):
    signed_in().post(reverse("timber_stock:cutting_item_delete", args=[items[0].pk]))
    assert [item.label for item in listed.items.all()] == ["ST"]


def test_the_lists_ask_no_more_of_the_database_with_more_of_them(
    signed_in, listed, items, django_assert_num_queries
):
    client, url = signed_in(), reverse("timber_stock:cutting_lists")
    with CaptureQueriesContext(connection) as few:
        client.get(url)
    for n in range(5):
        CuttingList.objects.create(name=f"List {n}")
    with django_assert_num_queries(len(few)):
        client.get(url)


def test_lists_come_in_one_order_from_page_to_page(db):
    for name, still_wanted in (("Winter", False), ("Spring", True), ("Autumn", True)):
        CuttingList.objects.create(name=name, is_open=still_wanted)
    counted = CuttingList.objects.counted()
    assert counted.ordered
    assert [each.name for each in counted] == ["Autumn", "Spring", "Winter"]


def test_the_log_to_ask_for_is_said_with_its_chart_and_its_closed_form(signed_in, listed, items):
    url = reverse("timber_stock:log_wanted", args=[listed.pk])
    page = signed_in("surveyor").get(url, SAW | {"trim_mm": "3", "sapwood_mm": "1"})
    said = words(page)
    assert "To ask a mill for" in said
    assert "12 ft 3 3/4 in" in said  # 3600 mm and 6 in of trim
    assert "D = 2 √((a/2)² + (b + c)²)" in said
    assert "<svg" in page.content.decode()
    assert "proven only below the broken line" in said


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"length_mm": "8 ft"}, "ask for a longer log"),
        ({"kerf_mm": "0"}, "Every saw takes some wood"),
        ({"trim_mm": "-1"}, "1"),
        ({"length_mm": "5"}, "takes the whole log"),
        ({"sapwood_mm": "40"}, "No log has sapwood"),
    ],
)
def test_a_log_that_cannot_be_asked_for_is_refused_in_a_sentence(
    signed_in, listed, items, changes, sentence
):
    url = reverse("timber_stock:log_wanted", args=[listed.pk])
    response = signed_in().get(url, SAW | {"trim_mm": "3", "sapwood_mm": "1"} | changes)
    assert response.status_code == 422
    assert sentence in words(response)


def test_a_log_not_reckoned_yet_is_said_to_be_so_and_one_reckoned_before_is_told_again(
    signed_in, listed, items
):
    url = reverse("timber_stock:log_wanted", args=[listed.pk])
    client = signed_in()
    bare = client.get(url)
    assert "is not reckoned yet" in words(bare)
    assert "press “Reckon the log”; it takes up to 6 seconds" in words(bare)
    assert "Log wanted as PDF" in words(bare)
    client.get(url, SAW | {"trim_mm": "3", "sapwood_mm": "1"})
    kept = listed.reckoning
    said = words(client.get(url))
    size = length(kept.sought()[0].diameter_mm, "imperial")
    assert f"small end under bark, heart in the middle, {size}" in said
    assert "not reckoned yet" not in said
    items[0].quantity += 1
    items[0].save()
    assert "The list has changed since the log was reckoned on" in words(client.get(url))


@pytest.fixture
def three_logs(woods):
    def log(tag, across_mm, long_mm):
        return Log.objects.create(
            tag=tag, species=woods["oak_white"], length_mm=long_mm, sapwood_mm=20,
            butt_diameter_mm=across_mm + 50, top_diameter_mm=across_mm,
        )  # fmt: skip

    return log("L41", 420, 1500), log("L42", 230, 3700), log("L43", 620, 3700)


def test_the_log_that_gives_all_comes_first_and_the_smaller_of_two_alike(three_logs, items):
    small = Log.objects.get(tag="L43")
    small.pk, small.tag, small.top_diameter_mm = None, "L44", 560
    small._state.adding = True
    small.save()
    logs = [*three_logs, small]
    choice = choose_logs(logs, items, Saw(3, 8), steps=60, until=NEVER)
    assert [one.log.tag for one in choice.tried][:2] == ["L44", "L43"]
    assert [one.log.tag for one in choice.together] == ["L44"]
    assert choice.left == {}


def test_two_logs_that_serve_together_are_named_together(three_logs, items):
    short, thin, _ = three_logs
    choice = choose_logs([thin, short], items, Saw(3, 8), steps=60, until=NEVER)
    had = {one.log.tag: one.placed for one in choice.together}
    assert had["L41"].get("F12") == 2
    assert had["L42"]["ST"] >= 1
    assert items[0].quantity == 2  # the list itself is not eaten up


def test_logs_for_which_no_time_was_left_are_counted(three_logs, items):
    choice = choose_logs(list(three_logs), items, Saw(3, 8), steps=60, until=0)
    assert choice.not_tried == 3
    assert choice.tried == []


def test_the_choice_is_shown_with_what_is_still_wanted(signed_in, listed, items, three_logs):
    url = reverse("timber_stock:log_choice", args=[listed.pk])
    said = words(signed_in().get(url, SAW | {"steps": "60"}))
    assert "All 5 timbers are had" in said
    assert "L43" in said
    Log.objects.filter(tag="L43").delete()
    Log.objects.filter(tag="L42").delete()
    said = words(signed_in().get(url, SAW | {"steps": "60"}))
    assert "Still wanted after these: 3 × ST" in said


def test_an_empty_list_says_what_to_do_next(signed_in, listed):
    for name in ("cutting_list", "log_wanted", "log_choice"):
        said = words(signed_in().get(reverse(f"timber_stock:{name}", args=[listed.pk])))
        assert "Nothing is on this list yet" in said
