"""What an hour is reckoned at: a new rate from a day on, and old hours at the rate of their day."""

from datetime import date, timedelta

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration.models.yard import PastRate, Yard
from timber_stock.web.days import day_said


@transaction.atomic
def keep_yard(*, yard: Yard, rate_from: date | None) -> Yard:
    """Keep the yard's particulars. A rate that is changed counts from that day on; without a day
    it corrects the one in force, for all hours that are reckoned by it."""
    before = Yard.objects.select_for_update().filter(pk=yard.pk).first()
    old = before.hourly_rate if before else None
    if rate_from and old is not None and yard.hourly_rate not in (None, old):
        _keep_past(old, rate_from - timedelta(days=1))
    yard.full_clean()
    yard.save()
    return yard


@transaction.atomic
def drop_past_rate(*, rate: PastRate) -> None:
    """Entered by mistake: its hours are reckoned by the rate that came after it."""
    rate.delete()


def _keep_past(hourly, until: date) -> None:
    last = PastRate.objects.last()
    if last and until <= last.until:
        raise ValidationError(
            {
                "rate_from": f"A rate up to {day_said(last.until)} is kept already, "
                "and another from the day after: a new one counts from a later day."
            }
        )
    rate = PastRate(until=until, hourly=hourly)
    rate.full_clean()
    rate.save()
