"""Which causes are offered first: all of them, those named before in front, unknown last."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc import vocabulary
from restoration.calc.usual_causes import usual_causes

codes = sorted(vocabulary.causes())
counts = st.dictionaries(st.sampled_from(codes), st.integers(0, 50), max_size=8)


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(sorted(vocabulary.member_kinds())), counts)
def test_every_cause_is_offered_once_and_the_one_that_says_nothing_last(kind, named):
    offered = usual_causes(kind, named)
    assert sorted(offered) == codes
    assert offered[-1] == "UNKNOWN"


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(sorted(vocabulary.member_kinds())), counts)
def test_what_was_named_more_often_comes_before(kind, named):
    times = [named.get(code, 0) for code in usual_causes(kind, named)[:-1]]
    assert times == sorted(times, reverse=True)


def test_the_table_speaks_of_a_stem_before_it_speaks_of_deck_seams():
    offered = usual_causes("stem")
    assert offered.index("BROWN_ROT") < offered.index("DEZINC")
    assert offered.index("BOXED_HEART") < offered.index("UV_WEATHER")


@pytest.mark.parametrize("wrong", [("mizzen", {}), ("stem", {"BROWN_ROT": -1})])
def test_an_unknown_kind_or_a_count_below_nothing_is_refused(wrong):
    with pytest.raises(ValueError, match=r"no kind of member|less than no times"):
        usual_causes(*wrong)
