from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.safestring import mark_safe

from restoration import timber
from restoration.drawings.thread import draw_thread
from restoration.models import Allotment
from restoration.reports.thread_lookup import answers
from restoration.reports.thread_page import thread_text, timber_of
from restoration.reports.thread_picture import ThreadPicture
from timber_stock.web.pages import own_units

FEW = 10


def trace(request):
    if asked := request.GET.get("q", "").strip():
        if "/" in asked:
            return _not_found(request, asked)
        return redirect("restoration:thread", asked)
    return render(request, "restoration/trace.html", _places_to_start())


def thread(request, tag):
    found = answers(tag)
    if kind := request.GET.get("as"):
        found = [answer for answer in found if answer.kind == kind]
    if not found:
        return _not_found(request, tag)
    if len(found) > 1:
        return render(request, "restoration/thread_choices.html", {"asked": tag, "found": found})
    return _show(request, found[0])


def _show(request, answer):
    gathered = timber_of(answer)
    picture = ThreadPicture(gathered, answer, own_units(request), _address).nodes()
    drawn = draw_thread(picture, says=f"The thread of {answer.what}, from the log to the members")
    context = {
        "answer": answer,
        "text": thread_text(gathered, answer),
        # Everything in the drawing was escaped where it was drawn.
        "picture": mark_safe(drawn) if picture else "",
    }
    return render(request, "restoration/thread.html", context)


def _address(tag: str) -> str:
    return reverse("restoration:thread", args=[tag])


def _not_found(request, asked):
    context = _places_to_start() | {"asked": asked}
    return render(request, "restoration/trace.html", context, status=404)


def _places_to_start() -> dict:
    fitted = Allotment.objects.fitted().select_related("spec__finding__member__vessel", "board")
    return {
        "logs": timber.Log.objects.for_list().order_by("-pk")[:FEW],
        "fitted": fitted.order_by("-fitted_on", "-pk")[:FEW],
    }
