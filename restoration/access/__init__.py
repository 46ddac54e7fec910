"""Holding every request to the table of who may open which page."""

from django.core.exceptions import PermissionDenied
from django.http import Http404

from restoration.access.table import ACCESS, PUBLIC
from restoration.models import Report, Vessel

# Pages about one thing that a client may own: they see it only if it is theirs.
OWNED = {
    "restoration:vessel": Vessel,
    "restoration:vessel_picture": Vessel,
    "restoration:report_photograph": Report,
    "restoration:report": Report,
    "restoration:report_pdf": Report,
}


class AccessMiddleware:
    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        return self.get_response(request)

    def process_view(self, request, view, args, kwargs):
        name = request.resolver_match.view_name
        if name in PUBLIC or request.resolver_match.app_name == "admin":
            return  # the admin asks for a staff sign-in itself
        if not request.user.is_authenticated:
            return  # LoginRequiredMiddleware sends them to the sign-in
        check(request.user, name, kwargs)


def check(user, name: str, kwargs: dict) -> None:
    if user.role not in ACCESS.get(name, set()):
        raise PermissionDenied
    owned = OWNED.get(name)
    if not owned or user.role != "client":
        return
    if not owned.objects.visible_to(user).filter(pk=kwargs["pk"]).exists():
        raise Http404
