"""Whether a search for a plan still lives, by its last sign of life."""

from datetime import timedelta

from django.utils import timezone

from .sawing_plan import PlanSearch

LOST_AFTER = timedelta(seconds=20)
LOST = "The search was lost: whatever carried it has stopped. Nothing was changed; begin it again."


def is_lost(search: PlanSearch) -> bool:
    return search.state == PlanSearch.State.RUNNING and timezone.now() - search.beat_at > LOST_AFTER


def running_searches():
    """Searches that still give signs of life."""
    alive = timezone.now() - LOST_AFTER
    return PlanSearch.objects.filter(state=PlanSearch.State.RUNNING, beat_at__gt=alive)


def mark_lost(search: PlanSearch) -> None:
    """End a lost search, unless it has ended meanwhile."""
    PlanSearch.objects.filter(pk=search.pk, state=PlanSearch.State.RUNNING).update(
        state=PlanSearch.State.FAILED, ended_why=LOST
    )
    search.refresh_from_db()
