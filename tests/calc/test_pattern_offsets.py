"""Tables of offsets as yards write them, and every cell that cannot be read said by its row."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.pasted_table import rows
from restoration.calc.pattern import Bevel, BoltHole, Pattern, PatternLine, checked
from restoration.calc.pattern_cells import CannotBeRead, signed_mm
from restoration.calc.pattern_extras import (
    bevels_as_table,
    bevels_from_table,
    holes_as_table,
    holes_from_table,
    lines_as_table,
    lines_from_table,
    outline_as_table,
)
from restoration.calc.pattern_offsets import line_kind, outline_from_table

INCH = 25.4


def edges(text, unit="in", **more):
    return outline_from_table(text, way="edges", bare_unit=unit, **more)


def faults(call, *args, **named):
    with pytest.raises(CannotBeRead) as said:
        call(*args, **named)
    return said.value.sentences


@pytest.mark.parametrize(
    "text",
    [
        "0\t4\t-1\n30\t5 1/2\t0",
        "0;4;-1\n30;5 1/2;0",
        "0, 4, -1\n30, 5 1/2, 0",
        "0 | 4 | −1\n30 | 5 1/2 | 0",
        "0   4   -1\n30   5 1/2   0",
        "0 4 -1\n30 5.5 0",
        "0-0-0; 0-4-0; -0-1-0\n2-6-0; 0-5-4; 0-0-0",
        "0 mm; 101.6 mm; -25.4 mm\n762 mm; 13.97 cm; 0 mm",
    ],
)
def test_the_same_table_reads_the_same_however_its_cells_are_parted_and_written(text):
    outline = edges(text).outline_mm
    expected = [(0, -INCH), (30 * INCH, 0), (30 * INCH, 5.5 * INCH), (0, 4 * INCH)]
    assert [tuple(map(pytest.approx, corner)) for corner in outline] == expected


def test_behind_tabs_a_comma_is_a_decimal_comma():
    assert edges("0\t10,5\t0\n100\t8\t-1,25", "mm").outline_mm == (
        (0, 0), (100, -1.25), (100, 8), (0, 10.5),
    )  # fmt: skip


@pytest.mark.parametrize(("unit", "mm"), [("mm", 1), ("cm", 10), ("m", 1000), ("ft", 304.8)])
def test_a_bare_figure_is_in_the_unit_that_was_said(unit, mm):
    assert signed_mm("-2.5", unit) == pytest.approx(-2.5 * mm)
    assert signed_mm("3 in", unit) == pytest.approx(3 * INCH)


def test_a_heading_names_the_columns_in_any_order_and_gives_lines_their_own():
    taken = edges("Rabbet\tStation\tLower\tUpper edge\n\t0\t0\t9\n4\t100\t1\t8\n5\t200\t2\t7", "mm")
    assert taken.outline_mm[:2] == ((0, 0), (100, 1))
    assert taken.lines == (PatternLine("rabbet", ((100, 4), (200, 5))),)


def test_half_breadths_stand_either_side_of_a_centreline():
    taken = outline_from_table("0; 30\n200; 45\n300; 0", way="half_breadths", bare_unit="mm")
    assert taken.outline_mm == ((0, -30), (200, -45), (300, 0), (200, 45), (0, 30))
    assert taken.lines == (PatternLine("centre", ((0, 0), (200, 0), (300, 0))),)


def test_a_half_breadth_below_nought_is_said_by_its_row_and_by_that_name():
    with pytest.raises(CannotBeRead) as said:
        outline_from_table("0; 30\n200; -45\n300; 0", way="half_breadths", bare_unit="mm")
    (sentence,) = said.value.sentences
    assert sentence.startswith("Offsets, row 2: a half breadth is nought or more")


def test_corners_go_round_once_though_the_first_is_typed_again_at_the_end():
    text = "0; 0\n300; -40\n120; 95\n0; 0"
    taken = outline_from_table(text, way="corners", bare_unit="mm")
    assert taken.outline_mm == ((0, 0), (300, -40), (120, 95))


def test_a_fair_curve_goes_through_every_offset_and_stays_between_its_neighbours():
    table = "0 0 -10\n100 90 -25\n250 95 -25\n400 20 0"
    straight, curved = edges(table, "mm").outline_mm, edges(table, "mm", fair=True).outline_mm
    assert len(curved) > 4 * len(straight)
    for corner in straight:
        assert min(math.dist(corner, point) for point in curved) < 1e-9
    assert max(y for _, y in curved) <= 95 + 1e-9
    assert min(y for _, y in curved) >= -25 - 1e-9


def test_a_blank_cell_is_no_offset_and_the_edge_passes_by():
    assert edges("0;9;0\n50;;-4\n100;8;0", "mm").outline_mm == (
        (0, 0), (50, -4), (100, 0), (100, 8), (0, 9),
    )  # fmt: skip


def test_every_bad_cell_is_said_at_once_by_its_row_and_column():
    said = faults(edges, "along, upper, lower\n0, 4, 0\n5, abc, 1-13-0\n\n9, 3, 1, 7\n8, , 0")
    text = " ".join(said)
    assert "row 3: upper edge: “abc” is not a length" in text
    assert "row 3: lower edge: “1-13-0” is not feet-inches-eighths" in text
    assert "row 5: 4 cells where there are 3 columns" in text
    assert "row 6: it does not lie further along" in text


def test_faults_are_said_from_the_first_row_to_the_last_whatever_was_looked_at_first():
    with pytest.raises(CannotBeRead) as said:
        outline_from_table("0; 90; 0\n100; oak; 5\n80; 95; 5", way="edges", bare_unit="mm")
    assert [sentence[:14] for sentence in said.value.sentences] == [
        "Offsets, row 2",
        "Offsets, row 3",
    ]


def test_many_bad_cells_do_not_make_an_endless_list():
    said = faults(edges, "\n".join(f"{n}; x; y" for n in range(1, 60)))
    assert len(said) == 13
    assert said[-1].endswith("106 more rows or cells like these.")


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "no row with figures"),
        ("along, upper, lower\n", "no row with figures"),
        ("0; 4; 0", "two rows or more"),
        ("0; 4; 0\n5; ; 0", "first and the last row need both edges"),
        ("0; 4; 6\n5; 4; 0", "upper edge lies below the lower"),
        ("along, upper, keel bolt\n0, 1, 2", "“keel bolt” is not one that is known"),
        ("along, upper, top\n0, 1, 2", "stands there twice"),
        ("along, upper, rabbet\n0, 1, 2", "no column is headed “lower edge”"),
    ],
)
def test_a_table_from_which_no_outline_comes_says_what_it_lacks(text, what):
    assert any(what in sentence for sentence in faults(edges, text))


def test_a_way_or_a_unit_that_does_not_exist_is_refused():
    with pytest.raises(ValueError, match="one of three ways"):
        outline_from_table("0;1", way="guess", bare_unit="mm")
    with pytest.raises(ValueError, match="A bare figure is in"):
        edges("0;1;0\n5;1;0", "furlong")


def test_lines_go_on_while_their_name_does_and_a_blank_row_begins_another():
    text = "rabbet line; 0; 5\n; 40; 6\nrabbet line; 90; 9\n\nrabbet; 0; 1\nrabbet; 7; 2\nCL; 0; 0"
    text += "\nCL; 100; 0"
    found = lines_from_table(text, "mm")
    assert [(line.kind, len(line.points_mm)) for line in found] == [
        ("rabbet", 3), ("rabbet", 2), ("centre", 2),
    ]  # fmt: skip


def test_a_line_of_no_known_kind_or_of_one_point_is_said_by_row():
    said = faults(lines_from_table, "rabbet; 0; 1\nbulwark; 3; 4", "mm")
    assert "row 2: “bulwark” is not a line that is known" in said[0]
    assert (
        "row 1: a rabbet line needs two points" in faults(lines_from_table, "rabbet; 0; 1", "mm")[0]
    )


@pytest.mark.parametrize(
    ("words", "kind"),
    [("Inner rabbet", "inner_rabbet"), ("bearding-line", "bearding"), ("LWL", "waterline"),
     ("centerline", "centre"), ("other line", "other"), ("keelson", None), ("", None)],
)  # fmt: skip
def test_a_line_is_known_by_what_yards_call_it(words, kind):
    assert line_kind(words) == kind


def test_holes_need_all_three_figures_and_bevels_degrees():
    assert holes_from_table("1; 2; 1/2", "in") == (BoltHole(INCH, 2 * INCH, 12.7),)
    said = faults(holes_from_table, "1; 2\n1; 2; -3\n4; 5; 6; 7", "in")
    assert "row 1: diameter is missing" in said[0]
    assert "row 2: diameter" in said[1]
    assert "row 3: 4 cells" in said[2]
    assert bevels_from_table("90; −2,5°\n10; 4", "mm") == (Bevel(10, 4), Bevel(90, -2.5))
    assert "row 1: degrees: “steep”" in faults(bevels_from_table, "3; steep", "mm")[0]


def test_rows_keep_the_number_they_have_in_the_text():
    assert [row.number for row in rows("a,b\n\n1,2") if not row.is_blank()] == [1, 3]


far = st.floats(-20_000, 20_000).map(lambda n: round(n, 3))


@given(
    st.lists(st.tuples(far, far), min_size=3, max_size=30),
    st.sampled_from(["in", "mm", "ft"]),
)
@settings(max_examples=60, deadline=None)
def test_what_a_pattern_is_can_be_read_back_from_its_own_tables(points, unit):
    line = PatternLine("bearding", tuple(points))
    holes = tuple(BoltHole(x, y, 6.5) for x, y in points[:3])
    bevels = tuple(sorted((Bevel(x, -3.25) for x, _ in points[:3]), key=lambda b: b.x_mm))
    again = lines_from_table(lines_as_table([line, line]), unit)
    assert [each.kind for each in again] == ["bearding", "bearding"]
    for read, was in zip(again[1].points_mm, points, strict=True):
        assert math.dist(read, was) < 1e-6
    for read, was in zip(holes_from_table(holes_as_table(holes), unit), holes, strict=True):
        assert math.dist((read.x_mm, read.y_mm), (was.x_mm, was.y_mm)) < 1e-6
    for read, was in zip(bevels_from_table(bevels_as_table(bevels), unit), bevels, strict=True):
        assert (read.x_mm, read.degrees) == (pytest.approx(was.x_mm, abs=1e-6), -3.25)


@given(st.lists(st.tuples(st.integers(20, 300), st.integers(5, 90)), min_size=2, max_size=12))
@settings(max_examples=40, deadline=None)
def test_a_pattern_by_stations_holds_and_is_read_back_by_its_corners(steps):
    along, table, area = 0, [], 0.0
    for n, (step, breadth) in enumerate(steps):
        if n:
            area += step * (breadth + steps[n - 1][1])
            along += step
        table.append(f"{along}; {breadth}")
    taken = outline_from_table("\n".join(table), way="half_breadths", bare_unit="mm")
    pattern = checked(Pattern(taken.outline_mm, 40.0, taken.lines))
    again = outline_from_table(
        outline_as_table(pattern.outline_mm), way="corners", bare_unit="in"
    ).outline_mm
    for read, was in zip(again, pattern.outline_mm, strict=True):
        assert math.dist(read, was) < 1e-6
    from shapely import Polygon

    assert Polygon(again).area == pytest.approx(area)
