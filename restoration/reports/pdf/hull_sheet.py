"""The hull sheet on a page of its own, from the same plain shapes as on screen."""

from dataclasses import dataclass

from reportlab.lib.colors import Color, white
from reportlab.platypus import Flowable

from restoration.drawings.hull.paper import Area, Hatch, Line, Mark, Member, Sheet, Words
from restoration.reports.pdf.letters import printable
from restoration.reports.pdf.type import ACCENT, BOLD, INK, LINE, REGULAR, SOFT


@dataclass(frozen=True)
class Pen:
    """Colours, and width and dashes in mm of the sheet, as the screen's style sheet has them."""

    stroke: Color | None = INK
    width: float = 0.2
    fill: Color | None = None
    dashes: tuple[float, ...] = ()
    round: bool = False


AREAS = {
    "border": Pen(width=0.7),
    "outline": Pen(width=0.5, round=True),
    "dot": Pen(None, fill=INK),
    "ink": Pen(fill=INK),
    "member": Pen(fill=white, round=True),
    "strake": Pen(SOFT, 0.16, white),
    "assumed": Pen(fill=white, dashes=(1, 0.6)),
    "clear": Pen(dashes=(3, 0.8)),
    "badge": Pen(width=0.22, fill=white),
    "badge-3": Pen(ACCENT, 0.22, ACCENT),
}
LINES = {
    "thin": Pen(width=0.25),
    "rule": Pen(width=0.25),
    "outline": Pen(width=0.5, round=True),
    "dashed": Pen(width=0.18, dashes=(1.6, 0.9)),
    "chain": Pen(SOFT, dashes=(7, 1.2, 1, 1.2)),
    "station": Pen(LINE, 0.16),
    "leader": Pen(SOFT, 0.14),
}
HATCHES = {
    "1": Pen(SOFT, 0.16),
    "better": Pen(SOFT, 0.16),
    "3": Pen(ACCENT, 0.34),
    "worse": Pen(ACCENT, 0.34),
    "out": Pen(ACCENT, 0.34),
    "later": Pen(SOFT, 0.16),
    "NE": Pen(width=0.45, dashes=(0, 1.4), round=True),
    "unseen": Pen(width=0.45, dashes=(0, 1.4), round=True),
    "dropped": Pen(width=0.3, dashes=(1.2, 1)),
}
HATCH = Pen(width=0.3)
BOLD_TONES = {"mark", "badge", "caption", "name", "station"}
SOFT_TONES = {"soft", "station"}
ON_A_PATCH = {"mark", "badge"}
"""Their ground is kept clear, so that they read over frames and hatches."""


class HullSheet(Flowable):
    """The sheet as large as its room allows; a member's shape leads to what is said of it."""

    hAlign = "CENTER"

    def __init__(self, sheet: Sheet, width: float, height: float):
        super().__init__()
        self.sheet = sheet
        self.scale = min(width / sheet.width, height / sheet.height)
        self.width, self.height = sheet.width * self.scale, sheet.height * self.scale

    def wrap(self, available_width, available_height):
        return self.width, self.height

    def draw(self):
        c = self.canv
        c.saveState()
        c.translate(0, self.height)
        c.scale(self.scale, -self.scale)
        for item in self.sheet.items:
            marks = item.marks if isinstance(item, Member) else (item,)
            over = None
            for mark in marks:
                self._draw(mark, over)
                over = mark
            if isinstance(item, Member) and item.href.startswith("#"):
                self._link(item)
        c.restoreState()

    def _draw(self, mark: Mark, before: Mark | None) -> None:
        if isinstance(mark, Area):
            self._trace(AREAS[mark.tone], mark.points, closed=True)
        elif isinstance(mark, Line):
            self._trace(LINES[mark.tone], mark.points, closed=False)
        elif isinstance(mark, Hatch):
            self._hatch(mark)
        else:
            dark = isinstance(before, Area) and before.tone == "badge-3"
            self._write(mark, on_dark=dark)

    def _set(self, pen: Pen) -> None:
        c = self.canv
        if pen.stroke is not None:
            c.setStrokeColor(pen.stroke)
        if pen.fill is not None:
            c.setFillColor(pen.fill)
        c.setLineWidth(pen.width)
        c.setDash(list(pen.dashes))
        c.setLineCap(int(pen.round))
        c.setLineJoin(int(pen.round))

    def _trace(self, pen: Pen, points, *, closed: bool) -> None:
        self._set(pen)
        path = self.canv.beginPath()
        path.moveTo(*points[0])
        for point in points[1:]:
            path.lineTo(*point)
        if closed:
            path.close()
        fills, strokes = int(pen.fill is not None), int(pen.stroke is not None)
        self.canv.drawPath(path, stroke=strokes, fill=fills)

    def _hatch(self, mark: Hatch) -> None:
        self._set(HATCHES.get(mark.state, HATCH))
        path = self.canv.beginPath()
        for (x0, y0), (x1, y1) in mark.segments:
            path.moveTo(x0, y0)
            path.lineTo(x1, y1)
        self.canv.drawPath(path, stroke=1, fill=0)

    def _write(self, words: Words, *, on_dark: bool) -> None:
        c, said = self.canv, printable(words.text)
        face = BOLD if words.tone in BOLD_TONES else REGULAR
        wide = c.stringWidth(said, face, words.size)
        left = {"start": 0.0, "middle": -wide / 2, "end": -wide}[words.anchor]
        c.saveState()
        c.translate(words.x, words.y)
        c.rotate(words.angle)
        c.scale(1, -1)
        if words.tone in ON_A_PATCH and not on_dark:
            c.setFillColor(white)
            c.rect(left - 0.2, -0.12, wide + 0.4, words.size * 0.82, stroke=0, fill=1)
        c.setFillColor(white if on_dark else SOFT if words.tone in SOFT_TONES else INK)
        c.setFont(face, words.size)
        c.drawString(left, 0, said)
        c.restoreState()

    def _link(self, member: Member) -> None:
        """A rectangle round its shape; the mark beside it is another."""
        corners = [point for mark in member.marks for point in _points(mark)]
        if not corners:
            return
        xs, ys = zip(*corners, strict=True)
        box = (min(xs), min(ys), max(xs), max(ys))
        self.canv.linkRect("", member.href[1:], box, relative=1, thickness=0)


def _points(mark: Mark):
    if isinstance(mark, Words):
        return [(mark.x, mark.y)]
    if isinstance(mark, Hatch):
        return [end for segment in mark.segments for end in segment]
    return mark.points
