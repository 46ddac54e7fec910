"""Lengths, volumes and clock positions read and written the trade's way."""

import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from timber_stock import measure
from timber_stock.measure import (
    board_feet,
    cubic_metres,
    format_angle,
    format_clock,
    format_length,
    format_section,
    format_size,
    inches_from_mm,
    mm_from_inches,
    parse_clock,
    parse_length_mm,
)
from timber_stock.web.unbroken import unbroken

INCH = 25.4


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("4 1/2", 114.3),
        ('4.5"', 114.3),
        ("4½", 114.3),
        ("4 ½″", 114.3),
        ("4 1/2 in", 114.3),
        ("4-1/2 in.", 114.3),
        ("4 1/2 Inches", 114.3),
        ("7/8", 22.225),
        ("⅞”", 22.225),
        ("7⁄8", 22.225),
        (".5", 12.7),
        ("4,5", 114.3),
        ("1' 3 1/8\"", 384.175),
        ("1'3⅛″", 384.175),
        ("1’ 3 1/8”", 384.175),
        ("1′-3 1/8″", 384.175),
        ("1' 3 1/8''", 384.175),
        ("1' 3 1/8", 384.175),
        ("1 ft 3 in", 381.0),
        ("1 ft. 3 in.", 381.0),
        ("1 foot 3 inches", 381.0),
        ("6'", 1828.8),
        ("6 feet", 1828.8),
        ("6 1/2 ft", 1981.2),
        ("2.5ft", 762.0),
        ("114 mm", 114.0),
        ("114mm", 114.0),
        ("4,5 mm", 4.5),
        ("11.4 cm", 114.0),
        ("0.114 m", 114.0),
        ("0,114 m", 114.0),
        ("1,125 m", 1125.0),
        ("1-3-1", 384.175),
        ("1–3–1", 384.175),
        ("1-3-1+", 385.7625),
        ("0-11-7+", 11.9375 * INCH),
        ("12-0-0", 3657.6),
        ("0", 0.0),
        ("100 m", 100_000.0),
    ],
)
def test_a_length_is_read_however_the_trade_writes_it(text, mm):
    assert parse_length_mm(text) == pytest.approx(mm, rel=1e-12)


def test_a_bare_number_takes_the_unit_the_person_prefers():
    assert parse_length_mm("38") == pytest.approx(38 * INCH)
    assert parse_length_mm("38", "mm") == 38.0
    assert parse_length_mm('38"', "mm") == pytest.approx(38 * INCH)
    assert parse_length_mm("1' 3", "mm") == pytest.approx(15 * INCH)
    assert parse_length_mm("1-3-1", "mm") == pytest.approx(384.175)
    with pytest.raises(ValueError, match="no other unit"):
        parse_length_mm("38", "furlong")


@pytest.mark.parametrize(
    "text",
    [
        *("", " ", "abc", "4 5", "1-3", "1/2/3", "4 in 1/2", "mm", "1e3", "nan", "inf", "١٢", "'"),
        *('"', "1'-", "4..5", "4,5,6", "3 4 1/2", "1' 2' 3", "1-3-1-", "4 +", "9" * 6000, "²"),
    ],
)
@pytest.mark.parametrize("unit", ["in", "mm"])
def test_nonsense_is_answered_with_the_forms_that_can_be_read(text, unit):
    with pytest.raises(ValueError, match=re.escape(measure.ACCEPTED_FORMS)) as refused:
        parse_length_mm(text, unit)
    assert len(str(refused.value)) < 300


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("-4", "negative"),
        ("−4 mm", "negative"),
        ("-1-3-1", "negative"),
        ("1/0", "fraction over nothing"),
        ("4 3/0 mm", "fraction over nothing"),
        ("100.1 m", "over 100 m"),
        ("9999999999", "over 100 m"),
        ("1-12-0", "inches run from 0 to 11"),
        ("1-3-8", "eighths from 0 to 7"),
        ("1-0-9+", "eighths from 0 to 7"),
        ("1' 14\"", "just under 12"),
        ("1.5' 3\"", "whole feet"),
        ("1,016 mm", "two ways"),
        ("1,016", "two ways"),
        ("12,192 in", "two ways"),
    ],
)
def test_a_slip_is_refused_with_a_sentence_that_names_it(text, reason):
    with pytest.raises(ValueError, match=reason):
        parse_length_mm(text)


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (114.3, "4 1/2 in"),
        (22.225, "7/8 in"),
        (0.0, "0 in"),
        (23.9375 * INCH, "23 15/16 in"),
        (24 * INCH, "2 ft"),
        (23.999 * INCH, "2 ft"),
        (24.5 * INCH, "2 ft 0 1/2 in"),
        (87.125 * INCH, "7 ft 3 1/8 in"),
        (95.98 * INCH, "8 ft"),
        (4.40625 * INCH, "4 13/32 in"),
        (4.984375 * INCH, "4 63/64 in"),
        (114.0, "4 1/2 in"),
        (-114.3, "−4 1/2 in"),
        (-0.3, "0 in"),
    ],
)
def test_inches_are_written_in_reduced_fractions_and_feet_from_two_feet_up(mm, text):
    assert format_length(mm) == text


