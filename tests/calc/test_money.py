"""How money is shared out: over pieces, down the chain of sawings, and by the yard's own past."""

from decimal import Decimal
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.money_chain import Board, Carried, Length, Log, Sawn, of_board, of_log
from restoration.calc.money_range import Past, from_the_past, outward, range_of
from restoration.calc.money_spread import in_cents, part_of, spread

D = Decimal
amounts = st.decimals(0, 90_000, places=2)
weights = st.dictionaries(
    st.text("abcdefg", min_size=1, max_size=3),
    st.one_of(st.just(0.0), st.floats(1e-3, 1e12)),
    min_size=1,
    max_size=9,
).filter(lambda found: any(found.values()))


@settings(deadline=None)
@given(amounts, weights)
def test_the_shares_add_up_to_the_cent_and_none_is_less_than_nothing(amount, over):
    shares = spread(amount, over)
    assert sum(shares.values()) == amount
    assert all(share >= 0 for share in shares.values())
    assert all(share == share.quantize(D("0.01")) for share in shares.values())


@settings(deadline=None)
@given(amounts, weights)
def test_each_share_is_within_a_cent_of_its_exact_part(amount, over):
    whole = sum(over.values())
    for name, share in spread(amount, over).items():
        assert abs(float(share) - float(amount) * over[name] / whole) < 0.0100001


@settings(deadline=None)
@given(amounts, weights, st.randoms(use_true_random=False))
def test_the_order_in_which_pieces_are_named_does_not_matter(amount, over, chance):
    names = list(over)
    chance.shuffle(names)
    assert spread(amount, {name: over[name] for name in names}) == spread(amount, over)


def test_the_last_cent_goes_to_the_largest_remainder():
    # 10.00 over 1, 1, 1 leaves a cent: among equals it goes to the first by name.
    assert spread(D("10.00"), {"b": 1, "a": 1, "c": 1}) == {
        "a": D("3.34"), "b": D("3.33"), "c": D("3.33"),
    }  # fmt: skip
    # 0.10 over 7, 2, 2: 6.36, 1.82 and 1.82 cents, so the two small ones round up.
    assert spread(D("0.10"), {"a": 7, "b": 2, "c": 2}) == {
        "a": D("0.06"), "b": D("0.02"), "c": D("0.02"),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("amount", "over", "said"),
    [
        ("-1", {"a": 1}, "nothing or more"),
        ("NaN", {"a": 1}, "nothing or more"),
        ("1.005", {"a": 1}, "to the cent"),
        ("2000000000", {"a": 1}, "more money"),
        ("5", {}, "nothing to share"),
        ("5", {"a": 0, "b": 0}, "measures nothing"),
        ("5", {"a": -2, "b": 3}, "nothing or more"),
        ("5", {"a": float("nan")}, "nothing or more"),
        ("5", {"a": float("inf")}, "nothing or more"),
    ],
)
def test_what_cannot_be_shared_is_refused_in_a_sentence(amount, over, said):
    with pytest.raises(ValueError, match=said):
        spread(D(amount), over)


def test_a_part_is_of_the_whole():
    assert part_of(D("100"), 0.333) == D("33.30")
    with pytest.raises(ValueError, match="between nothing"):
        part_of(D("100"), 1.2)
    assert in_cents(D("5")) == D("5.00")


def two_boards(**more):
    """600 of 1000 came out as two boards, 400 and 200: a fifth and two fifths are slabs."""
    first = Board("A", 400, 4000, **more)
    return (first, Board("B", 200, 4000))


def by_key(entries):
    return {(entry.kind, entry.key): entry.carried for entry in entries}


def test_a_piece_carries_its_timber_and_its_part_of_the_waste_and_of_the_sawing():
    log = Log("L1", D("1000.00"), 0, (Sawn("1", 1000, D("90"), two_boards()),))
    found = by_key(of_log(log))
    # Of 1000.00, 600.00 is still timber; 400.00 went to slabs and dust.
    assert found["stock", "A"] == Carried(D("400.00"), D("266.67"), D("60.00"))
    assert found["stock", "B"] == Carried(D("200.00"), D("133.33"), D("30.00"))


def test_what_is_not_sawn_yet_keeps_its_own_share():
    log = Log("L1", D("1000.00"), 500, (Sawn("1", 1500, D("0"), two_boards()),))
    found = by_key(of_log(log))
    assert found["unsawn", "L1"] == Carried(D("250.00"))
    assert sum(c.total for c in found.values()) == D("1000.00")


