"""Photographs with captions, no larger in the file than their print needs."""

import io
from collections.abc import Callable, Sequence
from typing import BinaryIO

from PIL import Image
from reportlab.lib.units import inch, mm
from reportlab.lib.utils import ImageReader
from reportlab.platypus import Flowable, KeepTogether, Table, TableStyle

from restoration.reports.content import PictureTaken
from restoration.reports.pdf.parts import text
from restoration.reports.pdf.picture_marks import draw_marks
from restoration.reports.pdf.type import HAIR, LINE

DOTS_PER_INCH = 200
QUALITY = 82
GAP = 6 * mm
LONE_BOX = (104 * mm, 70 * mm)
PAIR_HEIGHT = 66 * mm


class Pictures:
    """Photographs made small for print, each once. A file that cannot be read is None."""

    def __init__(self, open_file: Callable[[str], BinaryIO]):
        self._open = open_file
        self._made: dict[tuple[str, int, int], bytes | None] = {}

    def jpeg(self, file: str, width: float, height: float) -> bytes | None:
        """The stored file as a JPEG of 200 dots to the inch in a box of so many points."""
        size = tuple(round(side / inch * DOTS_PER_INCH) for side in (width, height))
        key = (file, *size)
        if key not in self._made:
            self._made[key] = self._shrunk(file, size)
        return self._made[key]

    def _shrunk(self, file: str, size: tuple[int, int]) -> bytes | None:
        made = io.BytesIO()
        try:
            with self._open(file) as stored, Image.open(stored) as image:
                image.draft("RGB", size)
                image = image.convert("RGB")
                image.thumbnail(size)
                image.save(made, "JPEG", quality=QUALITY, optimize=True)
        except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
            return None
        return made.getvalue()


class Photograph(Flowable):
    """One photograph, fitted in a box; in its place a ruled box that says its file is missing."""

    def __init__(self, picture: PictureTaken, jpeg: bytes | None, box: tuple[float, float]):
        super().__init__()
        self.jpeg, self.marks = jpeg, picture.marks
        self.width, self.height = fitted(picture, box) if jpeg else (box[0], 22 * mm)

    def wrap(self, available_width, available_height):
        return self.width, self.height

    def draw(self):
        if self.jpeg:
            self.canv.drawImage(ImageReader(io.BytesIO(self.jpeg)), 0, 0, self.width, self.height)
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
    """One photograph large, more of them in pairs; a caption stays with its photograph."""
    box = box_for(len(pictures), width)
    figures = [
        _figure(picture, caption, store, box)
        for picture, caption in zip(pictures, captions, strict=True)
    ]
    if len(figures) == 1:
        return [KeepTogether(figures[0])]
    figures += [[]] * (len(figures) % 2)
    return [_pair(figures[n : n + 2], box[0]) for n in range(0, len(figures), 2)]


def box_for(count: int, width: float) -> tuple[float, float]:
    """The room each of so many photographs of a finding is given."""
    return LONE_BOX if count == 1 else ((width - GAP) / 2, PAIR_HEIGHT)


def _figure(
    picture: PictureTaken, caption: str, store: Pictures, box: tuple[float, float]
) -> list[Flowable]:
    photograph = Photograph(picture, store.jpeg(picture.file, *box), box)
    photograph.hAlign = "LEFT"
    return [photograph, text(caption, "caption")]


def _pair(cells: list, column: float) -> Flowable:
    table = Table([cells], colWidths=[column + GAP / 2] * 2, splitByRow=0, spaceAfter=6)
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
