"""QR codes, by ReportLab's own encoder: dark squares on white, with the quiet zone they need.

The quiet zone of four modules all round is what ISO/IEC 18004 asks for (from memory). A module of
at least 0.4 mm is common practice for print that a telephone reads from a hand's breadth (from
memory); smaller is refused rather than printed to disappoint.
"""

from functools import lru_cache

from reportlab.graphics.barcode.qrencoder import QRCode as Encoder
from reportlab.graphics.barcode.qrencoder import QRErrorCorrectLevel
from reportlab.lib.units import mm
from reportlab.platypus import Flowable

QUIET = 4
LEAST_MODULE_MM = 0.4


@lru_cache(maxsize=512)
def matrix(words: str) -> tuple[tuple[bool, ...], ...]:
    """The modules from the top left, dark as True. Level M: 15 percent may be scratched."""
    code = Encoder(None, QRErrorCorrectLevel.M)
    code.addData(words)
    code.make()
    size = code.getModuleCount()
    return tuple(tuple(bool(code.isDark(r, c)) for c in range(size)) for r in range(size))


def least_side_mm(words: str) -> float:
    """The smallest side, quiet zone and all, at which these words are still read."""
    return (len(matrix(words)) + 2 * QUIET) * LEAST_MODULE_MM


def draw_qr(canvas, words: str, left: float, low: float, side: float) -> None:
    """The code with its quiet zone in a square of so many points."""
    rows = matrix(words)
    one = side / (len(rows) + 2 * QUIET)
    path = canvas.beginPath()
    for number, row in enumerate(rows):
        y = low + side - (QUIET + number + 1) * one
        for start, stop in _runs(row):
            path.rect(left + (QUIET + start) * one, y, (stop - start) * one, one)
    canvas.saveState()
    canvas.setFillGray(0)
    canvas.drawPath(path, fill=1, stroke=0)
    canvas.restoreState()


def _runs(row: tuple[bool, ...]) -> list[tuple[int, int]]:
    """Dark modules that stand side by side are drawn as one, so that no hairline parts them."""
    runs, start = [], None
    for at, dark in enumerate((*row, False)):
        if dark and start is None:
            start = at
        elif not dark and start is not None:
            runs.append((start, at))
            start = None
    return runs


class QrCode(Flowable):
    def __init__(self, words: str, side: float):
        super().__init__()
        if side < least_side_mm(words) * mm:
            raise ValueError(
                f"A QR code of this address needs a square of {least_side_mm(words):.1f} mm."
            )
        self.words = words
        self.width = self.height = side

    def wrap(self, available_width, available_height):
        return self.width, self.height

    def draw(self):
        draw_qr(self.canv, self.words, 0, 0, self.width)
