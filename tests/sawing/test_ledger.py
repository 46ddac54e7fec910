"""The yield of a log adds up, and its price is laid on its pieces to the last cent."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from timber_stock.sawing.ledger import Yield, spread, trim_mm3
from timber_stock.sawing.log_solid import log_volume_mm3
from timber_stock.sawing.request import Log

PART = st.floats(0, 1e8)


@given(PART, PART, PART, PART, PART)
def test_what_is_counted_and_the_slabs_add_up_to_the_log(timbers, extra, dust, trim, slabs):
    whole = timbers + extra + dust + trim + slabs
    reckoned = Yield(whole, timbers, extra, dust, trim)
    assert reckoned.slabs_mm3 == pytest.approx(slabs, abs=1)


def test_more_out_than_in_is_refused_in_a_sentence():
    with pytest.raises(ValueError, match="More is counted out of the log"):
        Yield(1e9, 0.8e9, 0.1e9, 0.1e9, 0.1e9)


@given(st.integers(0, 10**9), st.lists(st.floats(0.001, 1e9), min_size=1, max_size=40))
def test_a_price_is_laid_on_the_pieces_to_the_last_coin(total, shares):
    laid = spread(total, shares)
    assert sum(laid) == total
    for coins, share in zip(laid, shares, strict=True):
        assert coins == pytest.approx(total * share / sum(shares), abs=1.01)


def test_pieces_without_size_carry_no_price():
    with pytest.raises(ValueError, match="some size"):
        spread(500, [0, 0])
    with pytest.raises(ValueError, match="some size"):
        spread(500, [])


@given(st.floats(0, 1900), st.floats(0, 1900))
def test_trimmed_ends_and_the_rest_make_the_whole_log(butt, top):
    log = Log(4000, (640, 520), (480, 430), (0, 0), (0, 0))
    share = [b + (t - b) * butt / 4000 for b, t in zip((640, 520), (480, 430), strict=True)]
    far = [b + (t - b) * (4000 - top) / 4000 for b, t in zip((640, 520), (480, 430), strict=True)]
    rest = Log(4000 - butt - top, tuple(share), tuple(far), (0, 0), (0, 0))
    assert trim_mm3(log, butt, top) + log_volume_mm3(rest) == pytest.approx(log_volume_mm3(log))


def test_trimming_all_of_it_is_refused():
    log = Log(4000, (640, 520), (480, 430), (0, 0), (0, 0))
    with pytest.raises(ValueError, match="leave some of the log"):
        trim_mm3(log, 2500, 1500)
