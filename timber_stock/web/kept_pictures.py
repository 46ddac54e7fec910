"""A photograph in a form, the two files of the row it becomes, and how they are shown again."""

from typing import TypeVar

from django import forms
from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from django.http import FileResponse, Http404, HttpResponseBase

from .pictures import NotTakenIn, Picture, take_in

Response = TypeVar("Response", bound=HttpResponseBase)
FILES = {"full": "image", "thumb": "thumbnail"}


class PhotographField(forms.FileField):
    """Its value is the photograph taken in, or None where none was sent."""

    def clean(self, data, initial=None) -> Picture | None:
        file = super().clean(data, initial)
        try:
            return take_in(file, file.name) if file else None
        except NotTakenIn as error:
            raise ValidationError(str(error)) from error


def store_files(row, picture: Picture) -> None:
    """Both files into the store; the row is saved by whoever keeps it."""
    name = f"{picture.sha256[:16]}.jpg"
    row.image.save(name, ContentFile(picture.jpeg), save=False)
    row.thumbnail.save(name, ContentFile(picture.thumbnail), save=False)


def picture_file(row, size: str) -> FileResponse:
    """The picture itself; nothing else serves it. 404 for a size that is not, or a file lost."""
    if size not in FILES:
        raise Http404
    try:
        response = FileResponse(getattr(row, FILES[size]).open("rb"), content_type="image/jpeg")
    except (FileNotFoundError, ValueError) as error:  # lost from the disk, or never there
        raise Http404 from error
    return for_this_reader(response)


def for_this_reader(response: Response) -> Response:
    """Shown in its place, kept by no cache but the reader's own, and taken for nothing else."""
    response["Cache-Control"] = "private, max-age=3600"
    response["X-Content-Type-Options"] = "nosniff"
    response["Content-Disposition"] = "inline"
    return response
