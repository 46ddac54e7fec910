"""The order of work in force, as a report tells it: plain facts, kept with the report."""

from dataclasses import dataclass
from datetime import date

from restoration.calc.turns_notes import ELSE


@dataclass(frozen=True)
class MemberOut:
    """A member in its turn. `reason`: why it was put there although something stood against it."""

    mark: str
    term: str
    side: str
    station_from: float | None
    station_to: float | None
    reason: str = ""


@dataclass(frozen=True)
class TurnTold:
    """`note` is the yard's own; `usual` what common practice proposes for these members."""

    number: int
    members: tuple[MemberOut, ...]
    note: str = ""
    usual: tuple[str, ...] = ()
    begun_on: date | None = None
    done_on: date | None = None

    @property
    def state(self) -> str:
        return "done" if self.done_on else "begun" if self.begun_on else "to come"


@dataclass(frozen=True)
class OrderOfWork:
    """Accepted when and by whom; `fewest` says in words whether fewer turns could be.

    `fixed`: what the shipwright fixed; `not_as_asked`: what stands otherwise. The rule of who is
    a neighbour, what the usual notes are worth and the caution are kept as worded then.
    """

    accepted_on: date
    accepted_by: str
    most_out: int | None
    fewest: str
    turns: tuple[TurnTold, ...]
    fixed: tuple[str, ...] = ()
    not_as_asked: tuple[str, ...] = ()
    neighbour_rule: str = ""
    usual_standing: str = ""
    measure: str = ""
    caution: str = ""

    def usual_once(self) -> dict[str, list[str]]:
        """The usual notes of all turns, each once, with the marks it is proposed for."""
        found: dict[str, list[str]] = {}
        for turn in self.turns:
            for said in turn.usual:
                marks, _, note = said.partition(": ")
                if note != ELSE:  # that asks the yard; it tells a reader nothing
                    found.setdefault(note, []).extend(marks.replace(" and ", ", ").split(", "))
        return found
