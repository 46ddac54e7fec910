from django.shortcuts import get_object_or_404

from restoration.models import Photograph
from timber_stock.web.kept_pictures import picture_file


def photograph(request, pk, size):
    """The picture itself, to those whom the access table lets in; nothing else serves it."""
    return picture_file(get_object_or_404(Photograph, pk=pk), size)
