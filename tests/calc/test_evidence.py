"""The list of causes: every cause reachable, none decided by one weak sign, order irrelevant."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from restoration.calc.evidence import (
    NOT_ESTABLISHED,
    STRONG,
    rank_causes,
    sign_of_ph,
    signs,
    weights,
)
from restoration.calc.ph import compare_ph
from restoration.calc.vocabulary import causes

CODES = list(causes())
SIGNS = list(signs())
ticked = st.lists(st.sampled_from(SIGNS), max_size=9, unique=True)


@st.composite
def answers(draw):
    chosen = draw(ticked)
    cut = draw(st.integers(0, len(chosen)))
    return chosen[:cut], chosen[cut:]


def first(seen, absent=()):
    return rank_causes(seen, absent)[0].cause.code


def of(code, ranked):
    return next(candidate for candidate in ranked if candidate.cause.code == code)


@pytest.mark.parametrize("cause", [code for code in CODES if code != NOT_ESTABLISHED])
def test_every_cause_can_be_reached_and_beats_every_other(cause):
    speaking = [sign for sign in SIGNS if weights().get((sign, cause), (0, 0))[0] > 0]
    ranked = rank_causes(speaking)
    assert ranked[0].cause.code == cause
    assert ranked[0].standing == "several signs"
    assert ranked[0].score > ranked[1].score


def test_with_nothing_ticked_no_cause_is_established():
    ranked = rank_causes([])
    assert ranked[0].cause.code == NOT_ESTABLISHED
    assert {candidate.standing for candidate in ranked[1:]} == {"no sign"}


@pytest.mark.parametrize("sign", SIGNS)
def test_no_cause_is_decided_by_one_weak_sign_alone(sign):
    for seen, absent in (([sign], []), ([], [sign])):
        leader = rank_causes(seen, absent)[0]
        if leader.cause.code != NOT_ESTABLISHED:
            assert leader.standing == "one strong sign"
            assert leader.speaks_for[0].weight == STRONG


@settings(max_examples=60, deadline=None)
@given(answers(), st.randoms())
def test_the_order_of_ticking_makes_no_difference(given_answers, random):
    seen, absent = given_answers
    before = rank_causes(seen, absent)
    random.shuffle(seen)
    random.shuffle(absent)
    assert rank_causes(seen + seen, absent) == before


@settings(max_examples=60, deadline=None)
@given(answers())
def test_every_cause_is_listed_once_and_its_score_is_the_sum_of_its_reasons(given_answers):
    ranked = rank_causes(*given_answers)
    assert sorted(candidate.cause.code for candidate in ranked) == sorted(CODES)
    for candidate in ranked:
        reasons = candidate.speaks_for + candidate.speaks_against
        assert candidate.score == sum(reason.weight for reason in reasons)


@settings(max_examples=60, deadline=None)
@given(answers())
def test_not_established_stands_where_the_evidence_gives_out(given_answers):
    ranked = rank_causes(*given_answers)
    place = [candidate.cause.code for candidate in ranked].index(NOT_ESTABLISHED)
    for candidate in ranked[:place]:
        assert candidate.standing in ("several signs", "one strong sign")
        assert candidate.score >= 3
    for candidate in ranked[place + 1 :]:
        assert candidate.standing in ("some sign", "no sign", "spoken against")
    above = [candidate.score for candidate in ranked[:place]]
    assert above == sorted(above, reverse=True)


@settings(max_examples=60, deadline=None)
@given(answers())
def test_the_question_of_a_cause_moves_it_and_its_rival_apart(given_answers):
    seen, absent = given_answers
    for candidate in rank_causes(seen, absent)[:4]:
        sign, code, rival = candidate.question_sign, candidate.cause.code, candidate.rival
        if code == NOT_ESTABLISHED or not sign:
            continue
        assert rival not in ("", code, NOT_ESTABLISHED)
        assert sign not in seen + absent
        yes, no = rank_causes([*seen, sign], absent), rank_causes(seen, [*absent, sign])
        assert of(code, yes).score - of(rival, yes).score != (
            of(code, no).score - of(rival, no).score
        )


@settings(max_examples=40, deadline=None)
@given(answers(), st.sampled_from(SIGNS), st.sampled_from(CODES))
def test_a_sign_that_speaks_for_a_cause_never_lowers_it(given_answers, sign, cause):
    seen, absent = given_answers
    if sign in seen + absent or weights().get((sign, cause), (0, 0))[0] <= 0:
        return
    before, after = rank_causes(seen, absent), rank_causes([*seen, sign], absent)
    assert of(cause, after).score > of(cause, before).score


def test_iron_sickness_is_told_from_alkali_by_the_state_of_the_metal():
    seen = ["metal_at_centre", "sleeve_round_metal"]
    assert first([*seen, "iron_fastening", "metal_wasted"]) == "FASTENER_IRON"
    assert first([*seen, "metal_bright", "pale_stringy"]) == "ALKALI_CATHODE"


def test_a_leader_is_asked_the_question_that_parts_it_from_the_next():
    ranked = rank_causes(["pale_stringy", "probe_sinks", "dead_note"])
    leader = ranked[0]
    assert leader.cause.code == "WHITE_ROT"
    assert leader.rival == "ALKALI_CATHODE"
    assert leader.question == signs()[leader.question_sign].question


def test_with_nothing_ticked_the_first_question_is_about_metal():
    assert rank_causes([])[0].question == "Is there metal at the centre of the damage?"


def test_a_clean_break_speaks_against_rot():
    ranked = rank_causes(["clean_break", "at_hard_spot"])
    assert ranked[0].cause.code == "MECH_OVERLOAD"
    rot = of("BROWN_ROT", ranked)
    assert rot.standing == "spoken against"
    assert [reason.sign.code for reason in rot.speaks_against] == ["clean_break"]


def test_a_sign_looked_for_in_vain_speaks_against():
    rot = of("BROWN_ROT", rank_causes([], ["cubed_brown"]))
    assert rot.standing == "spoken against"
    assert not rot.speaks_against[0].seen
    assert rot.score == -2


def test_the_strongest_reasons_come_first():
    reasons = of("FASTENER_IRON", rank_causes(["fastenings_loose", "sleeve_round_metal"]))
    assert [reason.weight for reason in reasons.speaks_for] == [3, 1]


def test_each_cause_brings_its_published_remedy():
    for candidate in rank_causes([]):
        assert candidate.cause.remedy_guidance
        assert candidate.cause.evidence


def test_when_all_is_asked_the_published_question_is_left():
    leader = rank_causes(SIGNS)[0]
    assert leader.question_sign == ""
    assert leader.question == leader.cause.separating_question != ""


def test_no_question_is_asked_that_cannot_tell_a_cause_from_its_rival():
    seen = ["was_frozen", "frost_cracks"]
    absent = [sign for sign in SIGNS if sign not in (*seen, "at_waterline")]
    leader = rank_causes(seen, absent)[0]
    assert leader.cause.code == "FREEZE"
    assert ("at_waterline", leader.rival) not in weights()
    assert leader.question_sign == ""
    assert leader.question == "Was the member frozen when sounded?"


def test_while_nothing_is_established_the_question_bears_on_the_likeliest():
    leader = rank_causes(["grey_furry"])[0]
    assert leader.cause.code == NOT_ESTABLISHED
    assert (rank_causes(["grey_furry"])[1].cause.code, 2) == ("UV_WEATHER", 2)
    assert (leader.question_sign, "UV_WEATHER") in weights()


def test_a_ph_reading_ticks_its_sign():
    for ph in (2.5, 5.0, 11.0):
        assert sign_of_ph(compare_ph(ph).place) in signs()
    assert sign_of_ph(compare_ph(8.2).place) == ""


def test_the_table_joins_known_signs_to_known_causes_with_whole_weights():
    for (sign, cause), (if_seen, if_absent) in weights().items():
        assert sign in signs()
        assert cause in causes()
        assert abs(if_seen) <= STRONG
        assert abs(if_absent) <= STRONG
        assert if_seen * if_absent <= 0, "a sign cannot speak the same way seen and not there"
        assert if_seen or if_absent
    assert {sign for sign, _ in weights()} == set(SIGNS), "every sign bears on some cause"


@pytest.mark.parametrize(
    ("seen", "absent", "says"),
    [
        (["a_hunch"], [], "“a_hunch” is no sign"),
        ([], ["a_hunch"], "no sign"),
        (["pith_inside"], ["pith_inside"], "“Pith inside the section” is ticked as seen and as"),
    ],
)
def test_an_impossible_tick_is_refused_with_a_sentence(seen, absent, says):
    with pytest.raises(ValueError, match=says):
        rank_causes(seen, absent)
