import logging

from django.core.exceptions import ObjectDoesNotExist
from django.db import DatabaseError, IntegrityError, OperationalError
from django.shortcuts import render

logger = logging.getLogger("django.request")
LOCKED = ("deadlock", "locked")


class MeanwhileMiddleware:
    """What was posted came too late: someone else changed the same thing, or took it away.

    Where two pages are likely to meet, the action says itself what stands against it; this is for
    the moment between reading a row and writing it. Nothing was kept, for a write is one
    transaction, and whoever posted is told so. It stands in the log with its trace all the same.
    """

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        return self.get_response(request)

    def process_exception(self, request, exception):
        if request.method != "POST" or not came_too_late(exception):
            return None
        logger.warning("Posted too late: %s", request.path, exc_info=exception)
        return render(request, "409.html", status=409)


def came_too_late(exception: Exception) -> bool:
    """A row that is gone, one that another row stands against, or two that wait for each other."""
    if isinstance(exception, OperationalError):
        return any(word in str(exception) for word in LOCKED)
    gone = isinstance(exception, ObjectDoesNotExist | IntegrityError)
    return gone or type(exception) is DatabaseError  # an update that found no row any more
