"""Where each piece, turned as it may be, can lie on a face: tables kept while a search runs."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from restoration.calc.nesting_convex import Parts, convex_parts, covering, no_fit
from restoration.calc.nesting_pieces import Piece
from restoration.calc.nesting_places import Figures, turned
from restoration.calc.nesting_sheet import Sheet, usable

TOUCH_MM = 0.01
"""Pieces that just touch count as clear: less than any line drawn on wood is wide."""


@dataclass(frozen=True)
class Lying:
    """A shape as it may lie: which outline, turned by how much, mirrored or not."""

    shape: int
    angle_deg: float
    mirrored: bool


class Fits:
    """For one face, gap and choice of pieces: what every lying shape covers, where it fits alone,
    and where it would touch another. With `boxes` each shape is its bounding rectangle along the
    chalk line. Everything is reckoned once, when it is first asked for."""

    def __init__(self, sheet: Sheet, pieces: tuple[Piece, ...], gap_mm: float, boxes: bool):
        self.sheet, self.gap_mm, self.boxes = sheet, gap_mm, boxes
        outlines = sorted({piece.outline_mm for piece in pieces})
        self.shape_of = {outline: number for number, outline in enumerate(outlines)}
        shapes = [Polygon(o) if boxes else covering(np.array(o)) for o in outlines]
        self.outlines = [np.array(shape.exterior.coords[:-1]) for shape in shapes]
        self._parts = [] if boxes else [convex_parts(shape) for shape in shapes]
        self._grown = [] if boxes else [convex_parts(self._growing(shape)) for shape in shapes]
        # No place of a piece has it reach farther than this from its own nought.
        self._far = max(math.hypot(*np.abs(o).max(axis=0)) for o in self.outlines)
        self._outside: dict[bool, Parts] = {}
        self._inner: dict[tuple[Lying, bool], BaseGeometry] = {}
        self._apart: dict[tuple[Lying, Lying], BaseGeometry] = {}
        self._relative: dict[tuple[int, Lying], BaseGeometry] = {}
        self._lain: dict[tuple[Lying, bool], Parts] = {}
        self._reach: dict[Lying, tuple[float, float]] = {}

    def reach(self, lying: Lying) -> tuple[float, float]:
        """How far the shape runs from its nought towards the top, and how wide it lies."""
        if lying not in self._reach:
            corners = self._corners(lying)
            wide = float(corners[:, 1].max() - corners[:, 1].min())
            self._reach[lying] = (float(corners[:, 0].max()), wide)
        return self._reach[lying]

    def inner(self, lying: Lying, sapwood: bool) -> BaseGeometry:
        """Where the shape's nought may be on the bare face."""
        key = (lying, sapwood)
        if key not in self._inner:
            barred = no_fit(self._off_the_face(sapwood), self._as_parts(lying, grown=False))
            self._inner[key] = shapely.box(*self._frame(self._far)).difference(barred)
        return self._inner[key]

    def apart(self, fixed: Lying, moving: Lying) -> BaseGeometry:
        """Where the moving nought must not be, seen from the fixed one's, to keep the gap."""
        if (fixed, moving) not in self._apart:
            barred = self._boxes_apart(fixed, moving) if self.boxes else self._seen(fixed, moving)
            self._apart[fixed, moving] = barred
        return self._apart[fixed, moving]

    def _boxes_apart(self, fixed: Lying, moving: Lying) -> BaseGeometry:
        return no_fit(self._as_parts(fixed, grown=True), self._as_parts(moving, grown=True))

    def _seen(self, fixed: Lying, moving: Lying) -> BaseGeometry:
        """Turning or mirroring both shapes does the same to what they bar: so it is reckoned once,
        seen from the fixed shape as it was given, and laid round with it."""
        between = moving.angle_deg - fixed.angle_deg
        angle = round((-between if fixed.mirrored else between) % 360.0, 6)
        seen = Lying(moving.shape, angle, moving.mirrored != fixed.mirrored)
        key = (fixed.shape, seen)
        if key not in self._relative:
            self._relative[key] = no_fit(self._grown[fixed.shape], self._as_parts(seen, grown=True))
        return shapely.transform(
            self._relative[key], lambda xy: turned(xy, fixed.angle_deg, fixed.mirrored)
        )

    def _growing(self, shape: Polygon) -> BaseGeometry:
        return shape.buffer(self.gap_mm / 2 - TOUCH_MM / 2, join_style="mitre")

    def _corners(self, lying: Lying) -> Figures:
        return turned(self.outlines[lying.shape], lying.angle_deg, lying.mirrored)

    def _as_parts(self, lying: Lying, grown: bool) -> Parts:
        key = (lying, grown)
        if key not in self._lain:
            if self.boxes:
                box = shapely.box(*Polygon(self._corners(lying)).bounds)
                parts = convex_parts(self._growing(box) if grown else box)
            else:
                parts = tuple(
                    turned(part, lying.angle_deg, lying.mirrored)
                    for part in (self._grown if grown else self._parts)[lying.shape]
                )
            self._lain[key] = parts
        return self._lain[key]

    def _frame(self, beyond: float) -> tuple[float, float, float, float]:
        left, low, right, high = usable(self.sheet, sapwood=True).bounds
        return left - beyond, low - beyond, right + beyond, high + beyond

    def _off_the_face(self, sapwood: bool) -> Parts:
        """All round the usable face as far as any piece could reach, and what is cut out of it."""
        if sapwood not in self._outside:
            good = usable(self.sheet, sapwood=sapwood).buffer(TOUCH_MM, join_style="mitre")
            outside = shapely.box(*self._frame(2 * self._far + 1.0)).difference(good)
            self._outside[sapwood] = convex_parts(outside)
        return self._outside[sapwood]
