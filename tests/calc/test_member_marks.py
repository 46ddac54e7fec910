"""Marks proposed for members: letters of the kind, the next number, the side."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from restoration.calc.groups import GROUP_TITLES, kinds_by_group
from restoration.calc.marks import MARK_LETTERS
from restoration.calc.member_marks import ProposedMark, mark_of, propose_mark
from restoration.calc.vocabulary import member_kinds


@pytest.mark.parametrize(
    ("kind", "taken", "side", "mark", "number"),
    [
        ("keel", [], "C", "K", None),
        ("keel", ["K"], "C", "K2", 2),
        ("keel", ["K", "K2", "KN"], "C", "K3", 3),
        ("floor_timber", [], "C", "F1", 1),
        ("floor_timber", ["F1", "F12", "F3"], "C", "F13", 13),
        ("floor_timber", ["f12"], "C", "F13", 13),
        ("floor_timber", ["FR40", "FU9P", "F2"], "C", "F3", 3),
        ("frame", ["FR7P", "FR7S", "FR8P"], "S", "FR8S", 8),
        ("frame", ["FR7P"], "P", "FR8P", 8),
        ("bilge_stringer", [], "P", "BSP", None),
        ("bilge_stringer", ["BSP"], "S", "BSS", None),
        ("bilge_stringer", ["BSP"], "P", "BS2P", 2),
        ("deck_beam", ["B4"], "B", "B5", 5),
    ],
)
def test_the_next_mark_of_a_kind_is_proposed(kind, taken, side, mark, number):
    assert propose_mark(kind, taken, side) == ProposedMark(mark, number)


def test_a_number_that_was_given_is_kept_though_its_mark_is_taken():
    assert propose_mark("frame", ["FR7P"], "P", 7) == ProposedMark("FR7P", 7)


def test_a_kind_that_is_not_in_the_table_has_no_mark():
    with pytest.raises(ValueError, match="“sided” is no kind of member"):
        mark_of("sided", 1)


@given(
    kind=st.sampled_from(list(MARK_LETTERS)),
    side=st.sampled_from(["C", "P", "S", "B", ""]),
    made=st.integers(1, 12),
)
def test_a_proposed_mark_is_never_one_that_is_taken(kind, side, made):
    taken: list[str] = []
    for _ in range(made):
        proposed = propose_mark(kind, [mark.lower() for mark in taken], side)
        assert proposed.mark not in taken
        assert proposed.mark == mark_of(kind, proposed.number, side)
        taken.append(proposed.mark)


def test_every_kind_is_listed_once_under_the_heading_of_its_group():
    listed = [kind for kinds in kinds_by_group().values() for kind in kinds]
    assert sorted(kind.code for kind in listed) == sorted(member_kinds())
    assert list(kinds_by_group()) == list(GROUP_TITLES.values())
    assert {k.code for k in kinds_by_group()["Framing"]} >= {"floor_timber", "frame", "mast_step"}
    assert kinds_by_group()["Backbone"][0].code == "keel"
