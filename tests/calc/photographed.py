"""A camera of known truth for the tests: a pinhole with a barrel lens over a flat board."""

import math
from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw, ImageFilter


@dataclass(frozen=True)
class Camera:
    """Held `distance_mm` from the point it looks at, tilted and swung from square, and rolled.

    `barrel` is the classic polynomial lens r (1 + k r^2), on purpose not the model that the
    program fits. Sizes in pixels; focal in half diagonals.
    """

    distance_mm: float = 1800.0
    looks_at: tuple[float, float] = (500.0, 200.0)
    tilt_deg: float = 0.0
    swing_deg: float = 0.0
    roll_deg: float = 0.0
    focal: float = 1.2
    barrel: float = 0.0
    width: int = 4000
    height: int = 3000

    def axes(self):
        """Rows: right, up and towards the viewer, in the board's own directions."""
        tilt, swing, roll = (
            math.radians(a) for a in (self.tilt_deg, self.swing_deg, self.roll_deg)
        )
        about_x = np.array(
            [[1, 0, 0], [0, math.cos(tilt), math.sin(tilt)], [0, -math.sin(tilt), math.cos(tilt)]]
        )
        about_y = np.array(
            [
                [math.cos(swing), 0, -math.sin(swing)],
                [0, 1, 0],
                [math.sin(swing), 0, math.cos(swing)],
            ]
        )
        about_z = np.array(
            [[math.cos(roll), math.sin(roll), 0], [-math.sin(roll), math.cos(roll), 0], [0, 0, 1]]
        )
        return about_z @ about_x @ about_y

    def place(self):
        return np.array([*self.looks_at, 0.0]) + self.distance_mm * self.axes()[2]

    def sees(self, points, above_mm=0.0):
        """Where points of the board, or of what lies `above_mm` over it, fall in the picture."""
        points = np.asarray(points, dtype=float)
        there = np.column_stack((points, np.full(len(points), above_mm))) - self.place()
        seen = there @ self.axes().T
        flat = self.focal * seen[:, :2] / -seen[:, 2:]
        bent = flat * (1 + self.barrel * np.sum(flat**2, axis=1, keepdims=True))
        half = math.hypot(self.width, self.height) / 2
        return np.column_stack(
            (self.width / 2 + half * bent[:, 0], self.height / 2 - half * bent[:, 1])
        )

    def photograph(self, shapes, *, grain=6.0, seed=5, drawn_large=3):
        """A grey picture of shapes on the board: (outline in mm, level of grey), later over former.

        Drawn several times as large with every edge cut into short pieces, made small again,
        softened a little and given the noise of a sensor (`grain`, levels of 255).
        """
        large = Image.new("L", (self.width * drawn_large, self.height * drawn_large), 70)
        pen = ImageDraw.Draw(large)
        for outline, level in shapes:
            seen = self.sees(short_pieces(outline)) * drawn_large
            pen.polygon([tuple(p) for p in seen], fill=level)
        small = large.resize((self.width, self.height), Image.Resampling.BOX)
        small = small.filter(ImageFilter.GaussianBlur(0.8))
        noise = np.random.default_rng(seed).normal(0, grain, (self.height, self.width))
        return Image.fromarray(np.clip(np.asarray(small) + noise, 0, 255).astype(np.uint8))


def short_pieces(outline, longest_mm=10.0):
    points = []
    for one, two in zip(outline, [*outline[1:], outline[0]], strict=True):
        count = max(1, int(math.dist(one, two) / longest_mm))
        points += [
            (one[0] + (two[0] - one[0]) * n / count, one[1] + (two[1] - one[1]) * n / count)
            for n in range(count)
        ]
    return points


def disc(x, y, radius=9.0):
    turns = [2 * math.pi * n / 40 for n in range(40)]
    return [(x + radius * math.cos(a), y + radius * math.sin(a)) for a in turns]


def tapped(picture, near, window=16):
    """Where someone careful taps a dark disc: the middle of its darkness near that place."""
    x, y = (round(float(n)) for n in near)
    patch = np.asarray(picture)[y - window : y + window, x - window : x + window].astype(float)
    dark = np.clip((np.percentile(patch, 60) + patch.min()) / 2 - patch, 0, None)
    rows, columns = np.mgrid[y - window : y + window, x - window : x + window]
    # A pixel's middle is half a pixel from its corner.
    return (
        float((columns * dark).sum() / dark.sum()) + 0.5,
        float((rows * dark).sum() / dark.sum()) + 0.5,
    )
