"""Addresses and choices that no page of the register makes: refused in words, never broken by."""

import pytest

from restoration.forms.copied import CopyForm
from timber_stock.web.addresses import row_number

NINES = "9" * 5000  # more figures than Python reads as a number
NO_ROWS = ["²", "٣", NINES, "-1", "1e3", ""]


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    return client


@pytest.fixture
def spec(make_spec, survey):
    return make_spec(survey, "F4")


@pytest.mark.parametrize("said", [*NO_ROWS, None])
def test_what_cannot_be_the_number_of_a_row_is_none(said):
    assert row_number(said) is None


def test_the_number_of_a_row_is_read_as_it_stands():
    assert row_number("0") == 0
    assert row_number("9" * 18) == 10**18 - 1


@pytest.mark.parametrize("said", NO_ROWS)
def test_a_bench_begun_from_what_is_no_log_begins_as_ever(yard, woods, said):
    assert yard.get("/timber/bench/", {"log": said}).status_code in (200, 422)


@pytest.mark.parametrize("said", ["²", NINES])
def test_a_page_asked_for_what_is_no_row_shows_itself_or_says_not_found(yard, spec, said):
    finding = spec.finding
    walk = f"/surveys/{finding.survey_id}/members/{finding.member_id}/"
    asked = {
        f"/specs/{spec.pk}/allot/": "board",
        f"/findings/{finding.pk}/specify/": "pattern",
        f"/surveys/{finding.survey_id}/report/": "job",
        "/layouts/": "spec",
    }
    for address, name in asked.items():
        assert yard.get(address, {name: said}).status_code in (200, 404), address
    for name in ("kept", "after"):
        assert yard.get(walk, {name: said}).status_code == 200, name


def test_a_report_expected_by_what_is_no_number_is_not_an_error_of_ours(yard, survey):
    said = {"reader_units": "imperial", "paper": "nowhere", "expecting": NINES}
    assert yard.post(f"/surveys/{survey.pk}/report/issue/", said).status_code == 422


@pytest.mark.parametrize(
    "address", ["/t/%00/", "/check/%00/", "/timber/?q=%00", "/layouts/?tag=%00"]
)
def test_an_address_with_a_nul_in_it_is_refused_and_says_so(yard, address):
    answer = yard.get(address)
    assert answer.status_code == 400
    assert "could not be read" in answer.content.decode()


def test_a_choice_of_many_that_no_row_can_have_is_refused_like_any_other(spec):
    said = {"made_id": "5d3e5c3e-0f0f-4f0f-8f0f-0f0f0f0f0f0f", "to": ["9" * 20]}
    form = CopyForm(said, finding=spec.finding)
    assert form.errors["to"] == [f"Choose one of those listed: “{'9' * 20}” is not among them."]


def test_a_page_is_kept_by_nothing_between_it_and_whoever_asked(yard):
    assert yard.get("/vessels/")["Cache-Control"] == "private, no-cache"


def test_what_stands_beneath_a_field_is_read_not_run(yard, vessel):
    from restoration.models import Yard

    Yard.objects.update_or_create(pk=Yard.current().pk, defaults={"currency": "<b>"})
    page = yard.get(f"/vessels/{vessel.pk}/money/").content.decode()
    assert "in &lt;b&gt;" in page
    assert "in <b>" not in page
