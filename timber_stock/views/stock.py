from django.db.models import Count, F, Q, Sum
from django.http import HttpRequest
from django.shortcuts import redirect, render

from timber_stock.models import Board, Log

SHOWN = 25


def stock(request: HttpRequest):
    """What there is, what lies in stick, and a way to any piece by its tag."""
    text = request.GET.get("q", "").strip()[:80]
    if text and (exact := _by_exact_tag(text)):
        return redirect(exact)
    in_stick = Board.objects.in_stick()
    context = {
        "q": text,
        "found": _find(text) if text else None,
        "logs": Log.objects.not_sawn_up().for_list()[:SHOWN],
        "log_count": _logs_at_hand(),
        "board_count": _boards_at_hand(),
        "in_stick": in_stick.for_list().with_last_reading()[:SHOWN],
        "shown": SHOWN,
    }
    return render(request, "timber_stock/stock.html", context)


def _by_exact_tag(text):
    for kind in (Log, Board):
        if found := kind.objects.filter(tag__iexact=text).first():
            return found
    return None


def _find(text):
    logs, boards = Log.objects.matching(text), Board.objects.matching(text)
    return {
        "logs": logs.for_list()[:SHOWN],
        "log_count": logs.count(),
        "boards": boards.for_list()[:SHOWN],
        "board_count": boards.count(),
    }


def _logs_at_hand():
    return Log.objects.not_sawn_up().aggregate(
        number=Count("pk"), mm3=Sum(F("solid_mm3") - F("taken_mm3"))
    )


def _boards_at_hand():
    return Board.objects.in_stock().aggregate(
        number=Count("pk"),
        mm3=Sum(F("thickness_mm") * F("width_mm") * F("length_mm")),
        in_stick=Count("pk", filter=Q(state="in_stick")),
        held=Count("pk", filter=~Q(held_for="")),
    )
