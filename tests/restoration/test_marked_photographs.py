"""Photographs marked, ordered, captioned and compared, with the pictures left as they were."""

import io
from dataclasses import replace
from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.core.files.storage import default_storage
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from PIL import Image

from restoration.actions.findings import PhotographToKeep, record_finding
from restoration.actions.photographs import mark_photograph, move_photograph
from restoration.calc.picture_marks import PictureMark
from restoration.models import Finding, Member, PhotographMark, Survey
from restoration.reports import frozen
from restoration.reports.content import PictureTaken
from restoration.reports.gather_members import member_states
from restoration.reports.pdf.figures import Photograph, Pictures
from restoration.reports.pdf.page import SheetWords, made
from timber_stock.web.pictures import take_in


@pytest.fixture
def floor(vessel):
    return Member.objects.create(vessel=vessel, kind="floor_timber", mark="F12")


@pytest.fixture
def keep(survey, floor, people):
    def make(*captions, survey=survey):
        out = io.BytesIO()
        Image.new("RGB", (900, 600), "olive").save(out, "JPEG")
        picture = take_in(out, "x.jpg")
        finding = record_finding(
            finding=Finding(
                survey=survey, member=floor, recorded_by=people["surveyor"], condition="2",
                urgency=1, measure=2,
            ),
            photographs=[PhotographToKeep(picture, caption) for caption in captions],
        )  # fmt: skip
        return list(finding.photographs.all())

    return make


@pytest.fixture
def older(vessel, people):
    return Survey.objects.create(
        vessel=vessel, surveyed_on=date(2019, 5, 4), place="Aldermoor", lying="ashore",
        surveyor_name="P. Prober", methods="spike", not_reached="none",
        recorded_by=people["surveyor"],
    )  # fmt: skip


@pytest.fixture
def surveyor(client, people):
    client.force_login(people["surveyor"])
    return client


def at(name, photograph):
    return reverse(f"restoration:{name}", args=[photograph.pk])


ARROW = {"kind": "arrow", "x1": "10", "y1": "20.5", "x2": "70", "y2": "90", "text": "soft here"}


def test_a_mark_is_kept_beside_the_picture_and_drawn_over_it(surveyor, keep, people):
    (photograph,) = keep("heel")
    before = photograph.image.read()
    assert surveyor.post(at("photograph_marks", photograph), ARROW).status_code == 302
    mark = photograph.marks.get()
    assert mark.points == [[0.1, 0.205], [0.7, 0.9]]
    assert mark.made_by == people["surveyor"]
    for address in (at("photograph_marks", photograph), photograph.finding.get_absolute_url()):
        page = surveyor.get(address).content.decode()
        assert 'viewBox="0 0 900 600"' in page
        assert "Marked: arrow soft here" in page
        assert "M90.0 123.0L630.0 540.0" in page
    photograph.refresh_from_db()
    with photograph.image.open() as file:
        assert file.read() == before


def test_a_mark_taken_away_changes_nothing_else(surveyor, keep):
    (photograph,) = keep("heel")
    surveyor.post(at("photograph_marks", photograph), ARROW)
    surveyor.post(at("photograph_marks", photograph), ARROW | {"kind": "note", "text": "and here"})
    first = photograph.marks.first()
    surveyor.post(reverse("restoration:photograph_mark_delete", args=[first.pk]))
    assert [mark.text for mark in photograph.marks.all()] == ["and here"]
    photograph.refresh_from_db()
    assert photograph.caption == "heel"


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"x2": ""}, "needs its second point too"),
        ({"x1": "140"}, "Give 100 or less."),
        ({"x1": "nan"}, "Write a number"),
        ({"x2": "10", "y2": "20.5"}, "in one place"),
        ({"kind": "note", "text": ""}, "A note needs its words."),
        ({"kind": "scale", "text": ""}, "what length the bar stands for"),
        ({"kind": "scale", "text": "a hand"}, "is not a length"),
        ({"kind": "doodle"}, "Choose one of those listed"),
    ],
)
def test_a_mark_that_cannot_be_drawn_is_refused_and_what_was_typed_stays(
    surveyor, keep, changed, said
):
    (photograph,) = keep("heel")
    answer = surveyor.post(at("photograph_marks", photograph), ARROW | changed)
    assert answer.status_code == 422
    page = answer.content.decode()
    assert said in page
    assert 'value="90"' in page or "y2" in changed
    assert not PhotographMark.objects.exists()


def test_the_action_refuses_what_the_form_would(keep, people):
    (photograph,) = keep("heel")
    with pytest.raises(ValidationError, match="lies on the picture"):
        mark_photograph(
            photograph=photograph, kind="ring", points=[[0.2, 0.2], [1.4, 0.2]], text="",
            by=people["surveyor"],
        )  # fmt: skip
    assert not PhotographMark.objects.exists()


