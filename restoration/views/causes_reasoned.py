"""From the evidence ticked to a reasoned list of causes. The surveyor names the cause."""

from dataclasses import dataclass
from itertools import groupby

from django.http import QueryDict
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils.http import urlencode

from restoration.calc import evidence, metal_names, ph, published_rules, vocabulary
from restoration.models import Finding, Member, Survey
from restoration.models.finding import ReadingKind
from restoration.views.member_metals import metals_named
from timber_stock.web.pages import page_or_piece

PAGE, PIECE = "restoration/causes_reasoned.html", "restoration/_causes_ranked.html"
AT_ONCE = 6
NOTHING_FOR = ("no sign", "spoken against")
GROUPS = {
    "metal": "Metal", "electrical": "Bonding and currents", "test": "Tests",
    "wood": "The wood itself", "break": "Breaks and splits", "borers": "Borers",
    "surface": "Surface and coating", "work": "Joints and workmanship", "water": "Wet and dry",
    "place": "Where it is", "history": "What is known of her",
}  # fmt: skip


@dataclass(frozen=True)
class Ticks:
    """What is ticked as seen, and as looked for and not there."""

    seen: tuple[str, ...] = ()
    absent: tuple[str, ...] = ()

    @classmethod
    def sent(cls, asked: QueryDict) -> "Ticks":
        known = evidence.signs()
        return cls(*(
            tuple(dict.fromkeys(code for code in asked.getlist(name) if code in known))
            for name in ("seen", "absent")
        ))  # fmt: skip

    def query(self, seen: str = "", absent: str = "") -> str:
        """The address's query with these ticks and one more."""
        said = {
            "ticked": 1,
            "seen": [*self.seen, *filter(None, [seen])],
            "absent": [*self.absent, *filter(None, [absent])],
        }
        return "?" + urlencode(said, doseq=True)

    def in_words(self) -> str:
        signs = evidence.signs()
        parts = [
            f"{label}: {'; '.join(signs[code].text.lower() for code in codes)}."
            for label, codes in (("Seen", self.seen), ("Looked for, not there", self.absent))
            if codes
        ]
        return " ".join(parts)


def causes_reasoned_member(request, survey_id, member_id):
    survey = get_object_or_404(Survey.objects.select_related("vessel"), pk=survey_id)
    found = Member.objects.select_related("vessel", "wood")
    member = get_object_or_404(found, pk=member_id, vessel=survey.vessel_id)
    return _reasoned(request, survey, member, None)


def causes_reasoned_finding(request, finding_id):
    found = Finding.objects.select_related("survey__vessel", "member__vessel", "member__wood")
    finding = get_object_or_404(found, pk=finding_id)
    return _reasoned(request, finding.survey, finding.member, finding)


def _reasoned(request, survey, member, finding):
    fresh = "ticked" not in request.GET
    ticks = _ticked_already(member, finding) if fresh else Ticks.sent(request.GET)
    both = set(ticks.seen) & set(ticks.absent)
    ranked = [] if both else evidence.rank_causes(ticks.seen, ticks.absent)
    rows = [_row(candidate, ticks, survey, member) for candidate in ranked]
    spoken_for = sum(row["candidate"].standing not in NOTHING_FOR for row in rows)
    shown = min(spoken_for, AT_ONCE)
    context = {
        "survey": survey,
        "member": member,
        "finding": finding,
        "groups": _groups(ticks),
        "fresh": fresh and bool(ticks.seen),
        "ticks": ticks,
        "both": [evidence.signs()[code] for code in evidence.signs() if code in both],
        "rows": rows[:shown],
        "others": rows[shown:],
        "caution": evidence.CAUTION,
        "causes_standing": vocabulary.CAUSES_STANDING,
    }
    return page_or_piece(request, PAGE, PIECE, context, status=422 if both else 200)


def _ticked_already(member: Member, finding: Finding | None) -> Ticks:
    """Signs that the register holds already: the metals of the joints and a pH that was read."""
    joints = [(joint, joint.partner_of(member)) for joint in member.joints()]
    seen = metal_names.signs_of_metals({one.code for one in metals_named(member, joints)})
    oak = bool(member.wood) and member.wood.botanical_name.startswith("Quercus")
    readings = finding.readings.filter(kind=ReadingKind.PH) if finding else ()
    places = {ph.compare_ph(reading.value, oak=oak).place for reading in readings}
    if len(places) == 1:  # two readings that speak against one another tick nothing
        seen |= {evidence.sign_of_ph(places.pop())} - {""}
    return Ticks(tuple(code for code in evidence.signs() if code in seen))


def _groups(ticks: Ticks) -> list[tuple[str, list, int]]:
    """The signs by group, each with how it is ticked, and how many of the group are."""
    order = list(GROUPS)
    signs = sorted(evidence.signs().values(), key=lambda sign: order.index(sign.group))
    made = []
    for group, held in groupby(signs, key=lambda sign: sign.group):
        rows = [(sign, sign.code in ticks.seen, sign.code in ticks.absent) for sign in held]
        made.append((GROUPS[group], rows, sum(seen or absent for _, seen, absent in rows)))
    return made


def _row(candidate: evidence.Candidate, ticks: Ticks, survey, member) -> dict:
    cause = candidate.cause
    form = reverse("restoration:finding_new", args=[survey.pk, member.pk])
    return {
        "candidate": candidate,
        "cause": cause,
        "known": _how_known(cause),
        "conflicts": published_rules.conflicts_on(cause.code),
        "rival": vocabulary.cause(candidate.rival).name if candidate.rival else "",
        "yes": ticks.query(seen=candidate.question_sign) if candidate.question_sign else "",
        "no": ticks.query(absent=candidate.question_sign) if candidate.question_sign else "",
        "take_over": f"{form}?{urlencode({'cause': cause.code, 'evidence': ticks.in_words()})}",
    }


def _how_known(cause: vocabulary.Cause) -> str:
    titles = "; ".join(vocabulary.source(code).title for code in cause.sources)
    return f"{vocabulary.EVIDENCE[cause.evidence]}: {titles}"


def taken_over(asked: QueryDict) -> list[dict]:
    """The cause a surveyor takes over into a new finding, as a row of its form to go on from."""
    cause = asked.get("cause", "")
    if cause not in vocabulary.causes():
        return []
    return [{"rank": 1, "cause": cause, "evidence": asked.get("evidence", "")}]
