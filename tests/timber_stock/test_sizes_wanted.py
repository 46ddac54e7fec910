"""Sizes that something must have, as they are shown: never less than was reckoned."""

import pytest

from timber_stock.templatetags.measures import about, at_least


@pytest.mark.parametrize(
    ("mm", "units", "shown"),
    [
        (17.0, "imperial", "11/16 in"), (17.8, "imperial", "3/4 in"),
        (17.4625, "imperial", "11/16 in"), (17.8, "imperial32", "23/32 in"),
        (17.1, "metric", "17.5 mm"), (17.5, "metric", "17.5 mm"), (None, "metric", "–"),
    ],
)  # fmt: skip
def test_a_size_that_is_wanted_goes_on_to_the_next_mark(mm, units, shown):
    assert at_least(mm, units) == shown


def test_where_the_nearest_mark_would_be_too_little_the_next_is_shown():
    assert (about(17.8), at_least(17.8)) == ("11/16 in", "3/4 in")
