class ContentPolicyMiddleware:
    """Only our own scripts, styles and pictures: what someone typed can never run as code."""

    POLICY = (
        "default-src 'self'; img-src 'self' data: blob:; style-src 'self'; script-src 'self'; "
        "object-src 'none'; base-uri 'none'; frame-ancestors 'none'; form-action 'self'"
    )

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        response = self.get_response(request)
        response.headers.setdefault("Content-Security-Policy", self.POLICY)
        return response


class PrivatePagesMiddleware:
    """What a page shows is for whoever asked: nothing between may keep it, and a browser asks anew.

    A page that says so itself, such as a photograph or a shared report, is left as it is.
    """

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        response = self.get_response(request)
        response.headers.setdefault("Cache-Control", "private, no-cache")
        return response
