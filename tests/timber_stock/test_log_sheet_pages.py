"""The log sheet in the yard: measured, its defects, its photographs, what it holds and weighs."""

import io
import re

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from timber_stock.models import Log, LogPhotograph

TAPE = {
    "measured": "under",
    "bark_mm": "",
    "butt_diameter_mm": "28",
    "butt_diameter_2_mm": "26 1/2",
    "butt_heart_offset_mm": "1 1/2",
    "butt_heart_clock": "2",
    "butt_trim_mm": "6",
    "length_mm": "16 ft",
    "middle_diameter_mm": "25",
    "sweep_mm": "3/4",
    "sweep_clock": "7",
    "top_diameter_mm": "22",
    "top_diameter_2_mm": "21",
    "top_heart_offset_mm": "1",
    "top_heart_clock": "10:30",
    "top_trim_mm": "4",
    "sapwood_mm": "1 1/8",
}
INCH = 25.4


def measure(client, log, **changes):
    return client.post(reverse("timber_stock:log_measure", args=[log.pk]), TAPE | changes)


def words(response):
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def test_a_log_is_measured_as_one_walks_round_it(signed_in, log):
    response = measure(signed_in(), log)
    assert response["Location"] == reverse("timber_stock:log_sheet", args=[log.pk])
    log.refresh_from_db()
    assert log.across("butt") == pytest.approx((28 * INCH, 26.5 * INCH))
    assert (log.sweep_mm, log.sweep_clock) == (pytest.approx(0.75 * INCH), 7)
    assert log.top_trim_mm == pytest.approx(4 * INCH)
    page = signed_in().get(reverse("timber_stock:log_measure", args=[log.pk])).content.decode()
    assert 'value="26 1/2"' in page  # read back as it was typed


def test_over_the_bark_the_log_keeps_what_is_under_it_and_the_form_what_was_typed(signed_in, log):
    typed = {"butt_diameter_mm": "28 1/4", "top_diameter_mm": "22 3/8"}
    measure(signed_in(), log, measured="over", bark_mm="3/4", **typed)
    log.refresh_from_db()
    assert log.butt_diameter_mm == pytest.approx(26.75 * INCH)
    assert log.middle_diameter_mm == pytest.approx(23.5 * INCH)
    page = signed_in().get(reverse("timber_stock:log_measure", args=[log.pk])).content.decode()
    assert 'value="28 1/4"' in page
    assert 'value="22 3/8"' in page


def test_a_thicker_top_is_asked_about_and_allowed_once_confirmed(signed_in, log):
    thick = {"top_diameter_mm": "30", "top_diameter_2_mm": "30"}
    response = measure(signed_in(), log, **thick)
    assert response.status_code == 422
    assert "thicker than the butt. Is it?" in words(response)
    assert measure(signed_in(), log, **thick, thicker_top="on").status_code == 302
    log.refresh_from_db()
    assert log.top_diameter_mm == pytest.approx(762)


def test_nobody_is_asked_about_a_thinner_top(signed_in, log):
    url = reverse("timber_stock:log_measure", args=[log.pk])
    assert "thicker_top" not in signed_in().get(url).content.decode()
    assert "thicker_top" not in measure(signed_in(), log, length_mm="long").content.decode()


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"measured": "over"}, "say how thick the bark is"),
        ({"measured": "over", "bark_mm": "12"}, "Bark this thick leaves no wood here"),
        ({"butt_heart_offset_mm": "15"}, "The heart must lie inside the log"),
        ({"butt_heart_clock": ""}, "towards which o'clock the heart is off"),
        ({"sweep_clock": ""}, "towards which o'clock the log bows"),
        ({"sweep_clock": "13"}, "not a clock position"),
        ({"butt_trim_mm": "15 ft", "top_trim_mm": "1 ft"}, "leave some of the log's length"),
        ({"sapwood_mm": "11"}, "thinner than half the top diameter"),
        ({"length_mm": "sixteen"}, "sixteen"),
        ({"top_diameter_mm": ""}, "Fill this in"),
    ],
)
def test_a_measure_that_cannot_be_is_refused_and_all_that_was_typed_stays(
    signed_in, log, changes, sentence
):
    response = measure(signed_in(), log, **changes)
    assert response.status_code == 422
    assert sentence in words(response).replace("&#x27;", "'")
    page = response.content.decode()
    for name, typed in (TAPE | changes).items():
        if typed and name not in ("measured",):
            assert f'name="{name}" value="{typed}"' in page, name
    log.refresh_from_db()
    assert log.length_mm == 4200


