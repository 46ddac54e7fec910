from django.shortcuts import render

from restoration.models import Report
from restoration.reports.in_hand import (
    next_steps,
    open_surveys,
    turns_in_hand,
    vessels_in_hand,
    visits_due,
)

MOST_VESSELS = 24
MOST_REPORTS = 12


def home(request):
    if request.user.role == "client":
        return render(request, "restoration/home_client.html", _of_the_client(request.user))
    vessels = list(vessels_in_hand(request.user)[: MOST_VESSELS + 1])
    context = {
        "vessels": vessels[:MOST_VESSELS],
        "more_vessels": len(vessels) > MOST_VESSELS,
        "steps": next_steps(),
        "open_surveys": open_surveys(),
        "visits": visits_due(),
        "turns": turns_in_hand(),
    }
    return render(request, "restoration/home.html", context)


def _of_the_client(user) -> dict:
    reports = Report.objects.visible_to(user).select_related("vessel", "superseded_by")
    return {
        "vessels": vessels_in_hand(user)[:MOST_VESSELS],
        "reports": reports.order_by("-issued_at", "-pk")[:MOST_REPORTS],
    }
