"""From the signs a surveyor ticks to a reasoned list of causes: an aid, not an oracle.

The signs are those of `fixtures/failure_causes.csv`, put one to a line in
`fixtures/evidence_signs.csv`. How far each speaks for or against a cause, seen or looked for and
not there, is in `fixtures/evidence.csv`: weights of our own judgement, from 3 (strong) to 1
(weak) and the same below 0, which no publication gives. The surveyor names the cause.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from types import MappingProxyType

from restoration.calc.tables import rows
from restoration.calc.vocabulary import Cause, causes

CAUTION = (
    "The list orders what was ticked; it has not seen the boat. Several causes can act at once. "
    "The weights are a judgement of the makers of this program. The surveyor names the cause and "
    "how sure it is."
)
NOT_ESTABLISHED = "UNKNOWN"
STRONG = 3
ENOUGH = 3
"""A cause stands above "not established" only with this score, from two signs or a strong one."""


@dataclass(frozen=True)
class Sign:
    """One thing to tick, and the question that asks for it."""

    code: str
    group: str
    text: str
    question: str


@dataclass(frozen=True)
class Reason:
    """A ticked sign and its weight for (above 0) or against (below 0) one cause.

    seen is False where the sign was looked for and was not there.
    """

    sign: Sign
    seen: bool
    weight: int


@dataclass(frozen=True)
class Candidate:
    """A cause in the list, with the reasoning.

    standing: "several signs", "one strong sign", "some sign", "spoken against", "no sign", or
    "not established" for the cause of that name. rival: the code of the cause it is most to be
    told from, and question: what to ask to tell them apart, "" where nothing is left to ask.
    """

    cause: Cause
    score: int
    standing: str
    speaks_for: tuple[Reason, ...]
    speaks_against: tuple[Reason, ...]
    rival: str
    question: str
    question_sign: str


@cache
def signs() -> Mapping[str, Sign]:
    """Everything that can be ticked, by code, in the order in which a surveyor would ask."""
    return MappingProxyType(
        {
            row["code"]: Sign(row["code"], row["group"], row["sign"], row["question"])
            for row in rows("evidence_signs")
        }
    )


@cache
def weights() -> Mapping[tuple[str, str], tuple[int, int]]:
    """For (sign, cause): the weight if the sign is seen, and if it was looked for in vain."""
    return MappingProxyType(
        {
            (row["sign"], row["cause"]): (int(row["if_seen"]), int(row["if_absent"]))
            for row in rows("evidence")
        }
    )


def rank_causes(seen: Iterable[str], absent: Iterable[str] = ()) -> tuple[Candidate, ...]:
    """All 32 causes, likeliest first, each with what speaks for and against it.

    seen: codes of the signs ticked as there. absent: those looked for and not there. A sign that
    nobody looked for is in neither. "Not established" stands in the list where the evidence gives
    out. Raises ValueError for an unknown sign and for one ticked both ways.
    """
    answers = _answers(set(seen), set(absent))
    found = [_weighed(cause, answers) for cause in causes().values()]
    found.sort(key=_place)
    return tuple(_with_question(candidate, found, answers) for candidate in found)


def sign_of_ph(place: str) -> str:
    """The sign that a pH reading's place ticks (see `ph.compare_ph`), "" for none."""
    return {"acid": "ph_acid", "natural": "ph_natural", "alkaline": "ph_alkaline"}.get(place, "")


def _answers(seen: set[str], absent: set[str]) -> dict[str, bool]:
    for code in sorted(seen | absent):
        if code not in signs():
            raise ValueError(f"“{code}” is no sign in the list here.")
    for code in sorted(seen & absent):
        raise ValueError(f"“{signs()[code].text}” is ticked as seen and as not there.")
    return {code: code in seen for code in signs() if code in seen or code in absent}


def _weighed(cause: Cause, answers: Mapping[str, bool]) -> Candidate:
    reasons = [
        Reason(signs()[code], there, weights()[code, cause.code][0 if there else 1])
        for code, there in answers.items()
        if (code, cause.code) in weights()
    ]
    reasons.sort(key=lambda reason: -abs(reason.weight))
    speaks_for = tuple(reason for reason in reasons if reason.weight > 0)
    against = tuple(reason for reason in reasons if reason.weight < 0)
    score = sum(reason.weight for reason in reasons)
    standing = _standing(cause.code, score, speaks_for, against)
    return Candidate(cause, score, standing, speaks_for, against, "", "", "")


def _standing(
    code: str, score: int, speaks_for: tuple[Reason, ...], against: tuple[Reason, ...]
) -> str:
    if code == NOT_ESTABLISHED:
        return "not established"
    if score >= ENOUGH:
        return "several signs" if len(speaks_for) > 1 else "one strong sign"
    if score > 0:
        return "some sign"
    return "spoken against" if against else "no sign"


def _place(candidate: Candidate) -> tuple[int, int, int]:
    """Causes with enough behind them, then "not established", then the rest; ties as tabled."""
    tier = {"several signs": 0, "one strong sign": 0, "not established": 1}
    order = list(causes()).index(candidate.cause.code)
    return tier.get(candidate.standing, 2), -candidate.score, order


def _with_question(
    candidate: Candidate, ranked: list[Candidate], answers: Mapping[str, bool]
) -> Candidate:
    others = [
        other for other in ranked if other is not candidate and other.cause.code != NOT_ESTABLISHED
    ]
    own = candidate.cause
    if own.code == NOT_ESTABLISHED:
        rival, sign = "", _next_to_ask(others, answers)
    else:
        rival = others[0].cause.code
        sign = _telling_apart(own.code, rival, answers)
    question = signs()[sign].question if sign else own.separating_question
    return replace(candidate, rival=rival, question=question, question_sign=sign)


def _telling_apart(one: str, other: str, answers: Mapping[str, bool]) -> str:
    """The sign not yet asked for whose answer moves the two causes furthest apart, "" for none."""
    swings = {code: abs(_swing(code, one) - _swing(code, other)) for code in _open(answers)}
    best = max(swings, key=lambda code: swings[code], default="")
    return best if best and swings[best] else ""


def _swing(sign: str, cause: str) -> int:
    if_seen, if_absent = weights().get((sign, cause), (0, 0))
    return if_seen - if_absent


def _next_to_ask(ranked: list[Candidate], answers: Mapping[str, bool]) -> str:
    """The first sign in the surveyor's order, not yet asked for, that bears on the likeliest."""
    spoken_for = [candidate for candidate in ranked if candidate.score > 0] or ranked
    codes = [candidate.cause.code for candidate in spoken_for[:3]]
    bears = (sign for sign in _open(answers) if any((sign, code) in weights() for code in codes))
    return next(bears, "")


def _open(answers: Mapping[str, bool]) -> list[str]:
    return [code for code in signs() if code not in answers]
