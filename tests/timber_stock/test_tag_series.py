"""Tags given to pieces: letters and figures by turns, and none twice."""

from itertools import islice

from hypothesis import given
from hypothesis import strategies as st

from timber_stock.models.tag_series import child_tags, give_tags, natural_order, tags_after

TAGS = st.from_regex(r"[A-Za-z0-9]{1,4}(-[0-9]{1,3}[a-z]?)?", fullmatch=True)


def first(count, series):
    return list(islice(series, count))


def test_pieces_of_a_log_are_numbered_and_go_deeper_by_letters_and_figures_in_turn():
    assert first(2, child_tags("L07", is_log=True)) == ["L07-1", "L07-2"]
    assert first(2, child_tags("L07-1", is_log=False)) == ["L07-1a", "L07-1b"]
    assert first(2, child_tags("L07-1a", is_log=False)) == ["L07-1a1", "L07-1a2"]
    assert first(2, child_tags("L07-1a2", is_log=False)) == ["L07-1a2a", "L07-1a2b"]


def test_after_z_come_two_letters():
    assert first(28, child_tags("L1-4", is_log=False))[25:] == ["L1-4z", "L1-4aa", "L1-4ab"]
    assert first(2, tags_after("L1-4az")) == ["L1-4ba", "L1-4bb"]


def test_a_row_of_equal_pieces_goes_on_from_the_tag_typed():
    assert first(2, tags_after("X7")) == ["X8", "X9"]
    assert first(2, tags_after("K099")) == ["K100", "K101"]
    assert first(2, tags_after("X7-2y")) == ["X7-2z", "X7-2aa"]
    assert first(2, tags_after("plank")) == ["plank-2", "plank-3"]


def test_rows_step_round_what_is_taken_and_what_another_row_says():
    rows = [("", 2), ("L07-4", 1), ("", 1), ("l07-4b", 2)]
    given_tags = give_tags(rows, lambda: child_tags("L07", is_log=True), ["L07-1", "l07-2"])
    assert given_tags == [["L07-3", "L07-5"], ["L07-4"], ["L07-6"], ["l07-4b", "l07-4c"]]


def test_a_tag_typed_that_is_taken_stands_so_that_it_is_refused_by_name():
    assert give_tags([("L07-1", 1)], lambda: child_tags("L07", is_log=True), ["L07-1"]) == [
        ["L07-1"]
    ]


@given(
    st.lists(st.tuples(st.one_of(st.just(""), TAGS), st.integers(1, 9)), max_size=6),
    st.sets(TAGS, max_size=8),
    TAGS,
    st.booleans(),
)
def test_no_tag_is_made_up_twice_nor_one_that_is_taken(rows, taken, parent, is_log):
    tags = give_tags(rows, lambda: child_tags(parent, is_log=is_log), taken)
    assert [len(row) for row in tags] == [quantity for _, quantity in rows]
    typed = {text.lower() for text, _ in rows}
    made = [t.lower() for row, (text, _) in zip(tags, rows, strict=True) for t in row if t != text]
    assert len(made) == len(set(made))
    assert not set(made) & ({t.lower() for t in taken} | typed)


def test_boards_are_listed_as_one_counts():
    tags = ["L07-10", "L07-2", "L07-1a10", "L07-1a9", "L07-1", "l06-3", "A", "12"]
    assert sorted(tags, key=natural_order) == [
        "A", "l06-3", "L07-1", "L07-1a9", "L07-1a10", "L07-2", "L07-10", "12",
    ]  # fmt: skip


def test_a_tag_of_more_figures_than_a_number_can_have_is_still_gone_on_from():
    assert first(1, tags_after("9" * 5000 + "07")) == ["9" * 5000 + "08"]


def test_a_figure_that_is_no_number_sorts_as_a_letter():
    assert natural_order("L²") == [(-1, "l²")]