def test_by_worth_only_where_every_piece_of_the_sawing_has_its_worth():
    dear, cheap = Board("A", 400, 4000, D("90")), Board("B", 200, 4000, D("10"))
    priced = Log("L1", D("600.00"), 0, (Sawn("1", 600, D("0"), (dear, cheap)),))
    assert by_key(of_log(priced, by_worth=True))["stock", "A"].total == D("540.00")
    assert by_key(of_log(priced))["stock", "A"].total == D("400.00")
    half = Log("L1", D("600.00"), 0, (Sawn("1", 600, D("0"), two_boards(worth=D("90"))),))
    assert by_key(of_log(half, by_worth=True))["stock", "A"].total == D("400.00")


def test_lengths_of_a_board_carry_their_shavings_and_the_rest_stays_in_stock():
    length = Length("F12", 1000, 100, 75)
    found = by_key(of_board(Board("X", 400, 4000, lengths=(length,)), D("400.00")))
    assert found["length", "F12"] == Carried(D("75.00"), D("25.00"))
    assert found["stock", "X"] == Carried(D("300.00"))


def test_of_a_board_that_is_used_up_its_lengths_carry_the_offcut_too():
    lengths = (Length("F12", 2000, 200, 200), Length("F14", 1000, 100, 100))
    board = Board("X", 400, 4000, lengths=lengths, rest="used")
    found = by_key(of_board(board, D("400.00")))
    assert found == {
        ("length", "F12"): Carried(D("200.00"), D("66.67")),
        ("length", "F14"): Carried(D("100.00"), D("33.33")),
    }


def test_what_is_sold_or_scrapped_keeps_its_share_and_nobody_carries_it():
    board = Board("X", 400, 4000, lengths=(Length("F12", 1000, 100, 100),), rest="gone")
    assert by_key(of_board(board, D("400")))["gone", "X"].total == D("300.00")


def test_more_out_of_the_saw_than_in_is_refused():
    with pytest.raises(ValueError, match="More came off the saw"):
        of_log(Log("L1", D("10"), 0, (Sawn("1", 599, D("0"), two_boards()),)))


@st.composite
def boards(draw, key, volume, depth):
    taken = draw(st.lists(st.floats(0.05, 0.3), max_size=3))
    lengths = tuple(
        Length(f"{key}/{n}", 3000 * share, volume * share, volume * share * draw(st.floats(0, 1)))
        for n, share in enumerate(taken)
    )
    rest, sawn = draw(st.sampled_from(["stock", "used", "gone"])), None
    if depth and draw(st.booleans()):
        rest, sawn = "sawn", draw(sawings(f"{key}.", volume * (1 - sum(taken)), depth - 1))
    return Board(key, volume, 3000, draw(st.none() | amounts), lengths, rest, sawn)


@st.composite
def sawings(draw, key, volume, depth):
    parts = draw(st.lists(st.floats(0.02, 0.3), min_size=1, max_size=3))
    made = [draw(boards(f"{key}{n}", volume * part, depth)) for n, part in enumerate(parts)]
    return Sawn(key, volume, draw(amounts), tuple(made))


@st.composite
def logs(draw):
    parts = draw(st.lists(st.floats(0.1, 0.4), min_size=1, max_size=2))
    sawn = [draw(sawings(f"s{n}:", 1e9 * part, 2)) for n, part in enumerate(parts)]
    return Log("L", draw(amounts), 1e9 * (1 - sum(parts)), tuple(sawn))


def paid(sawn):
    below = sum(paid(piece.sawn) for piece in sawn.pieces if piece.sawn)
    return sawn.cost + below


@settings(max_examples=60, deadline=None)
@given(logs(), st.booleans())
def test_down_the_whole_chain_nothing_is_lost_or_made(log, by_worth):
    entries = of_log(log, by_worth=by_worth)
    all_paid = log.cost + sum(paid(sawn) for sawn in log.sawings)
    assert sum(entry.carried.total for entry in entries) == all_paid
    for entry in entries:
        assert min(entry.carried.timber, entry.carried.waste, entry.carried.sawing) >= 0
    assert sum(entry.carried.sawing for entry in entries) == all_paid - log.cost


