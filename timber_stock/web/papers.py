"""Papers that people send in: a PDF as it is, or a photograph written anew as a JPEG."""

import hashlib
import io
from dataclasses import dataclass
from typing import BinaryIO

from .pictures import ACCEPTED, NotTakenIn, take_in

LARGEST_PAPER_MB = 20
PDF = "application/pdf"
JPEG = "image/jpeg"
SENT = f"a PDF or a photograph ({ACCEPTED}), up to {LARGEST_PAPER_MB} MB"
# Readers look for the mark of the end within this many of the last bytes (from memory); just
# before it a PDF says where its table of contents starts (ISO 32000-1, 7.5.5, from memory).
TAIL = 1024


@dataclass(frozen=True)
class PaperFile:
    """A paper ready to keep. `sha256` is of `content`."""

    content: bytes
    content_type: str
    sha256: str

    @property
    def ending(self) -> str:
        return "pdf" if self.content_type == PDF else "jpg"


def take_in_paper(file: BinaryIO, name: str) -> PaperFile:
    """The file judged by what is in it; its name serves only to speak of it.

    Raises NotTakenIn for what is too big, empty, cut short, or neither a PDF nor a photograph.
    """
    size = file.seek(0, io.SEEK_END)
    file.seek(0)
    if size > LARGEST_PAPER_MB * 1024 * 1024:
        raise NotTakenIn(
            f"“{name}” is {size / 1024 / 1024:.0f} MB; a paper may be up to {LARGEST_PAPER_MB} MB. "
            "Scan it in grey, or send the pages that matter."
        )
    if not size:
        raise NotTakenIn(f"“{name}” is empty.")
    if file.read(5) == b"%PDF-":
        return _pdf(file, name)
    file.seek(0)
    try:
        return _kept(take_in(file, name).jpeg, JPEG)
    except NotTakenIn as error:
        if "not a photograph" not in str(error):
            raise
        raise NotTakenIn(
            f"“{name}” is neither a PDF nor a photograph, whatever its name says. Send {SENT}."
        ) from error


def _pdf(file: BinaryIO, name: str) -> PaperFile:
    file.seek(0)
    content = file.read()
    start, end = content.rfind(b"startxref"), content.rfind(b"%%EOF")
    if not max(len(content) - TAIL, 0) <= start < end:
        raise NotTakenIn(f"“{name}” is cut short: the end of the PDF is missing. Send it again.")
    return _kept(content, PDF)


def _kept(content: bytes, content_type: str) -> PaperFile:
    return PaperFile(content, content_type, hashlib.sha256(content).hexdigest())