def test_words_of_a_mark_are_shown_as_words(surveyor, keep):
    (photograph,) = keep("heel")
    surveyor.post(at("photograph_marks", photograph), ARROW | {"text": "<script>alert(1)</script>"})
    page = surveyor.get(at("photograph_marks", photograph)).content.decode()
    assert "<script>alert" not in page
    assert "&lt;script&gt;alert" in page


def test_photographs_change_places_and_the_ends_stay(surveyor, keep):
    a, b, c = keep("a", "b", "c")

    def order():
        return "".join(p.caption for p in a.finding.photographs.all())

    surveyor.post(at("photograph_move", c), {"to": "earlier"})
    assert order() == "acb"
    surveyor.post(at("photograph_move", a), {"to": "later"})
    assert order() == "cab"
    move_photograph(photograph=c, earlier=True)
    move_photograph(photograph=b, earlier=False)
    assert order() == "cab"


def test_a_caption_is_changed_and_one_that_is_too_long_refused(surveyor, keep):
    (photograph,) = keep("heel")
    surveyor.post(at("photograph_caption", photograph), {"caption": "heel, from aft"})
    photograph.refresh_from_db()
    assert photograph.caption == "heel, from aft"
    answer = surveyor.post(at("photograph_caption", photograph), {"caption": "x" * 201})
    assert answer.status_code == 422
    photograph.refresh_from_db()
    assert photograph.caption == "heel, from aft"


def test_all_photographs_of_a_member_are_on_one_sheet_newest_survey_first(
    surveyor, keep, older, floor
):
    address = reverse("restoration:member_photographs", args=[floor.pk])
    assert "No photograph of F12" in surveyor.get(address).content.decode()
    keep("then", survey=older)
    keep("now")
    page = surveyor.get(address).content.decode()
    assert page.index("now") < page.index("4 May 2019") < page.index("then")


def test_two_surveys_stand_side_by_side(surveyor, keep, older, floor, survey):
    address = reverse("restoration:photographs_compare", args=[floor.pk])
    keep("now one", "now two")
    assert (
        "Two surveys with photographs of F12 are needed" in surveyor.get(address).content.decode()
    )
    keep("then one", survey=older)
    page = surveyor.get(address).content.decode()
    places = [page.index(f"<figcaption>{said}") for said in ("then one", "now one", "now two")]
    assert places == sorted(places)
    turned = {"left": survey.pk, "right": older.pk}
    page = surveyor.get(address, turned).content.decode()
    assert page.index("<figcaption>now one") < page.index("<figcaption>then one")


def test_the_report_draws_the_marks_and_keeps_them_when_frozen(keep, survey, people):
    (photograph,) = keep("heel")
    mark_photograph(
        photograph=photograph, kind="ring", points=[[0.25, 0.5], [0.25, 0.75]], text="Aufgelöst",
        by=people["surveyor"],
    )  # fmt: skip
    (state,) = member_states(survey)
    (picture,) = state.finding.pictures
    assert picture.marks[0].points == ((0.25, 0.5), (0.25, 0.75))

    store = Pictures(default_storage.open)
    words = SheetWords("t", "a", "s", "l", "r", [("", "")] * 3, False)
    plain = made([Photograph(replace(picture, marks=()), store, (300, 200))], words)
    marked = made([Photograph(picture, store, (300, 200))], words)
    assert plain != marked


def test_a_frozen_photograph_keeps_its_marks_and_an_older_one_has_none():
    mark = PictureMark("arrow", ((0.1, 0.2), (0.7, 0.9)), "soft")
    picture = PictureTaken("a.jpg", "0", 9, 6, "", None, (mark,))
    kept = frozen._plain(picture)
    assert frozen._built(PictureTaken, kept) == picture
    del kept["marks"]
    assert frozen._built(PictureTaken, kept).marks == ()


def test_more_photographs_and_marks_ask_no_more_queries(surveyor, keep, floor, people, survey):
    def queries(address):
        with CaptureQueriesContext(connection) as counted:
            assert surveyor.get(address).status_code == 200
        return len(counted)

    def marked(photographs):
        for photograph in photographs:
            for _ in range(3):
                mark_photograph(
                    photograph=photograph, kind="note", points=[[0.5, 0.5]], text="here",
                    by=people["surveyor"],
                )  # fmt: skip
        return photographs

    pages = [
        reverse("restoration:member_photographs", args=[floor.pk]),
        reverse("restoration:photographs_compare", args=[floor.pk]),
    ]
    few = marked(keep("a"))[0].finding.get_absolute_url()
    counted = [queries(page) for page in (few, *pages)]
    many = marked(keep(*"bcdefg"))[0].finding.get_absolute_url()
    assert [queries(page) for page in (many, *pages)] == counted
