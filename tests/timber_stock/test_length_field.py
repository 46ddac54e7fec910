"""Lengths typed into a form: read as the trade writes them, and told what is wrong."""

import pytest
from django.core.exceptions import ValidationError

from timber_stock.web.fields import LengthField


@pytest.mark.parametrize(
    ("typed", "mm"), [("4 1/2", 114.3), ("1-3-1", 384.175), ("114 mm", 114.0), ("", None)]
)
def test_a_length_is_cleaned_to_millimetres(typed, mm):
    cleaned = LengthField(required=False).clean(typed)
    assert cleaned == (mm if mm is None else pytest.approx(mm))


def test_a_bare_number_is_in_the_units_of_who_types_it():
    field = LengthField()
    assert field.clean("5") == pytest.approx(127.0)
    field.units = "metric"
    assert field.clean("5") == 5.0


@pytest.mark.parametrize("typed", ["five", "1" * 41, "4 1/2\x00", "-3"])
def test_nonsense_is_refused_with_a_sentence(typed):
    with pytest.raises(ValidationError) as refused:
        LengthField().clean(typed)
    assert "length" in str(refused.value)