def test_a_coarser_rule_is_used_unless_the_length_sits_on_a_finer_mark():
    assert format_length(3.3 * INCH, denominator=4) == "3 1/4 in"
    assert format_length(3.3125 * INCH, denominator=4) == "3 5/16 in"
    assert format_length(4.4 * INCH, denominator=32) == "4 13/32 in"


def test_a_length_within_a_fiftieth_of_a_millimetre_of_a_finer_mark_is_on_it():
    assert format_length(10.32) == "13/32 in"  # 10.31875 mm
    assert format_length(10.345) == "7/16 in"


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (114.3, "114.3 mm"),
        (114.0, "114 mm"),
        (22.225, "22.2 mm"),
        (22.25, "22.3 mm"),
        (0.0, "0 mm"),
        (9999.9, "9999.9 mm"),
        (9999.96, "10.000 m"),
        (12_500.0, "12.500 m"),
        (12_345.6, "12.3456 m"),
        (-12_345.0, "−12.345 m"),
        (-0.04, "0 mm"),
    ],
)
def test_millimetres_are_written_to_a_tenth_and_metres_from_ten_up(mm, text):
    assert format_length(mm, "metric") == text


def test_a_section_is_written_as_it_is_spoken_of():
    assert format_section(63.5, 127.0) == "2 1/2 × 5 in"
    assert format_section(63.5, 127.0, 1016.0) == "2 1/2 × 5 in × 3 ft 4 in"
    assert format_section(63.5, 30 * INCH, 381.0) == "2 1/2 × 30 in × 15 in"
    assert format_section(64.0, 127.0, None, "metric") == "64 × 127 mm"
    assert format_section(64.0, 127.0, 1016.0, "metric") == "64 × 127 × 1016 mm"
    assert format_section(64.0, 127.0, 12_500.0, "metric") == "64 × 127 mm × 12.500 m"


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (461.6, "462 mm"), (63.5, "64 mm"), (20.4, "20 mm"), (19.05, "19.1 mm"), (2.5, "2.5 mm"),
        (-63.5, "−64 mm"), (9999.7, "10.000 m"), (10_439.4, "10.439 m"),
    ],
)  # fmt: skip
def test_a_size_of_timber_is_to_the_whole_millimetre_and_thin_stuff_to_its_tenth(mm, text):
    assert format_size(mm, "metric") == text


@pytest.mark.parametrize(
    ("mm", "denominator", "text"),
    [
        (3300.0, 16, "10 ft 9 15/16 in"), (3300.0, 32, "10 ft 9 29/32 in"),  # near 9 59/64 in
        (127.0 + 7.55, 16, "5 5/16 in"),  # 5 19/64 in and a hundredth of a millimetre
        (4.40625 * INCH, 16, "4 13/32 in"), (20.078125 * INCH, 16, "20 5/64 in"),
        (27.0 - 0.8, 16, "1 1/32 in"), (19.85, 16, "25/32 in"),  # thin stuff, near its mark
        (-134.55, 16, "−5 5/16 in"),
    ],
)  # fmt: skip
def test_a_size_in_inches_has_a_finer_mark_where_it_is_thin_or_just_that(mm, denominator, text):
    assert format_size(mm, "imperial", denominator) == text
    if mm > 0:
        section = format_section(mm, 25.4, mm, "imperial", denominator)
        assert section.endswith(f" × 1 in × {text}")


