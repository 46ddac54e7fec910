"""The ring mark of a label: the end of a board lying on its wide face, and how its rings run."""

import math

LINES = 5


def draw_ring_mark(canvas, kind: str, left: float, low: float, wide: float, tall: float) -> None:
    """quarter, rift, flat, mixed, or log (its end); another kind draws nothing."""
    canvas.saveState()
    canvas.setStrokeGray(0)
    canvas.setLineWidth(0.5)
    if kind == "log":
        for share in (1.0, 0.62, 0.26):
            canvas.circle(left + tall / 2, low + tall / 2, share * tall / 2)
    elif kind in ("quarter", "rift", "flat", "mixed"):
        canvas.rect(left, low, wide, tall)
        clip = canvas.beginPath()
        clip.rect(left, low, wide, tall)
        canvas.clipPath(clip, stroke=0, fill=0)
        _rings(canvas, kind, left, low, wide, tall)
    canvas.restoreState()


def _rings(canvas, kind: str, left: float, low: float, wide: float, tall: float) -> None:
    """Straight and upright, straight and leaning, or rounds about a heart below or in the board."""
    if kind in ("flat", "mixed"):
        deep = 1.1 * tall if kind == "flat" else 0.0
        for n in range(1, LINES + 2):
            canvas.circle(left + wide / 2, low - deep, deep + n * tall / 3.2)
        return
    lean = 0.0 if kind == "quarter" else tall / math.tan(math.radians(50))
    step = wide / (LINES + 1)
    for n in range(-LINES, LINES + 1):
        x = left + n * step
        if kind == "quarter" and n < 1:
            continue
        canvas.line(x, low, x + lean, low + tall)
