"""Of what is free or left, no more is shown than there is."""

from dataclasses import dataclass

import pytest
from hypothesis import given
from hypothesis import strategies as st

from timber_stock.measure import parse_length_mm
from timber_stock.templatetags.free_lengths import at_most, free_run

UNITS = ("imperial", "imperial32", "metric")


@dataclass(frozen=True)
class Run:
    from_mm: float
    to_mm: float


@pytest.mark.parametrize(
    ("mm", "units", "text"),
    [
        (3100.0, "imperial", "10 ft 2 in"), (3100.0, "imperial32", "10 ft 2 1/32 in"),
        (1299.9, "metric", "1299 mm"), (1300.0, "metric", "1300 mm"),
        (1301.75, "imperial", "4 ft 3 1/4 in"), (None, "imperial", "–"),
    ],
)  # fmt: skip
def test_what_is_left_is_told_down_to_a_mark(mm, units, text):
    assert at_most(mm, units) == text


def test_a_free_run_is_told_inwards_at_both_ends():
    assert free_run(Run(1300.2, 3099.7), "metric") == "1301 mm to 3099 mm"
    assert free_run(Run(1300.2, 3100.0), "imperial") == "4 ft 3 1/4 in to 10 ft 2 in"


@given(st.floats(0, 20_000), st.floats(5, 20_000), st.sampled_from(UNITS))
def test_no_more_is_told_free_than_there_is(start, long, units):
    run = Run(start, start + long)
    first, last = (parse_length_mm(said) for said in free_run(run, units).split(" to "))
    assert first >= run.from_mm - 0.002
    assert last <= run.to_mm + 0.002
    assert parse_length_mm(at_most(long, units)) <= long + 0.002
