"""One line read into a run of members; what is not understood is named, never dropped."""

from dataclasses import asdict

import pytest
from hypothesis import given
from hypothesis import strategies as st

from restoration.calc.repeat_sentence import kind_named, read_sentence

WOODS = ["white oak", "iroko"]


def said(text):
    return {name: value for name, value in asdict(read_sentence(text, WOODS)).items() if value}


def test_the_floors_of_a_hull_are_read_from_one_line():
    line = "floors 1 to 24, at stations 1 to 24, sided 2 1/2 in, moulded 5 in amidships"
    assert said(line) == {
        "kind": "floor_timber", "first": "1", "last": "24",
        "station_first": "1", "station_last": "24", "sided": "2 1/2 in", "moulded": "5 in",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("ribs 3-28 to both sides", {"kind": "frame", "first": "3", "last": "28", "side": "pair"}),
        ("frames 3–28 both sides.", {"kind": "frame", "first": "3", "last": "28", "side": "pair"}),
        ("beam no. 4, on port side", {"kind": "deck_beam", "first": "4", "last": "4", "side": "P"}),
        ("Planks 1 through 11", {"kind": "planking", "first": "1", "last": "11"}),
        ("keel; white oak; 4 ft long", {"kind": "keel", "wood": "white oak", "length": "4 ft"}),
        ("of Iroko, length 1-3-1", {"wood": "iroko", "length": "1-3-1"}),
        ("sided 2,5 cm, moulded 114 mm", {"sided": "2,5 cm", "moulded": "114 mm"}),
        ("sided 2½ moulded 1' 3\"", {"sided": "2½", "moulded": "1' 3\""}),
        ("molded 5 amidships and 3 1/2 at the ends", {"moulded": "5", "moulded_ends": "3 1/2"}),
        ("moulded 5 in to 3 in at ends", {"moulded": "5 in", "moulded_ends": "3 in"}),
        ("moulded 5, 3 at the ends", {"moulded": "5", "moulded_ends": "3"}),
        ("stations from 2 every 1.5", {"station_first": "2", "station_spacing": "1.5"}),
        ("at station 7", {"station_first": "7"}),
        ("steamed frames 1 to 9", {"kind": "frame_steamed", "first": "1", "last": "9"}),
    ],
)  # fmt: skip
def test_a_part_is_read_in_the_ways_the_trade_says_it(line, expected):
    assert said(line) == expected


@pytest.mark.parametrize(
    ("line", "unread"),
    [
        ("floors 1 to 24, painted green", ("painted green",)),
        ("sided about 5, moulded five", ("sided about 5", "moulded five")),
        ("sided 2, sided 3", ("sided 3",)),
        ("gronkles 1 to 4, oak", ("gronkles 1 to 4", "oak")),
        ("timbers 1 to 4", ("timbers 1 to 4",)),
    ],
)
def test_what_is_not_understood_is_named(line, unread):
    assert read_sentence(line, WOODS).unread == unread


def test_an_empty_line_says_nothing():
    assert said("") == {}


@pytest.mark.parametrize(
    ("words", "code"),
    [
        *[("floors", "floor_timber"), ("floor timber", "floor_timber"), ("Ribs", "frame")],
        *[("deck beams", "deck_beam"), ("beams", "deck_beam"), ("keel", "keel")],
        # "forefoot" is another name of the stem foot, but a kind in its own right.
        *[("forefoot", "forefoot"), ("timbers", ""), ("sided", ""), ("", "")],
    ],
)
def test_a_kind_goes_by_any_of_its_names_unless_two_kinds_share_it(words, code):
    assert kind_named(words) == code


WORDS = """floors 1 to 24 , at stations sided 2 1/2 in moulded amidships ends both sides port
oak and ; white from every green"""


@given(st.lists(st.sampled_from(WORDS.split()), max_size=18))
def test_no_word_of_a_line_is_dropped_in_silence(words):
    reading = asdict(read_sentence(" ".join(words), WOODS))
    kept = " ".join([*reading.pop("unread"), *map(str, reading.values())]).split()
    assert kept.count("green") == words.count("green")
    assert kept.count("white") == words.count("white")
    # "every" is spent on the spacing it names, if that was understood.
    spent = 1 if reading["station_spacing"] else 0
    assert kept.count("every") == words.count("every") - spent
