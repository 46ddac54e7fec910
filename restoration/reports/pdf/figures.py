"""Photographs with captions, no larger in the file than their print needs."""

import io
import tempfile
from collections.abc import Callable, Sequence
from threading import Lock
from typing import BinaryIO

from PIL import Image
from reportlab.lib.units import inch, mm
from reportlab.lib.utils import ImageReader
from reportlab.platypus import Flowable, Table, TableStyle

from restoration.reports.content import PictureTaken
from restoration.reports.pdf.parts import text
from restoration.reports.pdf.picture_marks import draw_marks
from restoration.reports.pdf.type import HAIR, LINE

DOTS_PER_INCH = 200
QUALITIES = (82, 74, 66, 58)
BYTES_PER_DOT = 0.185
"""The first quality is taken that needs no more: three hundred photographs must still be sendable
(ours; a grainy one comes out a little softer)."""
GAP = 6 * mm
LONE_BOX = (104 * mm, 70 * mm)
PAIR_HEIGHT = 66 * mm


class Pictures:
    """Photographs made small for print, each once. A file that cannot be read is None.

    What is made waits on disk, not in memory, until it is printed.
    """

    def __init__(self, open_file: Callable[[str], BinaryIO]):
        self._open = open_file
        self._made: dict[tuple[str, int, int], tuple[int, int] | None] = {}
        # Larger than a few photographs it is a file, which goes with this object.
        self._kept = tempfile.SpooledTemporaryFile(4 * 1024 * 1024)  # noqa: SIM115
        self._one_at_a_time = Lock()

    def jpeg(self, file: str, width: float, height: float) -> bytes | None:
        """The stored file as a JPEG of 200 dots to the inch in a box of so many points."""
        size = tuple(round(side / inch * DOTS_PER_INCH) for side in (width, height))
        key = (file, *size)
        with self._one_at_a_time:
            if key not in self._made:
                self._made[key] = self._put_by(self._shrunk(file, size))
            return self._taken(self._made[key])

    def _put_by(self, jpeg: bytes | None) -> tuple[int, int] | None:
        if jpeg is None:
            return None
        place = self._kept.seek(0, io.SEEK_END)
        self._kept.write(jpeg)
        return place, len(jpeg)

    def _taken(self, place: tuple[int, int] | None) -> bytes | None:
        if place is None:
            return None
        self._kept.seek(place[0])
        return self._kept.read(place[1])

    def _shrunk(self, file: str, size: tuple[int, int]) -> bytes | None:
        try:
            with self._open(file) as stored, Image.open(stored) as image:
                image.draft("RGB", size)
                image = image.convert("RGB")
                image.thumbnail(size)
                return _small(image)
        except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
            return None


def _small(image: Image.Image) -> bytes:
    for quality in QUALITIES:
        made = io.BytesIO()
        image.save(made, "JPEG", quality=quality, optimize=True)
        if made.tell() <= BYTES_PER_DOT * image.width * image.height:
            break
    return made.getvalue()


class ReadyJpeg(ImageReader):
    """Told apart from others by its bytes: it need not be decoded to be put in."""

    def __init__(self, jpeg: bytes):
        super().__init__(io.BytesIO(jpeg))
        self._jpeg = jpeg
        self._dataA = None  # it has no see-through part

    def getRGBData(self):
        return self._jpeg


class Photograph(Flowable):
    """One photograph, fitted in a box; in its place a ruled box that says its file is missing."""

    def __init__(self, picture: PictureTaken, store: Pictures, box: tuple[float, float]):
        super().__init__()
        self.file, self.marks, self.store, self.box = picture.file, picture.marks, store, box
        self.is_there = store.jpeg(picture.file, *box) is not None
        self.width, self.height = fitted(picture, box) if self.is_there else (box[0], 22 * mm)

    def wrap(self, available_width, available_height):
        return self.width, self.height

    def draw(self):
        if self.is_there and self.canv._doctemplate.is_measuring():
            return
        if self.is_there:
            jpeg = ReadyJpeg(self.store.jpeg(self.file, *self.box))
            self.canv.drawImage(jpeg, 0, 0, self.width, self.height)
            draw_marks(self.canv, self.marks, self.width, self.height)
        else:
            said = text("The file of this photograph is missing or cannot be read.", "small")
            _, tall = said.wrapOn(self.canv, self.width - 12, self.height)
            said.drawOn(self.canv, 6, (self.height - tall) / 2)
        self.canv.saveState()
        self.canv.setStrokeColor(LINE)
        self.canv.setLineWidth(HAIR)
        self.canv.rect(0, 0, self.width, self.height)
        self.canv.restoreState()


def fitted(picture: PictureTaken, box: tuple[float, float]) -> tuple[float, float]:
    """As large as the box allows, but never fewer than 72 dots to the inch of what was taken."""
    scale = min(box[0] / picture.width_px, box[1] / picture.height_px, 1.0)
    return picture.width_px * scale, picture.height_px * scale


def photographs(
    pictures: Sequence[PictureTaken], captions: Sequence[str], store: Pictures, width: float
) -> list[Flowable]:
    """One photograph large, more of them in pairs, a row each; a caption stays with its own."""
    box = box_for(len(pictures), width)
    figures = [
        _figure(picture, caption, store, box)
        for picture, caption in zip(pictures, captions, strict=True)
    ]
    return [_side_by_side(figures[n : n + 2], box[0]) for n in range(0, len(figures), 2)]


def box_for(count: int, width: float) -> tuple[float, float]:
    """The room each of so many photographs of a finding is given."""
    return LONE_BOX if count == 1 else ((width - GAP) / 2, PAIR_HEIGHT)


def _figure(
    picture: PictureTaken, caption: str, store: Pictures, box: tuple[float, float]
) -> list[Flowable]:
    photograph = Photograph(picture, store, box)
    photograph.hAlign = "LEFT"
    return [photograph, text(caption, "caption")]


def _side_by_side(figures: list, column: float) -> Flowable:
    widths = [column + GAP / 2] * len(figures)
    table = Table([figures], colWidths=widths, splitByRow=0, spaceAfter=6)
    table.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LEFTPADDING", (0, 0), (-1, -1), 0),
                ("RIGHTPADDING", (0, 0), (-1, -1), GAP / 2),
                ("TOPPADDING", (0, 0), (-1, -1), 3),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 3),
            ]
        )
    )
    table.hAlign = "LEFT"
    return table
