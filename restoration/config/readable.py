from django.core.exceptions import BadRequest


class ReadableAddressMiddleware:
    """An address that holds a NUL is refused: nobody types one, and PostgreSQL cannot hold it.

    What is posted comes through forms, which refuse it field by field and keep what was typed.
    """

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        if "\0" in request.path or "%00" in request.META.get("QUERY_STRING", ""):
            raise BadRequest("The address holds a sign that is none.")
        return self.get_response(request)