@pytest.mark.parametrize("name", ["sweep_clock", "butt_heart_clock"])
def test_a_clock_that_cannot_be_read_is_refused_in_one_sentence(signed_in, log, name):
    response = measure(signed_in(), log, **{name: "half past noon"})
    assert len(response.context["form"].errors[name]) == 1
    assert "is not a clock position" in response.context["form"].errors[name][0]


def test_every_rule_stands_beside_the_true_solid_with_its_source_or_says_why_not(signed_in, log):
    measure(signed_in(), log)
    sheet = words(signed_in("surveyor").get(reverse("timber_stock:log_sheet", args=[log.pk])))
    for rule in ("Smalian", "Huber", "Newton", "Doyle", "Scribner", "International", "Hoppus"):
        assert rule in sheet
    assert "Michigan Compiled Laws" in sheet
    log.refresh_from_db()
    log.middle_diameter_mm, log.length_mm = None, 7000
    log.save()
    sheet = words(signed_in().get(reverse("timber_stock:log_sheet", args=[log.pk])))
    assert "Huber, by the middle needs the diameter measured half way along" in sheet
    assert "scales logs up to 20 ft" in sheet


def test_the_green_weight_comes_with_its_caution_and_the_legs_of_the_sling(signed_in, log):
    sheet = words(signed_in().get(reverse("timber_stock:log_sheet", args=[log.pk])))
    assert "A competent person plans the lift" in sheet
    assert "Under 30° a sling is not used" in sheet
    assert "29 CFR 1910.184" in sheet


def test_an_oval_log_weighs_by_its_area(woods, log):
    from timber_stock.models import figures_of
    from timber_stock.models.weights import weights_of_log

    figures = figures_of(log.species)
    log.sapwood_mm = None
    round_kg = weights_of_log(log, figures)[0].kg
    log.butt_diameter_2_mm, log.top_diameter_2_mm = 530 / 4, 410 / 4
    log.reckon_solid()
    assert weights_of_log(log, figures)[0].kg == pytest.approx(round_kg / 4)


def test_defects_are_added_and_taken_off(signed_in, log):
    client = signed_in()
    new = reverse("timber_stock:log_defect_new", args=[log.pk])
    typed = {"kind": "knot", "from_butt_mm": "5 ft 2", "clock": "4:30", "across_mm": "2 1/4"}
    assert client.post(new, typed).status_code == 302
    (knot,) = log.defects.all()
    assert knot.across_mm == pytest.approx(2.25 * INCH)
    sheet = reverse("timber_stock:log_sheet", args=[log.pk])
    assert "4:30" in words(client.get(sheet))
    client.post(reverse("timber_stock:log_defect_delete", args=[knot.pk]))
    assert not log.defects.exists()


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"clock": ""}, "towards which o'clock the knot points"),
        ({"from_butt_mm": "20 ft"}, "beyond the top of the log"),
        ({"kind": "rot", "from_butt_mm": "3 ft", "to_mm": "2 ft"}, "further from the butt"),
        ({"kind": "rot", "offset_mm": "4", "clock": ""}, "towards which o'clock it is off"),
        ({"across_mm": "0"}, "wider than nothing"),
    ],
)
def test_a_defect_that_cannot_be_is_refused_in_a_sentence(signed_in, log, changes, sentence):
    typed = {"kind": "knot", "from_butt_mm": "2 ft", "clock": "4", "across_mm": "3"} | changes
    response = signed_in().post(reverse("timber_stock:log_defect_new", args=[log.pk]), typed)
    assert response.status_code == 422
    assert sentence in words(response).replace("&#x27;", "'")
    assert not log.defects.exists()


