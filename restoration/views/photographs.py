from django.http import FileResponse, Http404
from django.shortcuts import get_object_or_404

from restoration.models import Photograph

FILES = {"full": "image", "thumb": "thumbnail"}


def photograph(request, pk, size):
    """The picture itself, to those whom the access table lets in; nothing else serves it."""
    if size not in FILES:
        raise Http404
    file = getattr(get_object_or_404(Photograph, pk=pk), FILES[size])
    try:
        response = FileResponse(file.open("rb"), content_type="image/jpeg")
    except (FileNotFoundError, ValueError) as error:  # lost from the disk, or never there
        raise Http404 from error
    response["Cache-Control"] = "private, max-age=3600"
    response["X-Content-Type-Options"] = "nosniff"
    response["Content-Disposition"] = "inline"
    return response
