"""Which fastenings are drawn: by lot, repeatable, spread over the stations."""

from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.random_sample import Fastening, draw

SEED = "underwater, port, second day"


def group(**sizes):
    return [
        Fastening(f"{station}-{number}", station)
        for station, size in sizes.items()
        for number in range(size)
    ]


groups = st.dictionaries(st.sampled_from("abcdef"), st.integers(1, 25), min_size=1).map(
    lambda sizes: group(**sizes)
)


@settings(max_examples=60, deadline=None)
@given(groups, st.data(), st.randoms())
def test_the_order_of_the_list_does_not_change_which_are_drawn(fastenings, data, random):
    count = data.draw(st.integers(0, len(fastenings)))
    shuffled = list(fastenings)
    random.shuffle(shuffled)
    assert set(draw(shuffled, count, SEED)) == set(draw(fastenings, count, SEED))


@settings(max_examples=60, deadline=None)
@given(groups, st.data())
def test_a_larger_sample_keeps_what_a_smaller_one_chose(fastenings, data):
    count = data.draw(st.integers(1, len(fastenings)))
    assert set(draw(fastenings, count - 1, SEED)) < set(draw(fastenings, count, SEED))


@settings(max_examples=60, deadline=None)
@given(groups, st.data())
def test_each_station_gives_about_its_share(fastenings, data):
    count = data.draw(st.integers(0, len(fastenings)))
    sizes = Counter(fastening.station for fastening in fastenings)
    got = Counter(fastening.station for fastening in draw(fastenings, count, SEED))
    assert sum(got.values()) == count
    for station, size in sizes.items():
        assert got[station] <= size
        assert abs(got[station] - count * size / len(fastenings)) < len(sizes) + 1


def test_a_lopsided_group_is_shared_out_by_size():
    got = Counter(f.station for f in draw(group(stem=10, bilge=70, stern=20), 20, SEED))
    assert got == {"stem": 2, "bilge": 14, "stern": 4}


def test_every_fastening_has_its_chance():
    # 400 seeds, 3 of 12 each: each fastening expects 100 drawings, standard deviation 8.7.
    fastenings = group(garboard=12)
    times = Counter(
        fastening.mark for seed in range(400) for fastening in draw(fastenings, 3, f"seed {seed}")
    )
    assert len(times) == 12
    assert all(60 < count < 140 for count in times.values())


def test_another_seed_draws_others():
    fastenings = group(garboard=200)
    assert set(draw(fastenings, 20, "first")) != set(draw(fastenings, 20, "second"))


def test_what_was_drawn_is_listed_in_the_order_of_the_list():
    fastenings = group(a=9, b=9)
    drawn = draw(fastenings, 7, SEED)
    assert list(drawn) == [fastening for fastening in fastenings if fastening in drawn]


@pytest.mark.parametrize(
    ("fastenings", "count", "seed", "says"),
    [
        (group(a=5), 6, SEED, "6 cannot be drawn from a group of 5"),
        (group(a=5), -1, SEED, "cannot be drawn"),
        (group(a=5), 2.0, SEED, "whole number"),
        (group(a=5), 2, "", "seed"),
        ([*group(a=5), Fastening("a-3", "b")], 2, SEED, "a-3 is on the list twice"),
    ],
)
def test_an_impossible_drawing_is_refused_with_a_sentence(fastenings, count, seed, says):
    with pytest.raises(ValueError, match=says):
        draw(fastenings, count, seed)