@settings(max_examples=40, deadline=None)
@given(logs(), st.booleans())
def test_down_the_whole_chain_the_order_of_sawings_and_boards_does_not_matter(log, by_worth):
    turned = Log(log.key, log.cost, log.unsawn_mm3, tuple(_turned(s) for s in log.sawings[::-1]))
    assert by_key(of_log(turned, by_worth=by_worth)) == by_key(of_log(log, by_worth=by_worth))


def _turned(sawn):
    pieces = [
        Board(
            p.key, p.volume_mm3, p.length_mm, p.worth, p.lengths[::-1], p.rest,
            p.sawn and _turned(p.sawn),
        )
        for p in reversed(sawn.pieces)
    ]  # fmt: skip
    return Sawn(sawn.key, sawn.in_mm3, sawn.cost, tuple(pieces))


def test_with_no_past_there_is_no_range_and_it_says_so():
    past = from_the_past([])
    assert past == Past(0)
    assert "no range is given" in past.says
    assert range_of(D("1000"), past) is None


def test_one_job_is_told_and_gives_no_range():
    past = from_the_past([1.31])
    assert past.says.startswith("One job of this yard with an estimate is done: it took 131 % of")
    assert "no range is given" in past.says
    assert range_of(D("1000"), past) is None


def test_a_few_jobs_give_their_whole_span_and_say_how_few():
    past = from_the_past([1.4, 0.9, 1.1])
    assert (past.count, past.low, past.middle, past.high) == (3, 0.9, 1.1, 1.4)
    assert past.says.startswith("3 jobs of this yard with an estimate are done: they took 90 % to")
    assert "Few" in past.says
    got = range_of(D("1000.00"), past)
    assert (got.low, got.high) == (D("900.00"), D("1400.00"))


def test_a_range_never_begins_below_what_is_spent_and_ends_where_more_is_spent_than_it_reaches():
    past = from_the_past([1.4, 0.9, 1.1])
    got = range_of(D("1000.00"), past, D("1130.55"))
    assert (got.low, got.high) == (D("1130.55"), D("1400.00"))
    assert range_of(D("1000.00"), past, D("1400.01")) is None


def test_a_range_is_rounded_outward_to_whole_units_and_above_a_thousand_to_tens():
    past = from_the_past([0.9137, 1.4218, 1.1])
    got = range_of(D("620.00"), past)  # 566.49 to 881.52
    assert (got.low, got.high) == (D("566.00"), D("882.00"))
    got = range_of(D("1100.00"), past)  # 1005.07 to 1563.98
    assert (got.low, got.high) == (D("1000.00"), D("1570.00"))
    got = range_of(D("705.00"), past)  # 644.16 to 1002.37
    assert (got.low, got.high) == (D("644.00"), D("1010.00"))


@settings(deadline=None)
@given(amounts, amounts)
def test_a_rounded_range_holds_all_it_held_and_is_wider_by_no_more_than_a_step(one, other):
    low, high = sorted((one, other))
    got = outward(low, high)
    assert got.low <= low <= high <= got.high
    assert low - got.low < (10 if low > 1000 else 1)
    assert got.high - high < (10 if high > 1000 else 1)


def test_ten_jobs_or_more_leave_out_the_outermost_tenths():
    # Ratios 1.0 .. 1.9: place (10+1)/10 = 1.1 lies a tenth of the way from 1.0 to 1.1.
    past = from_the_past([1 + n / 10 for n in range(10)])
    assert past.low == pytest.approx(1.01)
    assert past.high == pytest.approx(1.89)
    assert past.middle == pytest.approx(1.45)
    assert "Few" not in past.says


@settings(deadline=None)
@given(st.lists(st.floats(0.05, 20), min_size=2, max_size=30))
def test_a_range_holds_its_middle_and_stays_within_what_was_seen(ratios):
    past = from_the_past(ratios)
    slack = 1e-9
    assert min(ratios) - slack <= past.low <= past.middle + slack
    assert past.middle - slack <= past.high <= max(ratios) + slack


@pytest.mark.parametrize("bad", [0, -0.5, float("nan"), float("inf")])
def test_a_ratio_that_is_none_is_refused(bad):
    with pytest.raises(ValueError, match="more than nothing"):
        from_the_past([1.0, bad])


def test_the_past_does_not_depend_on_the_order_of_the_jobs():
    assert len({from_the_past(list(each)) for each in permutations([0.8, 1.25, 1.0])}) == 1