@given(st.integers(5080, 2_000_000))
def test_a_size_in_hundredths_of_a_millimetre_never_has_a_finer_mark_than_the_rule(hundredths):
    assert not re.search("/(32|64) in", format_size(hundredths / 100))


@given(st.integers(0, 200_000))
def test_a_size_typed_to_a_64th_is_never_shown_as_another(marks):
    mm = marks / 64 * INCH
    assert parse_length_mm(format_size(mm)) == pytest.approx(mm, abs=1e-6)


def test_a_size_in_inches_keeps_the_marks_of_the_rule():
    assert format_size(65.0875, "imperial", 32) == "2 9/16 in"
    assert format_section(63.5, 127.0, 1066.8, "metric") == "64 × 127 × 1067 mm"
    assert format_section(2.5, 44.45, None, "metric") == "2.5 × 44 mm"


def test_a_figure_is_written_so_that_no_line_breaks_in_it():
    said = "Soft 1 5/8 in deep over 2 ft 3 1/2 in, 12 % wet; 2 1/2 × 5 in, since 1936 in oak"
    whole = "Soft 1_5/8_in deep over 2_ft_3_1/2_in, 12_% wet; 2_1/2 × 5_in, since 1936_in oak"
    assert unbroken(said) == whole.replace("_", "\N{NO-BREAK SPACE}")


def test_volumes_are_counted_in_cubic_metres_and_in_board_feet():
    assert board_feet(INCH * 12 * INCH * 12 * INCH) == pytest.approx(1.0)
    assert board_feet(10 * INCH * 10 * INCH * 192 * INCH) == pytest.approx(400 / 3)
    assert board_feet(1e9) == pytest.approx(423.776, abs=5e-4)
    assert cubic_metres(142_000_000.0) == pytest.approx(0.142)


def test_angles_are_written_in_degrees():
    assert format_angle(12.5) == "12.5°"
    assert format_angle(45.0) == "45°"
    assert format_angle(-7.25) == "−7.3°"
    assert format_angle(-0.01) == "0°"


@pytest.mark.parametrize(
    ("text", "hours"),
    [
        ("4 o'clock", 4.0),
        ("4 O’Clock", 4.0),
        ("4:30", 4.5),
        ("4", 4.0),
        ("12", 12.0),
        ("12:30", 0.5),
        ("11:45 o'clock", 11.75),
        ("04:06", 4.1),
    ],
)
def test_a_clock_position_is_read(text, hours):
    assert parse_clock(text) == pytest.approx(hours)


@pytest.mark.parametrize("text", ["", "0", "13", "4:60", "4:5", "-4", "4.5", "noon", "nan"])
def test_what_is_not_on_the_clock_is_refused_by_name(text):
    with pytest.raises(ValueError, match="Write 4 o'clock, 4:30 or 4"):
        parse_clock(text)


def test_a_clock_position_is_written_to_the_minute():
    assert format_clock(4.0) == "4 o'clock"
    assert format_clock(4.5) == "4:30"
    assert format_clock(0.5) == "12:30"
    assert format_clock(0.001) == "12 o'clock"
    assert format_clock(11.9999) == "12 o'clock"
    for hours in (0.0, -1.0, 12.01):
        with pytest.raises(ValueError, match="up to 12"):
            format_clock(hours)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
@pytest.mark.parametrize(
    "use",
    [
        *(format_length, format_angle, format_clock, board_feet, cubic_metres),
        *(mm_from_inches, inches_from_mm),
        lambda n: format_section(n, 1.0),
        lambda n: format_section(1.0, 1.0, n),
        lambda n: format_length(n, "metric"),
    ],
)
def test_a_missing_or_endless_figure_is_never_written_as_a_measure(use, bad):
    with pytest.raises(ValueError, match="must be a number"):
        use(bad)


