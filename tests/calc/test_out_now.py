"""Which members are not to come out because of those that are out."""

from restoration.calc.out_now import Hold, holds, neighbours_out
from restoration.calc.turns_asked import Asked, Neighbours, Rule

ROW = ("F1", "F2", "F3", "F4", "F5")
NEXT = tuple(Neighbours(f"F{n}", f"F{n + 1}", "next to each other") for n in range(1, 5))


def asked(*rules, most_out=None):
    return Asked(ROW, NEXT, rules, most_out)


def by(found):
    return [hold.by for hold in found]


def test_the_neighbours_of_what_is_out_are_held_and_nobody_else():
    held = {mark: by(holds(mark, {"F2"}, ROW, asked(), {})) for mark in ROW}
    assert held == {"F1": ["F2"], "F2": [], "F3": ["F2"], "F4": [], "F5": []}


def test_each_neighbour_that_is_out_is_a_reason_of_its_own_with_why_it_is_one():
    found = holds("F3", {"F2", "F4"}, ROW, asked(), {})
    why = "it is out, and a neighbour: next to each other"
    assert found == (Hold("F2", why), Hold("F4", why))


def test_what_is_out_already_is_not_held_but_its_neighbour_is_told():
    assert holds("F2", {"F2", "F3"}, ROW, asked(), {}) == ()
    assert by(neighbours_out("F2", {"F2", "F3"}, asked(), {})) == ["F3"]


def test_two_that_somebody_put_into_one_turn_or_asked_together_do_not_hold_each_other():
    assert holds("F3", {"F2"}, ROW, asked(), {"F2": 1, "F3": 1}) == ()
    assert holds("F3", {"F2"}, ROW, asked(Rule("together", "F3", "F2")), {}) == ()
    assert by(holds("F3", {"F2"}, ROW, asked(), {"F2": 1, "F3": 2})) == ["F2"]


def test_what_is_asked_first_holds_the_other_until_it_is_back():
    before = asked(Rule("before", "F5", "F1"))
    assert by(holds("F1", set(), {"F5", "F1"}, before, {})) == ["F5"]
    assert holds("F5", set(), {"F5", "F1"}, before, {}) == ()
    assert holds("F1", set(), {"F1"}, before, {}) == ()


def test_no_more_come_out_than_are_ever_to_be_out():
    two = asked(most_out=2)
    assert holds("F5", {"F1"}, ROW, two, {}) == ()
    (hold,) = holds("F5", {"F1", "F3"}, ROW, two, {})
    assert (hold.by, hold.why) == (
        "", "2 are out, and never more than 2 are to be out at once",
    )  # fmt: skip
    (one,) = holds("F5", {"F1"}, ROW, asked(most_out=1), {})
    assert one.why.startswith("1 is out")
