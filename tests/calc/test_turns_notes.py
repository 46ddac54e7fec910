"""What usually holds a hull while members are out, told by their kind."""

from dataclasses import dataclass

import pytest

from restoration.calc import vocabulary
from restoration.calc.turns_notes import STANDING, proposed_notes


@dataclass(frozen=True)
class Out:
    mark: str
    kind: str


def test_members_that_are_held_alike_share_a_note_with_their_marks():
    out = [Out("F3", "floor_timber"), Out("FR8P", "frame"), Out("F7", "floor_timber")]
    floors, frames = proposed_notes(out)
    assert floors.startswith("F3 and F7: shore her under the turn of the bilge")
    assert frames.startswith("FR8P: bend a temporary ribband")


def test_ballast_stands_on_its_own_before_a_keel_bolt_is_slackened():
    (note,) = proposed_notes([Out("KB4", "keel_bolt")])
    assert "before any keel bolt is slackened" in note


def test_every_kind_of_member_has_a_note_and_the_notes_say_what_they_are_worth():
    for code in vocabulary.member_kinds():
        (note,) = proposed_notes([Out("X1", code)])
        assert note.startswith("X1: ")
    assert STANDING.startswith("Common practice, from memory")


def test_nothing_out_needs_no_note():
    assert proposed_notes([]) == ()


def test_a_kind_that_there_is_none_of_is_refused():
    with pytest.raises(ValueError, match="no kind of member"):
        proposed_notes([Out("X1", "mizzen_boom")])