def test_unknown_systems_and_rules_are_refused():
    with pytest.raises(ValueError, match="imperial or metric"):
        format_length(100.0, "cubits")
    with pytest.raises(ValueError, match="parts to the inch"):
        format_length(100.0, denominator=10)
    with pytest.raises(ValueError, match="nought or more"):
        format_section(-1.0, 20.0)


SIXTY_FOURTHS = st.integers(0, 64 * 12 * 300)
MM = st.floats(0, 99_990, allow_nan=False)
RULES = st.sampled_from([1, 2, 4, 8, 16, 32, 64])


@given(SIXTY_FOURTHS, RULES)
def test_what_is_typed_to_a_sixty_fourth_comes_back_as_it_went_in(marks, denominator):
    typed_mm = parse_length_mm(f"{marks}/64")
    assert parse_length_mm(format_length(typed_mm, denominator=denominator)) == typed_mm


@given(st.integers(0, 300), st.integers(0, 11), st.integers(0, 7), st.sampled_from(["", "+"]))
def test_feet_inches_and_eighths_come_back_as_they_went_in(feet, inches, eighths, plus):
    typed_mm = parse_length_mm(f"{feet}-{inches}-{eighths}{plus}")
    assert typed_mm == (12 * feet + inches + eighths / 8 + (1 / 16 if plus else 0)) * INCH
    assert parse_length_mm(format_length(typed_mm)) == typed_mm


@given(st.integers(0, 999_990))
def test_what_is_typed_to_a_tenth_of_a_millimetre_comes_back_as_it_went_in(tenths):
    typed_mm = parse_length_mm(f"{tenths // 10}.{tenths % 10} mm")
    read_back_mm = parse_length_mm(format_length(typed_mm, "metric"))
    assert read_back_mm == pytest.approx(typed_mm, rel=1e-12)


@given(MM, RULES)
def test_a_written_length_is_never_further_off_than_half_a_mark(mm, denominator):
    metric_mm = parse_length_mm(format_length(mm, "metric"))
    imperial_mm = parse_length_mm(format_length(mm, denominator=denominator))
    assert abs(metric_mm - mm) <= 0.05 + 1e-6
    assert abs(imperial_mm - mm) <= INCH / denominator / 2 + 1e-6


@given(MM, RULES, st.sampled_from(["imperial", "metric"]))
def test_writing_what_was_read_changes_nothing_more(mm, denominator, units):
    once = format_length(mm, units, denominator)
    assert format_length(parse_length_mm(once), units, denominator) == once


@given(MM, RULES, st.sampled_from(["imperial", "metric"]))
def test_a_length_that_does_not_break_is_read_as_the_same_length(mm, denominator, units):
    written = format_length(mm, units, denominator)
    whole = unbroken(written)
    assert not re.search(" ", whole)
    assert parse_length_mm(whole, "mm") == parse_length_mm(written, "mm")


@given(MM)
def test_a_size_is_never_further_off_than_half_a_millimetre(mm):
    assert abs(parse_length_mm(format_size(mm, "metric")) - mm) <= 0.5 + 1e-6
    assert abs(parse_length_mm(format_size(mm)) - mm) <= INCH / 32 + 1e-6


MEASURING_SIGNS = st.text(alphabet="0123456789 /.,-+'\"½⅞″inftmc", max_size=14)


def length_or_sentence(text: str, unit: str) -> float | str:
    try:
        return parse_length_mm(text, unit)
    except ValueError as refused:
        return str(refused)


@given(st.text(max_size=50) | MEASURING_SIGNS, st.sampled_from(["in", "mm"]))
def test_any_text_is_a_length_or_a_sentence(text, unit):
    answer = length_or_sentence(text, unit)
    if isinstance(answer, str):
        assert re.search(r"[“A].{10,}\.$", answer, re.DOTALL)
    else:
        assert 0 <= answer <= 100_000


@given(st.integers(1, 720))
def test_a_clock_position_comes_back_as_it_went_in(minutes):
    assert parse_clock(format_clock(minutes / 60)) == pytest.approx(minutes / 60)
