"""Fastenings drawn by lot: how many, which ones, their results and what follows for the rest."""

import pytest
from django.core.exceptions import ValidationError
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from restoration.actions.samples import draw_sample, enter_results
from restoration.calc import random_sample
from restoration.calc.sampling import most_defective, sample_size
from restoration.models import FasteningSample

SAID = {
    "what": "plank screws of the port garboard", "zone": "underwater", "population": "60",
    "stations": "4: 21, 5: 30\n6: 9", "tolerated": "9", "confidence_percent": "95",
    "count": "", "bad_means": "pink when scratched", "counted": "from forward", "seed": "windlass",
}  # fmt: skip


@pytest.fixture
def surveyor(client, people):
    client.force_login(people["surveyor"])
    return client


@pytest.fixture
def draw(survey, people):
    def make(count, stations=(("4", 21), ("5", 30), ("6", 9)), percent=95):
        sample = FasteningSample(
            survey=survey, what="screws", counted="from forward", bad_means="pink", tolerated=0,
            confidence_percent=percent, seed="windlass", made_by=people["surveyor"],
        )  # fmt: skip
        return draw_sample(sample=sample, stations=stations, count=count)

    return make


@pytest.fixture
def send(surveyor, survey):
    address = reverse("restoration:sample_new", args=[survey.pk])
    return lambda **changed: surveyor.post(address, SAID | changed)


def test_the_number_is_worked_out_and_the_same_lot_can_be_drawn_again(send):
    assert send().status_code == 302
    kept = FasteningSample.objects.get()
    assert len(kept.drawn) == sample_size(60, 9, 0.95) == 15
    group = [
        random_sample.Fastening(f"{station}-{n}", station)
        for station, held in (("4", 21), ("5", 30), ("6", 9))
        for n in range(1, held + 1)
    ]
    again = random_sample.draw(group, 15, "windlass")
    assert [one["mark"] for one in kept.drawn] == [one.mark for one in again]
    assert kept.population == 60


def test_how_many_is_answered_before_anything_is_drawn(send):
    page = send(step="count").content.decode()
    assert "Draw 15 of 60. If none of them is bad, you are 95 % sure that no more than 9" in page
    assert not FasteningSample.objects.exists()


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"count": "61"}, "61 cannot be drawn from a group of 60."),
        ({"stations": "4: 21, 5: 30"}, "The stations hold 51 together, and there are 60"),
        ({"stations": "4: 21, 4: 39"}, "A station is given twice"),
        ({"stations": "fore: many"}, "is no station with its number"),
        ({"tolerated": "77"}, "77 bad ones cannot be tolerated in a group of 60."),
        ({"tolerated": "60"}, "If all may be bad there is nothing to draw."),
        ({"confidence_percent": "100"}, "Give 99.99 or less."),
        ({"population": "0"}, "Give 1 or more."),
        ({"bad_means": ""}, "Fill this in"),
        (
            {"population": "5000", "stations": "", "tolerated": "0"},
            "are too many to enter here",
        ),
    ],
)
def test_a_sample_that_cannot_be_is_refused_and_keeps_what_was_typed(send, changed, said):
    answer = send(**changed)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert said in page
    assert "plank screws of the port garboard" in page
    assert not FasteningSample.objects.exists()


def test_how_many_is_not_promised_of_more_than_there_are(send):
    answer = send(step="count", count="61")
    assert answer.status_code == 422
    assert "61 cannot be drawn from a group of 60." in answer.content.decode()


def test_without_stations_the_lot_is_drawn_from_the_whole_group(send):
    assert send(stations="", count="7", seed="").status_code == 302
    kept = FasteningSample.objects.get()
    assert len(kept.drawn) == 7
    assert {one["station"] for one in kept.drawn} == {""}
    assert all(1 <= int(one["mark"]) <= 60 for one in kept.drawn)
    assert len(kept.seed) >= 8


def results(kept, *said):
    return {f"result-{one['mark']}": word for one, word in zip(kept.drawn, said, strict=True)}


