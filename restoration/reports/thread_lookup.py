"""What answers to a tag or a mark: a log, a board, a member by her vessel's code or by itself."""

from dataclasses import dataclass

from django.urls import reverse

from restoration import timber
from restoration.models import Member


@dataclass(frozen=True)
class Answer:
    """One thing that was asked for; `kind` is log, board or member, `name` its tag or full mark."""

    kind: str
    id: int
    name: str
    what: str

    def href(self) -> str:
        """Its own address, even where a board is named like a member."""
        return f"{reverse('restoration:thread', args=[self.name])}?as={self.kind}"


def answers(asked: str) -> list[Answer]:
    """Everything that answers to this tag or mark, in small letters or capitals."""
    asked = asked.strip()
    return [*_timber(asked), *_members(asked)]


def member_answer(member: Member) -> Answer:
    name = f"{member.vessel.code}-{member.mark}"
    what = f"{member.term()} {member.mark} of {member.vessel}"
    return Answer("member", member.pk, name, what)


def _timber(tag: str) -> list[Answer]:
    found = []
    for kind, model in (("log", timber.Log), ("board", timber.Board)):
        for thing in model.objects.filter(tag__iexact=tag).select_related("species"):
            what = f"{kind} {thing.tag}, {thing.species.common_name}"
            found.append(Answer(kind, thing.pk, thing.tag, what))
    return found


def _members(mark: str) -> list[Answer]:
    code, dash, own = mark.rpartition("-")
    named = {"vessel__code__iexact": code} if dash else {}
    members = Member.objects.filter(mark__iexact=own, **named).select_related("vessel")
    return [member_answer(member) for member in members.order_by("vessel__name")]