def shot(name="butt.jpg", colour="tan", size=(400, 300)):
    out = io.BytesIO()
    Image.new("RGB", size, colour).save(out, "JPEG")
    return SimpleUploadedFile(name, out.getvalue(), "image/jpeg")


def photograph(client, log, **said):
    said = {"end": "butt", "photograph": shot()} | said
    return client.post(reverse("timber_stock:log_photograph_new", args=[log.pk]), said)


TAPPED = {
    "do": "taps",
    "heart": "0.55,0.5",
    "at_12": "0.5,0.1",
    "at_3": "0.8,0.5",
    "at_6": "0.5,0.9",
    "at_9": "0.2,0.5",
}


def test_the_heart_tapped_on_a_photograph_is_proposed_and_a_person_confirms_it(signed_in, log):
    client = signed_in()
    photograph(client, log)
    kept = LogPhotograph.objects.get()
    page = reverse("timber_stock:log_photograph", args=[kept.pk])
    assert client.post(page, TAPPED).status_code == 302
    proposed = words_of_inputs(client.get(page))
    assert proposed["clock"] == "3 o'clock"
    log.refresh_from_db()
    assert log.butt_heart_clock == 4.5  # nothing is kept before someone says so
    client.post(page, {"do": "heart", "offset_mm": proposed["offset_mm"], "clock": "3"})
    log.refresh_from_db()
    # A sixth of the half diameter: 530 / 2 / 6, to a sixteenth of an inch.
    assert log.butt_heart_offset_mm == pytest.approx(530 / 12, abs=0.8)
    assert log.butt_heart_clock == 3


def words_of_inputs(response):
    from html import unescape

    found = re.findall(r'name="(\w+)" value="([^"]*)"', response.content.decode())
    return {name: unescape(value) for name, value in found}


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"heart": ""}, "Tap the heart on the picture"),
        ({"at_6": "nan,0.2"}, "Tap the edge at 6 o'clock"),
        ({"heart": "0.95,0.5"}, "outside the bark"),
        ({"at_3": "0.2,0.5", "at_9": "0.8,0.5"}, "in this order"),
    ],
)
def test_taps_that_say_nothing_are_refused_in_a_sentence(signed_in, log, changes, sentence):
    client = signed_in()
    photograph(client, log)
    page = reverse("timber_stock:log_photograph", args=[LogPhotograph.objects.get().pk])
    response = client.post(page, TAPPED | changes)
    assert response.status_code == 422
    assert sentence in words(response).replace("&#x27;", "'")


def test_the_same_photograph_twice_or_a_file_that_is_none_is_refused(signed_in, log):
    client = signed_in()
    photograph(client, log)
    again = photograph(client, log)
    assert again.status_code == 422
    assert "with the log already" in words(again)
    broken = photograph(client, log, photograph=SimpleUploadedFile("x.jpg", b"not a picture"))
    assert "not a photograph that can be read" in words(broken)
    assert LogPhotograph.objects.count() == 1


def test_a_photograph_is_shown_to_the_trade_and_its_files_go_with_it(signed_in, log):
    client = signed_in()
    photograph(client, log, end="top")
    kept = LogPhotograph.objects.get()
    file = reverse("timber_stock:log_photograph_file", args=[kept.pk, "thumb"])
    assert signed_in("surveyor").get(file)["Content-Type"] == "image/jpeg"
    client = signed_in()
    storage, name = kept.image.storage, kept.image.name
    client.post(reverse("timber_stock:log_photograph_delete", args=[kept.pk]))
    assert not storage.exists(name)
    assert client.get(file).status_code == 404


def test_the_sheet_asks_no_more_of_the_database_with_more_defects(
    signed_in, log, django_assert_num_queries
):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    client, url = signed_in(), reverse("timber_stock:log_sheet", args=[log.pk])
    log.defects.create(kind="knot", from_butt_mm=500, clock=3, across_mm=40)
    with CaptureQueriesContext(
        connection,
    ) as few:
        client.get(url)
    for n in range(6):
        log.defects.create(kind="knot", from_butt_mm=600 + n, clock=3, across_mm=40)
    with django_assert_num_queries(len(few)):
        client.get(url)
    assert Log.objects.count() == 1