def test_results_give_the_bound_a_picture_and_the_caution(surveyor, draw):
    kept = draw(15)
    address = reverse("restoration:sample_result", args=[kept.pk])
    page = surveyor.get(kept.get_absolute_url()).content.decode()
    assert "15 of the 15 chosen still have no result" in page
    surveyor.post(address, results(kept, *["good"] * 15))
    page = surveyor.get(kept.get_absolute_url()).content.decode()
    assert most_defective(60, 15, 0, 0.95) == 9
    assert "at most 9 of the 45 still in the hull are bad" in page
    assert "A count does not replace judgement" in page
    assert page.count('class="may"') == 9 + 1  # and one in the legend
    assert page.count('class="good"') == 15 + 1
    assert page.count('class="left"') == 36 + 1
    assert "windlass" in page


def test_bad_ones_and_those_that_would_not_come_out_raise_the_bound(surveyor, draw):
    kept = draw(15)
    said = results(kept, *["good"] * 12, "bad", "bad", "not_drawn")
    surveyor.post(reverse("restoration:sample_result", args=[kept.pk]), said)
    kept.refresh_from_db()
    assert kept.outcome().most_bad == most_defective(60, 15, 3, 0.95)
    page = surveyor.get(kept.get_absolute_url()).content.decode()
    assert "1 could not be drawn (counted as bad)" in page
    assert "Bad ones that lie together" in page


def test_a_result_that_is_none_is_refused_and_nothing_is_changed(surveyor, draw):
    kept = draw(3)
    address = reverse("restoration:sample_result", args=[kept.pk])
    answer = surveyor.post(address, results(kept, "good", "middling", "bad"))
    assert answer.status_code == 422
    assert "is no result" in answer.content.decode()
    kept.refresh_from_db()
    assert kept.results() == ["", "", ""]


def test_results_of_fastenings_that_were_not_drawn_are_passed_over(draw):
    kept = draw(3)
    mark = kept.drawn[1]["mark"]
    enter_results(sample_id=kept.pk, results={"9-999": "bad", mark: "good"})
    kept.refresh_from_db()
    assert kept.results() == ["", "good", ""]


def test_more_than_the_group_holds_cannot_be_drawn_by_the_action_either(draw):
    with pytest.raises(ValidationError, match="61 cannot be drawn from a group of 60"):
        draw(61)
    assert not FasteningSample.objects.exists()


def test_the_list_says_that_several_bounds_hold_less_surely_together(surveyor, survey, draw):
    address = reverse("restoration:samples", args=[survey.pk])
    assert "No fastenings have been drawn by lot" in surveyor.get(address).content.decode()
    for percent in (95, 90):
        kept = draw(4, percent=percent)
        enter_results(sample_id=kept.pk, results={one["mark"]: "good" for one in kept.drawn})
    page = surveyor.get(address).content.decode()
    assert "is 86 % sure, no more" in page  # 0.95 x 0.90 = 0.855
    assert "wind-and-water" in page
    assert "90 % sure" in page


def test_more_samples_and_more_drawn_ask_no_more_queries(surveyor, survey, draw):
    def queries(address):
        with CaptureQueriesContext(connection) as counted:
            assert surveyor.get(address).status_code == 200
        return len(counted)

    listed = reverse("restoration:samples", args=[survey.pk])
    small = draw(2)
    few = queries(listed), queries(small.get_absolute_url())
    large = [draw(40) for _ in range(5)][-1]
    assert (queries(listed), queries(large.get_absolute_url())) == few


def test_beside_the_sample_stands_what_a_factorys_plan_would_ask_and_let_past(surveyor, draw):
    """60 in the lot at 4 %: letter E, 13 drawn, 1 accepted; at 1 % the arrow leads to 13 and 0."""
    text = surveyor.get(draw(9).get_absolute_url()).content.decode()
    assert "quality level of 4 %: draw 13 of 60, and pass the group with up to 1 bad" in text
    assert "quality level of 1 %: draw 13 of 60, and pass the group with none bad" in text
    assert "Such a plan protects the maker" in text


def test_a_group_beyond_the_published_tables_has_no_factorys_plan(surveyor, draw):
    kept = draw(9, stations=(("4", 1201),))
    assert "factory" not in surveyor.get(kept.get_absolute_url()).content.decode()
