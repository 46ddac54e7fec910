"""A class drawn as on screen: its number in a box, a hatch behind it, its word beside it."""

from reportlab.platypus import Flowable

from restoration.reports.pdf.type import BOLD, HAIR, INK, REGULAR, SOFT, THIN

BOX_WIDTH, BOX_HEIGHT = 17.0, 11.5


class ClassMark(Flowable):
    """Hatch by class: none for 0, upright for 1, slanting for 2, crossed for 3, broken for NE."""

    def __init__(self, grade: str, word: str, size: float = 8):
        super().__init__()
        self.grade, self.word, self.size = grade, word, size
        self.width, self.height = 0.0, BOX_HEIGHT

    def wrap(self, available_width, available_height):
        word = self.canv.stringWidth(self.word, REGULAR, self.size) if self.word else 0
        self.width = (BOX_WIDTH + 5 if self.grade else 0) + word
        return self.width, self.height

    def draw(self):
        c = self.canv
        c.saveState()
        at = 0.0
        if self.grade:
            self._draw_box(c)
            at = BOX_WIDTH + 5
        c.setFillColor(INK if self.grade else SOFT)
        c.setFont(REGULAR, self.size)
        c.drawString(at, BOX_HEIGHT / 2 - self.size * 0.34, self.word)
        c.restoreState()

    def _draw_box(self, c):
        c.saveState()
        clip = c.beginPath()
        clip.rect(0, 0, BOX_WIDTH, BOX_HEIGHT)
        c.clipPath(clip, stroke=0)
        c.setStrokeColor(INK)
        c.setLineWidth(HAIR if self.grade == "1" else THIN)
        for x1, y1, x2, y2 in hatch(self.grade):
            c.line(x1, y1, x2, y2)
        c.restoreState()
        c.setStrokeColor(INK)
        c.setLineWidth(0.9)
        c.setDash([2, 1.6] if self.grade == "NE" else [])
        c.rect(0, 0, BOX_WIDTH, BOX_HEIGHT, stroke=1, fill=0)
        c.setDash([])
        self._draw_grade(c)

    def _draw_grade(self, c):
        """The number on a clear patch, so that it reads over any hatch."""
        wide = c.stringWidth(self.grade, BOLD, 7.5) + 2.4
        left = (BOX_WIDTH - wide) / 2
        c.setFillColorRGB(1, 1, 1)
        c.rect(left, 1.9, wide, BOX_HEIGHT - 3.8, stroke=0, fill=1)
        c.setFillColor(INK)
        c.setFont(BOLD, 7.5)
        c.drawCentredString(BOX_WIDTH / 2, BOX_HEIGHT / 2 - 2.7, self.grade)


def hatch(grade: str) -> list[tuple[float, float, float, float]]:
    """The lines of a class's hatch across the box; they are clipped to it."""
    if grade == "1":
        return [(x, 0, x, BOX_HEIGHT) for x in _steps(0, BOX_WIDTH, 2.6)]
    rising = [(x, 0, x + BOX_HEIGHT, BOX_HEIGHT) for x in _steps(-BOX_HEIGHT, BOX_WIDTH, 3.2)]
    falling = [(x2, y1, x1, y2) for x1, y1, x2, y2 in rising]
    return {"2": rising, "3": rising + falling}.get(grade, [])


def _steps(start: float, stop: float, step: float) -> list[float]:
    return [start + step * n for n in range(1, int((stop - start) / step) + 1)]
