"""The geometry of SVG: paths, points and transforms, as plain numbers."""

import math
import re
from collections.abc import Iterator

Point = tuple[float, float]
Matrix = tuple[float, float, float, float, float, float]
Step = tuple  # ("M", point), ("L", point), ("C", point, point, point) or ("Z",)

IDENTITY: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
ROUND = 0.5522847498  # of a radius: the handle of a quarter round drawn as a Bézier curve
_NUMBER = r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?"
_ASKS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "Q": 4, "Z": 0}


def then(first: Matrix, second: Matrix) -> Matrix:
    """The matrix that does the first, then the second."""
    a, b, c, d, e, f = first
    p, q, r, s, t, u = second
    return (
        a * p + b * r, a * q + b * s,
        c * p + d * r, c * q + d * s,
        e * p + f * r + t, e * q + f * s + u,
    )  # fmt: skip


def at(point: Point, matrix: Matrix) -> Point:
    (x, y), (a, b, c, d, e, f) = point, matrix
    return a * x + c * y + e, b * x + d * y + f


def scale_of(matrix: Matrix) -> float:
    """How many times larger lengths come out, on the mean."""
    a, b, c, d, _, _ = matrix
    return math.sqrt(abs(a * d - b * c))


def matrix_of(transform: str) -> Matrix:
    """What `translate(...) rotate(...)` and the like come to; ValueError for any other."""
    made = IDENTITY
    for name, inside in re.findall(r"(\w+)\s*\(([^)]*)\)", transform):
        made = then(_one_transform(name, [float(n) for n in re.findall(_NUMBER, inside)]), made)
    return made


def _one_transform(name: str, n: list[float]) -> Matrix:
    if name == "translate":
        return (1, 0, 0, 1, n[0], n[1] if len(n) > 1 else 0)
    if name == "scale":
        return (n[0], 0, 0, n[1] if len(n) > 1 else n[0], 0, 0)
    if name == "matrix" and len(n) == 6:
        return (n[0], n[1], n[2], n[3], n[4], n[5])
    if name == "rotate":
        turn = math.radians(n[0])
        about = (n[1], n[2]) if len(n) == 3 else (0.0, 0.0)
        turned = (math.cos(turn), math.sin(turn), -math.sin(turn), math.cos(turn), *about)
        return then((1, 0, 0, 1, -about[0], -about[1]), turned)
    raise ValueError(f"A drawing is moved by {name}(), which is not known on paper.")


def points_of(said: str) -> list[Point]:
    numbers = [float(n) for n in re.findall(_NUMBER, said)]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def ellipse(cx: float, cy: float, rx: float, ry: float) -> list[Step]:
    """Four curves; within 3 parts in 10,000 of the true round."""
    x, y = rx * ROUND, ry * ROUND
    return [
        ("M", (cx + rx, cy)),
        ("C", (cx + rx, cy + y), (cx + x, cy + ry), (cx, cy + ry)),
        ("C", (cx - x, cy + ry), (cx - rx, cy + y), (cx - rx, cy)),
        ("C", (cx - rx, cy - y), (cx - x, cy - ry), (cx, cy - ry)),
        ("C", (cx + x, cy - ry), (cx + rx, cy - y), (cx + rx, cy)),
        ("Z",),
    ]


def rectangle(x: float, y: float, w: float, h: float, r: float = 0.0) -> list[Step]:
    """With corners rounded by `r`."""
    x2, y2, k = x + w, y + h, r * (1 - ROUND)
    if not r:
        return [("M", (x, y)), ("L", (x2, y)), ("L", (x2, y2)), ("L", (x, y2)), ("Z",)]
    return [
        ("M", (x + r, y)),
        ("L", (x2 - r, y)),
        ("C", (x2 - k, y), (x2, y + k), (x2, y + r)),
        ("L", (x2, y2 - r)),
        ("C", (x2, y2 - k), (x2 - k, y2), (x2 - r, y2)),
        ("L", (x + r, y2)),
        ("C", (x + k, y2), (x, y2 - k), (x, y2 - r)),
        ("L", (x, y + r)),
        ("C", (x, y + k), (x + k, y), (x + r, y)),
        ("Z",),
    ]


def path_steps(d: str) -> list[Step]:
    """The steps of a path, all in absolute places. ValueError for a letter not drawn with here."""
    steps: list[Step] = []
    here: Point = (0.0, 0.0)
    start: Point = here
    for letter, numbers in _commands(d):
        kind, base = letter.upper(), here if letter.islower() else (0.0, 0.0)
        if kind == "Z":
            steps.append(("Z",))
            here = start
            continue
        step = _step(kind, numbers, base, here)
        steps.append(step)
        here = step[-1]
        if kind == "M":
            start = here
    return steps


def _step(kind: str, n: list[float], base: Point, here: Point) -> Step:
    x, y = base
    if kind == "H":
        return ("L", (n[0] + x, here[1]))
    if kind == "V":
        return ("L", (here[0], n[0] + y))
    points = [(n[i] + x, n[i + 1] + y) for i in range(0, len(n), 2)]
    if kind == "Q":  # a quadratic curve raised to the cubic that is the same curve
        (qx, qy), (ex, ey) = points
        one = (here[0] + (qx - here[0]) * 2 / 3, here[1] + (qy - here[1]) * 2 / 3)
        two = (ex + (qx - ex) * 2 / 3, ey + (qy - ey) * 2 / 3)
        return ("C", one, two, (ex, ey))
    return (kind, *points)


def _commands(d: str) -> Iterator[tuple[str, list[float]]]:
    """Each letter with its numbers; numbers that go on repeat the letter, after M as L."""
    for letter, inside in re.findall(rf"([A-Za-z])((?:[\s,]*{_NUMBER})*)", d):
        if letter.upper() not in _ASKS:
            raise ValueError(f"A drawing has a path with {letter}, which is not known on paper.")
        numbers = [float(n) for n in re.findall(_NUMBER, inside)]
        size = _ASKS[letter.upper()]
        if not size:
            yield letter, []
        for start in range(0, len(numbers), size or 1):
            yield letter, numbers[start : start + size]
            letter = {"M": "L", "m": "l"}.get(letter, letter)


def unit_steps(steps: list[Step], matrix: Matrix) -> Iterator[Step]:
    """The same steps where the matrix puts them."""
    for letter, *points in steps:
        yield (letter, *(at(point, matrix) for point in points))
