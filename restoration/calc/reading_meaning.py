"""What a reading means: figures with their formula, their source and their cautions beside them.

Puts the results of `section_loss`, `bolt_loss`, `ph` and the meter corrections into one shape, so
that a page or a paper shows them alike. It adds no published figure of its own.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeVar

from restoration.calc import bolt_loss, ph, section_loss
from timber_stock.measure import MM_PER_INCH
from timber_stock.wood import meter

Entry = TypeVar("Entry")

NEWTONS_PER_POUND_FORCE = 4.4482216
"""The exact pound-force, cut to eight figures."""
IN_INCHES = {
    "mm²": (MM_PER_INCH**2, "in²"),
    "mm³": (MM_PER_INCH**3, "in³"),
    "N": (NEWTONS_PER_POUND_FORCE, "lbf"),
}
KNOWN = {
    "READ": "read",
    "PART-READ": "read in part",
    "MEMORY": "from memory",
    "DERIVED": "worked out here",
    "R": "read",
    "M": "from memory",
}
BREAKING = "The load named is one at which the bolt breaks, never one it may be given."
WHOLE_FACE = (
    "One probing stands for the whole face: soft wood is taken to reach right across it, and "
    "nothing is taken off the other faces."
)

ONE_LINE = (
    "A drill reads one line: how wide the soft wood is across the face is the surveyor's own "
    "estimate, and it is taken as lying about the middle of the face."
)
PARTED = "The sound wood is parted: the section moduli are those of its largest piece alone."


@dataclass(frozen=True)
class Figure:
    """One figure. `percent` is of the whole, None where there is nothing to compare it with."""

    what: str
    value: float
    unit: str
    percent: float | None = None

    @property
    def in_inches(self) -> str:
        """The same for whoever thinks in inches, to three figures; "" for what has no unit."""
        if self.unit not in IN_INCHES:
            return ""
        size, unit = IN_INCHES[self.unit]
        value = self.value / size
        digits = max(0, 2 - math.floor(math.log10(value))) if value else 0
        return f"{round(value, digits):,.{digits}f} {unit}"


@dataclass(frozen=True)
class Meaning:
    """What is made of one reading. `loss` is there for a probe, to be drawn."""

    sentence: str
    figures: tuple[Figure, ...]
    formula: str
    source: str
    cautions: tuple[str, ...]
    loss: section_loss.SectionLoss | None = None


def of_probe(depth_mm: float, sided_mm: float, moulded_mm: float, face: str) -> Meaning:
    """One probe depth under a face, taken as soft right across that face.

    Lengths in mm; face: a key of `section_loss.FACES`. Raises ValueError for a probe deeper than
    the timber behind that face, and for a timber without sizes.
    """
    soft = section_loss.soft_face(sided_mm, moulded_mm, face, [(0.0, depth_mm)])
    loss = section_loss.remaining_section(section_loss.rectangle(sided_mm, moulded_mm), soft)
    return _of_section(loss, f"Probed from the {face} face", WHOLE_FACE)


def of_drill(
    from_mm: float, to_mm: float, width_mm: float, sided_mm: float, moulded_mm: float, face: str
) -> Meaning:
    """Soft wood that a drill in the middle of a face met between two depths.

    Lengths in mm; width_mm: how wide the surveyor takes the pocket to be; face: a key of
    `section_loss.FACES`. Raises ValueError for a drill deeper than the timber behind that face,
    for soft wood without thickness or width, and for a timber without sizes.
    """
    outline = section_loss.rectangle(sided_mm, moulded_mm)
    middle = section_loss.face_width(sided_mm, moulded_mm, face) / 2
    pocket = section_loss.soft_pocket(sided_mm, moulded_mm, face, middle, from_mm, to_mm, width_mm)
    loss = section_loss.remaining_section(outline, [pocket])
    return _of_section(loss, f"Drilled in the middle of the {face} face", ONE_LINE)


def _of_section(loss: section_loss.SectionLoss, how: str, standing: str) -> Meaning:
    left, area = loss.left, 100 * loss.area_fraction
    moulded, sided = 100 * loss.modulus_moulded_fraction, 100 * loss.modulus_sided_fraction
    parted = (PARTED,) if loss.parted else ()
    return Meaning(
        f"{how}: {area:.0f} % of the section is left; of its section modulus {moulded:.0f} % in "
        f"the moulded depth and {sided:.0f} % in the siding.",
        (
            Figure("area", left.area_mm2, "mm²", area),
            Figure("section modulus, moulded depth", left.modulus_moulded_mm3, "mm³", moulded),
            Figure("section modulus, siding", left.modulus_sided_mm3, "mm³", sided),
        ),
        "Section modulus = moment / greatest stress; sided × moulded² / 6 for a whole rectangle "
        "bent in its moulded depth. The soft wood is cut out of the outline as a polygon.",
        "Geometry and textbook mechanics of materials",
        (standing, *parted, section_loss.CAUTION),
        loss,
    )


def of_bolt(left_mm: float, original_mm: float, metal: str = "", thread: str = "") -> Meaning:
    """A bolt worn to `left_mm` from `original_mm`.

    metal: a code of `bolt_loss.fastening_metals`, thread: a key of `bolt_loss.standard_threads`;
    "" where they are not known. Raises ValueError for a bolt thicker than it was, and for a metal
    or a thread that is not in the tables.
    """
    loss = bolt_loss.wasted_bolt(original_mm, left_mm)
    tension = 100 * loss.tension_fraction
    strength, source, cautions = _strength(loss, metal, thread)
    ask = "" if metal else " Name its metal to see at what load such a bolt breaks."
    return Meaning(
        f"{100 * loss.diameter_fraction:.0f} % of the diameter is left, and with it {tension:.0f} "
        f"% of the strength in tension.{ask}",
        (
            Figure("tensile area of the shank", loss.area_mm2, "mm²", tension),
            Figure("yield moment of the bolt, q³", 100 * loss.bending_fraction, "%"),
            Figure("yield moment by EN 1995-1-1, q²·⁶", 100 * loss.bending_fraction_en, "%"),
            *strength,
        ),
        "q = least / original diameter; area = π/4 × least²; tension goes as q².",
        "Geometry; forms of the equations in the Wood Handbook, chapter 8, and EN 1995-1-1 (the "
        "exponent 2.6 from memory)" + source,
        (*cautions, bolt_loss.CAUTION),
    )


def _strength(
    loss: bolt_loss.BoltLoss, metal: str, thread: str
) -> tuple[tuple[Figure, ...], str, tuple[str, ...]]:
    """The breaking load where the metal is known, with its source and its caution."""
    area = _known(bolt_loss.standard_threads(), thread, "thread") if thread else None
    if not metal:
        return (), "", ()
    held = _known(bolt_loss.fastening_metals(), metal, "metal")
    tension = bolt_loss.tension_left(loss, held.tensile_mpa, area)
    figure = Figure(f"breaks in tension at, in the {tension.weakest}", tension.newtons, "N")
    said = f"; least tensile strength {held.tensile_mpa:.0f} MPa, {held.name}: {held.source} "
    said += f"({KNOWN[held.tensile_evidence]})"
    if thread:
        said += f"; stress area of the {thread} thread from its published formula"
    return (figure,), said, (BREAKING,)


def _known(table: Mapping[str, Entry], code: str, what: str) -> Entry:
    if code not in table:
        raise ValueError(f"“{code}” is no {what} in the tables here; choose one from the list.")
    return table[code]


def of_moisture(
    percent: float, wood: str | None, temperature_c: float | None, treated: bool = False
) -> Meaning:
    """A pin meter's reading, corrected as far as a published correction is known.

    percent: as read; wood: the code of the species, None where it is not known; temperature_c: of
    the wood, None where it was not taken. Raises ValueError outside what a meter or the rule for
    temperature covers.
    """
    said = meter.corrected_reading(percent, temperature_c, wood, salt_water=True, treated=treated)
    if said.steps:
        sentence = f"Corrected: {said.corrected_percent:.1f} % ({said.word})."
    else:
        sentence = f"No published correction was applied: it stays {percent:g} % ({said.word})."
    return Meaning(
        sentence,
        tuple(Figure(f"for {step.what}", step.points, "points") for step in said.steps),
        "Corrections for temperature and for the wood are added to the reading, each by itself.",
        "; ".join(f"{step.source} ({KNOWN[step.standing]})" for step in said.steps) or "none used",
        said.cautions,
    )


def of_ph(damaged: float, sound: float | None, oak: bool) -> Meaning:
    """A pH beside what wood has by nature. Raises ValueError for a pH outside 0 to 14."""
    said = ph.compare_ph(damaged, sound, oak)
    figures = [] if said.above_sound is None else [Figure("above sound wood", said.above_sound, "")]
    ranges = (
        f"{held.what} {held.low:g}" + ("" if held.low == held.high else f" to {held.high:g}")
        for held in said.against
    )
    return Meaning(
        said.prompt,
        tuple(figures),
        "Held against: " + "; ".join(ranges) + ".",
        "; ".join(f"{held.what}: {KNOWN[held.evidence]}" for held in said.against),
        (ph.CAUTION,),
    )
