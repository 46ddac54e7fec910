"""The section bench: what the server takes over one htmx round trip while a section is dragged."""

from collections.abc import Iterator

from django.core.management import call_command
from django.db import transaction
from django.test import Client

from restoration import timber
from restoration.models import User
from timber_stock.wood.movement import movement
from timber_stock.wood.ring_limits import AUTHORITIES
from timber_stock.wood.section_sheet import centred_mm, section_sheet

from .timing import measured

ADDRESS = "/timber/bench/"
ALLOWED_MS = 50.0
TIMES, WARMING = 120, 8
STATE = {
    "log": "", "butt": "800 mm", "butt_other": "780 mm", "butt_heart": "30 mm",
    "butt_clock": "4", "top": "700 mm", "top_other": "", "top_heart": "50 mm", "top_clock": "5",
    "sapwood": "30 mm", "width": "200 mm", "thickness": "90 mm", "turn": "15", "place": "topsides",
    "moisture": "", "limits": "hardwood_rules", "exaggeration": "5",
}  # fmt: skip


def drag_sections() -> Iterator[str]:
    """Nothing is kept: the sign-in it needs is made and taken back again."""
    with transaction.atomic():
        try:
            yield from _measure()
        finally:
            transaction.set_rollback(True)


def _measure() -> Iterator[str]:
    if not timber.woods().exists():
        call_command("load_reference", verbosity=0)
    wood = timber.woods().get(code="oak_european")
    client = Client(SERVER_NAME="localhost", headers={"HX-Request": "true"})
    user = User(username="bench-of-sections", role="yard")
    user.set_unusable_password()
    user.save()
    client.force_login(user)

    def drag(n: int) -> None:
        place = {"across": f"{n % 60 - 30} mm", "up": f"{120 + n % 40} mm"}
        answer = client.get(ADDRESS, {**STATE, **place, "wood": wood.pk}, secure=True)
        if answer.status_code != 200 or b"Out of square" not in answer.content:
            raise RuntimeError(f"The bench answered {answer.status_code}.")

    measured(drag, WARMING)  # what is read and compiled once is no part of a drag
    trip = measured(drag, TIMES)
    yield trip.said("A drag, one htmx round trip in the server")
    yield measured(_reckoner(wood), TIMES).said("Of that the sums alone")
    yield (
        f"The median is {trip.median / ALLOWED_MS:.2f} of the {ALLOWED_MS:.0f} ms allowed"
        f"{'' if trip.median < ALLOWED_MS else ': TOO SLOW'}."
    )


def _reckoner(wood):
    figures, outline = timber.figures_of(wood), centred_mm(200.0, 90.0)
    limits = AUTHORITIES[STATE["limits"]]

    def reckon(n: int) -> None:
        heart = (float(n % 60 - 30), -float(120 + n % 40))
        section_sheet(outline, heart, (heart[0] - 40.0, heart[1]), movement(figures, 15.0), limits)

    return reckon
