"""A floor timber's pattern on a board, photographed from a known place: for pages and browser."""

import functools
import io

from tests.calc.photographed import Camera, disc, tapped

CAMERA = Camera(2300, (500, 210), tilt_deg=-19, swing_deg=13, roll_deg=4, width=2000, height=1500)
MARKS = ((0, 0), (1000, 0), (1000, 420), (0, 420))
FLOOR = ((120, 100), (470, 52), (842, 110), (831, 224), (468, 181), (133, 236))
HOLE = (480, 112, 38)
BOARD = ((-180, -160), (1180, -160), (1180, 580), (-180, 580))


@functools.cache
def jpeg() -> bytes:
    x, y, through = HOLE
    picture = CAMERA.photograph(
        [
            (BOARD, 215),
            (FLOOR, 120),
            (disc(x, y, through / 2), 235),
            *((disc(*m), 25) for m in MARKS),
        ],
        grain=4.0,
    )
    out = io.BytesIO()
    picture.convert("RGB").save(out, "JPEG", quality=93)
    return out.getvalue()


@functools.cache
def taps() -> tuple[tuple[float, float], ...]:
    """Where someone careful taps the marks, in pixels."""
    from PIL import Image

    picture = Image.open(io.BytesIO(jpeg())).convert("L")
    return tuple(tapped(picture, CAMERA.sees([m])[0]) for m in MARKS)


def marks_typed(**more) -> dict[str, str]:
    """The form of the marks, filled in by sides and diagonals."""
    typed = {
        "how": "board", "above_mm": "", "lower": "1000 mm", "right": "420 mm", "upper": "1000 mm",
        "left": "420 mm", "diagonal_1": "1084.6 mm", "diagonal_2": "1084.6 mm",
    }  # fmt: skip
    for n, (x, y) in enumerate(taps(), 1):
        typed |= {f"px_{n}": f"{x:.1f}", f"py_{n}": f"{y:.1f}"}
    return typed | more


def table(points) -> str:
    return "\n".join("; ".join(f"{n:g}" for n in row) for row in points)
