"""Why timber is cut as it is: what the report reckons of it, and when it is silent."""

from datetime import date

import pytest

from restoration.models import ReplacementSpec
from restoration.reports.content import Standing
from restoration.reports.gather import report_content

DRAFT = Standing(number=None, on=date(2026, 4, 9), by="P. Prober")


@pytest.fixture
def told(survey, make_spec):
    """A floor of white oak that dries inside the cabin: quarter-sawn, clear of heart."""
    spec = make_spec(survey, "F12")
    ReplacementSpec.objects.filter(pk=spec.pk).update(
        rings="quarter", clear_of_heart=True, place_in_boat="inside_dry", sided_mm=60,
        moulded_mm=140,
    )  # fmt: skip

    def choices(**changed):
        ReplacementSpec.objects.filter(pk=spec.pk).update(**changed)
        return report_content(survey_id=survey.pk, standing=DRAFT, units="metric").choices

    return choices


def test_as_specified_stands_beside_the_way_that_tells_most_against_it(told):
    (choice,) = told()
    assert choice.marks == ("F12",)
    first, other = choice.drawn
    assert first.caption.startswith("As specified, quarter-sawn: it loses ")
    assert other.caption.startswith("Not so, flat-sawn: it loses ")
    assert all(one.svg.startswith("<svg") for one in choice.drawn)


def test_where_only_the_heart_must_be_out_the_boxed_heart_stands_beside_it(told):
    (choice,) = told(rings="any")
    assert "with the heart in" in choice.drawn[1].caption


def test_where_the_rings_may_come_as_they_will_no_way_of_them_is_called_specified(told):
    (choice,) = told(rings="any")
    assert "rings as they come, clear of heart" in choice.asked
    said = choice.drawn[0].caption
    assert said.startswith("Clear of heart as specified, here quarter-sawn: it loses ")


def test_it_is_reckoned_at_the_driest_of_its_place_and_names_every_source_in_full(told):
    (choice,) = told()
    assert "the driest to reckon with in its place" in choice.asked
    said = " ".join(choice.figures)
    assert "radial shrinkage" in said
    assert "tangential shrinkage" in said
    assert "Forest Products Laboratory, Wood Handbook" in said
    assert "National Hardwood Lumber Association" in said
    assert "FPL R" not in said.replace("Report R", "")


@pytest.mark.parametrize(
    "changed",
    [
        {"rings": "any", "clear_of_heart": False},  # nothing was chosen
        {"place_in_boat": ""},  # how dry it comes there is not known
    ],
)
def test_it_is_silent_where_nothing_was_chosen_or_too_little_is_known(told, changed):
    assert told(**changed) == ()
