"""Guessing at passwords made slow: whoever fails too often waits, and is told so.

How often and how long are common practice, no standard. What counts is gone after a quarter of
an hour, and a try that had to wait is not counted, so that nobody is shut out for good.
"""

from datetime import datetime, timedelta

from django.core.exceptions import ValidationError
from django.utils.crypto import salted_hmac

from restoration.models import SignInFailure

COUNTS_FOR = timedelta(minutes=15)
MOST_HERE = 10
"""Of one name from one place."""
MOST_OF_A_NAME = 50
"""Of one name from anywhere: higher, so that a stranger does not easily shut its owner out."""
MOST_FROM_A_PLACE = 50
"""Of any name from one place: behind one address several people may sit."""

WAIT = "Too many tries to sign in have failed. Wait a quarter of an hour, then try again."


def check_may_try(*, name: str, place: str, at: datetime) -> None:
    """Refused with a sentence, before any password is looked at."""
    recent = SignInFailure.objects.filter(at__gt=at - COUNTS_FOR)
    of_name, from_place = recent.filter(name_key=_key(name)), recent.filter(place_key=_key(place))
    if (
        (of_name & from_place).count() >= MOST_HERE
        or of_name.count() >= MOST_OF_A_NAME
        or from_place.count() >= MOST_FROM_A_PLACE
    ):
        raise ValidationError(WAIT, code="too_many_tries")


def record_failure(*, name: str, place: str, at: datetime) -> None:
    SignInFailure.objects.filter(at__lte=at - COUNTS_FOR).delete()
    SignInFailure.objects.create(name_key=_key(name), place_key=_key(place), at=at)


def forget_failures(*, name: str, place: str) -> None:
    """Who has signed in begins anew here; what others tried elsewhere still counts."""
    SignInFailure.objects.filter(name_key=_key(name), place_key=_key(place)).delete()


def _key(text: str) -> str:
    return salted_hmac("restoration.sign-in", text.casefold(), algorithm="sha256").hexdigest()
