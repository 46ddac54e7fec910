"""What must be asked about a drawing before a pattern can be taken from it."""

from collections import Counter
from dataclasses import dataclass

from restoration.calc.pattern_dxf.chains import Loop, chained, size_of
from restoration.calc.pattern_dxf.flat import Run, rough_size, runs
from restoration.calc.pattern_dxf.layers import OUTLINE, Layer, layers_of
from restoration.calc.pattern_dxf.reading import Drawing, NotADrawing
from restoration.calc.pattern_dxf.units import MM_PER_UNIT

MOST_LAYERS = 60
LIKELY_MM = (150.0, 15_000.0)
"""What a pattern is likely to be long: a reckoning of ours, only to doubt a drawing's unit."""


@dataclass(frozen=True)
class Question:
    """`size_units` is length and breadth in the drawing's own units: of its largest loop, or of
    everything where nothing closes. `layers` come with the use each most likely has."""

    size_units: tuple[float, float]
    layers: tuple[Layer, ...]

    def sizes_mm(self) -> dict[str, tuple[float, float]]:
        """The size under each unit."""
        long, broad = self.size_units
        return {unit: (long * mm, broad * mm) for unit, mm in MM_PER_UNIT.items()}

    def likely_unit(self, unit: str) -> str:
        """The drawing's own unit where it makes a timber of it, else "": a person must say."""
        low, high = LIKELY_MM
        long = max(self.size_units) * MM_PER_UNIT.get(unit, 0.0)
        return unit if low / 10 <= long <= high * 2 else ""


def question(drawing: Drawing) -> Question:
    """Raises NotADrawing where it has more than MOST_LAYERS layers or no size."""
    texts = Counter(thing.layer for thing in drawing.texts)
    used = len({thing.layer for thing in drawing.curves} | set(texts))
    if used > MOST_LAYERS:
        raise NotADrawing(
            f"The drawing uses {used} layers; {MOST_LAYERS} can be asked about at most. "
            "Save the pattern alone."
        )
    largest = max(rough_size(drawing))
    if not largest > 0:
        raise NotADrawing("Everything in the drawing lies at one point: there is no outline.")
    rough = runs(drawing, 1.0, tolerance_mm=largest / 2000)
    loops, _ = chained(rough, largest / 5000)
    layers = layers_of(rough, loops, dict(texts), drawing.hidden)
    return Question(_size(rough, loops, layers), tuple(layers))


def _size(rough: list[Run], loops: list[Loop], layers: list[Layer]) -> tuple[float, float]:
    outlines = {layer.name for layer in layers if layer.use == OUTLINE}
    likely = [loop for loop in loops if loop.layer in outlines] or loops
    if likely:
        return likely[0].size_mm
    return size_of([point for run in rough for point in run.points_mm])
