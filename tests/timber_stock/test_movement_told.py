"""How a small change of size is told: one way for all that a rule has no mark for."""

import pytest

from timber_stock.templatetags.measures import movement


@pytest.mark.parametrize(
    ("mm", "said"),
    [
        (0, "0 in"),
        (-0.02, "0 in"),
        (-0.36, "−0.4 mm"),
        (0.3969, "0.4 mm"),
        (-0.3969, "−0.4 mm"),
        (0.43, "0.4 mm"),
        (0.79375, "1/32 in (0.8 mm)"),
        (-1.19, "−3/64 in (−1.2 mm)"),
        (4.1, "5/32 in (4.1 mm)"),
    ],
)
def test_what_is_less_than_the_mark_of_a_rule_is_told_in_millimetres_alone(mm, said):
    assert movement(mm, "imperial") == said


def test_a_metric_reader_is_told_millimetres_whatever_the_size():
    assert [movement(mm, "metric") for mm in (-0.4, 4.1)] == ["−0.4 mm", "4.1 mm"]
