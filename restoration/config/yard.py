from django.utils.functional import SimpleLazyObject

from restoration.models import Yard


class YardMiddleware:
    """The yard's own row on every request, read once and only if a page asks for it."""

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        request.yard = SimpleLazyObject(Yard.current)
        return self.get_response(request)
