"""Within an order of work: a member moved to another turn, a turn begun and done, its note."""

from datetime import date

from django.core.exceptions import ValidationError
from django.db import transaction
from django.utils import timezone

from restoration.actions.order_facts import OrderFacts, facts_of
from restoration.actions.out_now import out_by_their_replacements
from restoration.calc.turns_asked import BEFORE
from restoration.models import Member, OrderState, Turn, TurnMember, User, WorkOrder

SET_ASIDE = "This order of work is set aside: it stays as it is."


@transaction.atomic
def move_member(*, place: TurnMember, to: int, by: User, reason: str = "") -> TurnMember:
    """Put a member into another turn; one more than there are makes a new one.

    Refused with a sentence for each thing that stands against it, unless there is a reason to
    do it all the same, which is kept. Nothing comes into a turn that is done, or out of one.
    """
    order = _open_order(place.order)
    facts = facts_of(order)
    here = facts.turn_of.get(place.member_id)
    if here is None:
        raise TurnMember.DoesNotExist  # taken away since it was looked at
    place = next(each for each in here.listed if each.member_id == place.member_id)
    turn = _turn_numbered(facts, to)
    _refuse_done(here, turn)
    against = against_move(facts, place.member, to)
    reason = reason.strip()
    if against and not reason:
        raise ValidationError(against)
    place.turn, place.moved_by, place.moved_at = turn, by, timezone.now()
    place.override_reason = reason if against else ""
    place.full_clean()
    place.save()
    _drop_last_if_empty(order)
    return place


def against_move(facts: OrderFacts, member: Member, to: int) -> list[str]:
    """A sentence for each thing for which a member goes to turn `to` only with a reason."""
    touched = (facts.turn_of[member.pk], *facts.turns[to - 1 : to])
    begun = [f"Turn {turn.number} is begun." for turn in touched if turn.begun_on]
    return [*begun, *facts.in_the_way(member, to)]


def why_none_leaves(facts: OrderFacts, here: Turn) -> str:
    """Why nothing goes out of this turn whatever the reason; "" where a move may be asked."""
    if not facts.order.is_open():
        return SET_ASIDE
    return _done_words(here) if here.done_on else ""


@transaction.atomic
def keep_turn(
    *, turn: Turn, note: str, begun_on: date | None = None, done_on: date | None = None
) -> Turn:
    """The yard's note, and the days on which the turn was begun and done."""
    order = _open_order(turn.order)
    facts = facts_of(order)
    turn = next((each for each in facts.turns if each.pk == turn.pk), None)
    if turn is None:
        raise Turn.DoesNotExist  # the turns were reckoned anew meanwhile
    if begun_on and order.state != OrderState.ACCEPTED:
        raise ValidationError("Accept the order of work before a turn of it is begun.")
    if begun_on and not turn.begun_on:
        _refuse_begin(facts, turn)
    if turn.begun_on and not begun_on and facts.begun > turn.number:
        raise ValidationError(f"Turn {facts.begun} is begun after it: this one is begun too.")
    if done_on and not turn.done_on:
        _refuse_loose(turn)
    turn.note, turn.begun_on, turn.done_on = note.strip(), begun_on, done_on
    turn.full_clean()
    turn.save()
    return turn


def _open_order(order: WorkOrder) -> WorkOrder:
    order = WorkOrder.objects.select_for_update().get(pk=order.pk)
    if not order.is_open():
        raise ValidationError(SET_ASIDE)
    return order


def _turn_numbered(facts: OrderFacts, number: int) -> Turn:
    """The turn of this number, made if it is the one after the last."""
    if 1 <= number <= len(facts.turns):
        return facts.turns[number - 1]
    if number != len(facts.turns) + 1:
        raise ValidationError(
            f"There is no turn {number}: turns count from 1 to {len(facts.turns)}, and the next "
            f"new one is turn {len(facts.turns) + 1}."
        )
    return Turn.objects.create(order=facts.order, number=number)


def _refuse_done(here: Turn, turn: Turn) -> None:
    if here == turn:
        raise ValidationError(f"It is in turn {turn.number} already.")
    for each in (here, turn):
        if each.done_on:
            raise ValidationError(_done_words(each))


def _done_words(turn: Turn) -> str:
    return f"Turn {turn.number} is done: who was out in it stays written."


def _drop_last_if_empty(order: WorkOrder) -> None:
    """Turns at the end that nobody is out in any more and nobody wrote anything about."""
    while last := order.turns.order_by("number").last():
        if last.places.exists() or last.note or last.begun_on:
            return
        last.delete()


def _refuse_begin(facts: OrderFacts, turn: Turn) -> None:
    """While an earlier turn is not done, its members are out still."""
    before = [each for each in facts.turns if each.number < turn.number]
    not_begun = [each for each in before if not each.begun_on and each.listed]
    if not_begun:
        raise ValidationError(f"Turn {not_begun[0].number} comes first and is not begun.")
    still_out = {
        place.member.mark: each.number
        for each in before if not each.done_on for place in each.listed
    }  # fmt: skip
    refused = _out_together(facts, turn, still_out)
    refused += _beside_loose(facts, turn, set(still_out))
    if refused:
        raise ValidationError(refused)


def _beside_loose(facts: OrderFacts, turn: Turn, told: set[str]) -> list[str]:
    """Neighbours that are out by what the yard board says, of whatever turn they are."""
    loose = out_by_their_replacements(order_of=facts.order.pk)
    going = {place.member.mark for place in turn.listed}
    out = {member.mark for member in facts.members if member.pk in loose} - going - told
    return [
        f"{held} is out, its replacement not fastened yet, and {gone} is its neighbour: "
        f"{pair.why}. Fasten that first."
        for pair in facts.all_neighbours
        for held, gone in ((pair.one, pair.other), (pair.other, pair.one))
        if held in out and gone in going
    ]


def _refuse_loose(turn: Turn) -> None:
    """Done means that its members are back: not while a replacement is known to be unfastened."""
    loose = out_by_their_replacements(order_of=turn.order_id)
    told = [
        f"{place.member.mark} is out: its replacement is not fastened yet. Record that on the yard "
        f"board, and turn {turn.number} is done after it."
        for place in turn.listed
        if place.member_id in loose
    ]
    if told:
        raise ValidationError(told)


def _out_together(facts: OrderFacts, turn: Turn, still_out: dict[str, int]) -> list[str]:
    going = {place.member.mark for place in turn.listed}
    told = [
        f"{held} (turn {still_out[held]}) is not back yet, and {gone} is its neighbour: "
        f"{pair.why}. Turn {still_out[held]} must be done first."
        for pair in facts.all_neighbours
        for held, gone in ((pair.one, pair.other), (pair.other, pair.one))
        if held in still_out and gone in going
    ]
    told += [
        f"{rule.one} (turn {still_out[rule.one]}) is not back yet, and {rule.other} comes after it."
        for rule in facts.asked().rules
        if rule.kind == BEFORE and rule.one in still_out and rule.other in going
    ]
    most = facts.order.most_out
    if most is not None and len(still_out) + len(going) > most:
        told.append(
            f"{len(still_out)} are out still; with {len(going)} more that is more than the {most} "
            "that may be."
        )
    return told
