from dataclasses import dataclass

from django.shortcuts import get_object_or_404, render

from restoration.calc import between_surveys as calc
from restoration.forms.between_surveys import BetweenSurveysForm
from restoration.models import Finding, FindingCause, Member, Survey, Vessel
from restoration.views.hull_drawing import Shown, draw
from restoration.views.hull_sizes import size_of, sizes
from restoration.views.hull_state import in_words, piece_of
from restoration.views.replaced import fitted_days
from timber_stock.web.days import day_said
from timber_stock.web.pages import own_units

LEGEND = [
    ("worse", "1→3"), ("found", "–→2"), ("right", "new"), ("better", "2→1"),
    ("dropped", "1→–"), ("unseen", "–→–"), ("same", ""),
]  # fmt: skip
STAND_OUT = ("worse", "found", "right", "better")


@dataclass
class Compared:
    """A member with both its findings, what became of it, and whether it goes on by itself."""

    member: Member
    earlier: Finding | None
    later: Finding | None
    outcome: str
    seen: calc.Seen
    goes_on: bool

    def was(self) -> str:
        return in_words(self.seen.earlier or "")

    def now(self) -> str:
        return in_words(self.seen.later or "")

    def in_words(self) -> str:
        words = calc.OUTCOMES[self.outcome]
        return f"{self.member.mark}, {self.member.term()}: {words} ({self.was()}; {self.now()})"

    def piece(self):
        same = self.outcome == "same"
        badge = "new" if self.outcome == "right" else calc.in_short(self.seen)
        return piece_of(
            self.member,
            state="" if same else self.outcome,
            badge="" if same or self.outcome == "unseen" else badge,
            title=self.in_words(),
        )


def between_surveys(request, vessel_id):
    """Two surveys side by side, in a table and on the hull sheet: `?a=` the earlier, `?b=`."""
    vessel = get_object_or_404(Vessel.objects.select_related("hull_lines"), pk=vessel_id)
    surveys = list(vessel.surveys.newest_first())
    form = BetweenSurveysForm(request.GET or None, surveys=surveys)
    context = {"vessel": vessel, "form": form, "surveys": surveys}
    if pair := form.pair():
        compared = compare(vessel, *pair)
        context |= {
            "earlier": pair[0],
            "later": pair[1],
            "groups": _groups(compared),
            "going_on": [each for each in compared if each.goes_on],
            "sizes": sizes(request),
            **draw(vessel, shown(request, compared, *pair), own_units(request)),
        }
    return render(request, "restoration/between_surveys.html", context)


def compare(vessel: Vessel, earlier: Survey, later: Survey) -> list[Compared]:
    findings = _findings(earlier, later)
    causes = _causes(findings)
    fitted = fitted_days(vessel.pk)
    found = []
    for member in vessel.members.along_the_hull():
        was, now = (findings.get((survey.pk, member.pk)) for survey in (earlier, later))
        seen = calc.Seen(*(each.condition if each else None for each in (was, now)),
                         fitted_on=fitted.get(member.pk))  # fmt: skip
        outcome = calc.outcome(seen, earlier.surveyed_on, later.surveyed_on)
        last = next((each for each in (now, was) if each and each.condition != "NE"), None)
        goes_on = outcome != "right" and last is not None and calc.goes_on(
            last.condition, causes.get(last.pk, ())
        )  # fmt: skip
        found.append(Compared(member, was, now, outcome, seen, goes_on))
    return found


def _findings(earlier: Survey, later: Survey) -> dict[tuple[int, int], Finding]:
    """The newest finding of each member in each of the two surveys."""
    found: dict[tuple[int, int], Finding] = {}
    rows = Finding.objects.filter(survey__in=[earlier, later]).defer("seen")
    for finding in rows.order_by("-recorded_at", "-pk"):
        found.setdefault((finding.survey_id, finding.member_id), finding)
    return found


def _causes(findings: dict) -> dict[int, list[str]]:
    named: dict[int, list[str]] = {}
    surveys = {survey for survey, _ in findings}
    rows = FindingCause.objects.filter(finding__survey__in=surveys).order_by("rank")
    for finding, code in rows.values_list("finding_id", "cause"):
        named.setdefault(finding, []).append(code)
    return named


def _groups(compared: list[Compared]) -> list[tuple[str, str, list[Compared]]]:
    """What became of them, in the order in which it matters; empty groups are named too."""
    return [
        (outcome, words, [each for each in compared if each.outcome == outcome])
        for outcome, words in calc.OUTCOMES.items()
    ]


def shown(request, compared: list[Compared], earlier: Survey, later: Survey) -> Shown:
    days = " and ".join(day_said(survey.surveyed_on) for survey in (earlier, later))
    listed = [(calc.OUTCOMES[outcome].upper(), _marks(compared, outcome)) for outcome in STAND_OUT]
    going_on = ", ".join(each.member.mark for each in compared if each.goes_on)
    return Shown(
        pieces=[each.piece() for each in compared],
        heading=f"Between surveys: {days}",
        legend=[("" if state == "same" else state, figure, calc.OUTCOMES[state])
                for state, figure in LEGEND],
        listed=listed,
        size=size_of(request),
        notes=(f"Rot or corrosion, to check in the next round: {going_on}.",) if going_on else (),
    )  # fmt: skip


def _marks(compared: list[Compared], outcome: str) -> tuple[str, ...]:
    return tuple(
        f"{each.member.mark} {calc.in_short(each.seen)}"
        for each in compared
        if each.outcome == outcome
    )
