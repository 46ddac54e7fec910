"""A DXF file opened: its lines and curves, laid flat out of their blocks, and what was left out.

A drawing comes from a stranger. Its size is limited before it is read, the things in it before
its blocks are opened, and whatever the reader trips over is said in a sentence.
"""

import io
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from ezdxf import recover
from ezdxf.document import Drawing as Document
from ezdxf.entities.dxfgfx import DXFGraphic
from ezdxf.entities.insert import Insert
from ezdxf.lldxf.tagger import binary_tags_loader

from restoration.calc.pattern_dxf.units import BY_HEADER

MOST_BYTES = 8_000_000
MOST_THINGS = 20_000
DEEPEST_BLOCKS = 8
CURVES = frozenset({"LINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE", "LWPOLYLINE", "POLYLINE"})
TEXTS = frozenset({"TEXT", "MTEXT", "ATTRIB", "ATTDEF"})
_BINARY = b"AutoCAD Binary DXF"  # the sentinel of a binary DXF file, by the DXF reference


class NotADrawing(ValueError):
    """The file is none from which a pattern can be taken; the sentence says why."""


@dataclass(frozen=True)
class Thing:
    """One line, curve or text, with the layer it counts as lying on."""

    layer: str
    entity: DXFGraphic


@dataclass(frozen=True)
class Drawing:
    """`unit` is a key of MM_PER_UNIT, or "" where the drawing does not say.

    `left_out` counts what is no curve, by its DXF name. `hidden` are layers switched off or
    frozen. `sided_mm` is the siding where the drawing carries one (ours do).
    """

    unit: str
    curves: tuple[Thing, ...]
    texts: tuple[Thing, ...]
    left_out: dict[str, int]
    hidden: frozenset[str]
    sided_mm: float | None = None


def read_drawing(data: bytes) -> Drawing:
    """The drawing in a DXF file, of any version, text or binary.

    Raises NotADrawing for a file larger than MOST_BYTES, one that is no DXF or breaks off, more
    than MOST_THINGS things with all blocks opened, blocks nested deeper than DEEPEST_BLOCKS or
    within themselves, and a drawing without a line.
    """
    if len(data) > MOST_BYTES:
        raise NotADrawing(too_large(len(data)))
    _refuse_what_is_none(data)
    document = _document(data)
    space = document.modelspace()
    _refuse_too_many(document, space)
    curves, texts, others = [], [], Counter[str]()
    for thing in _laid_flat(space, ""):
        kind = thing.entity.dxftype()
        if kind in CURVES:
            curves.append(thing)
        elif kind in TEXTS:
            texts.append(thing)
        else:
            others[kind] += 1
    if not curves:
        raise NotADrawing(_no_lines(len(texts), others))
    unit = BY_HEADER.get(document.header.get("$INSUNITS", 0), "")
    return Drawing(
        unit, tuple(curves), tuple(texts), dict(others), _hidden(document), _sided(document)
    )


def too_large(size_bytes: int) -> str:
    return (
        f"The file has {size_bytes / 1e6:.0f} MB; a drawing of a pattern is taken up to "
        f"{MOST_BYTES / 1e6:.0f} MB. Save the pattern alone, without pictures and other parts."
    )


def _refuse_what_is_none(data: bytes) -> None:
    if not data.strip():
        raise NotADrawing("The file is empty.")
    if data.startswith(_BINARY):
        return
    if b"SECTION" not in data[:20_000]:
        raise NotADrawing(
            "This is not a DXF file, whatever its name: save the drawing as DXF and send that."
        )
    if not data.rstrip().endswith(b"EOF"):
        raise NotADrawing("The file breaks off before its end: copy or save it again.")


def _document(data: bytes) -> Document:
    try:
        if data.startswith(_BINARY):  # the reader that mends as it goes knows texts alone
            return Document.load(binary_tags_loader(data))
        return recover.read(io.BytesIO(data))[0]
    except Exception as error:  # a stranger's file: the reader may trip over it in any way
        raise NotADrawing(
            "The file begins like a DXF but cannot be read: save it again, as DXF of the year "
            "2000 or later."
        ) from error


def _refuse_too_many(document: Document, space: Iterable[DXFGraphic]) -> None:
    counted: dict[str, int] = {}

    def count(entities: Iterable[DXFGraphic], inside: tuple[str, ...]) -> int:
        total = 0
        for entity in entities:
            total += count_block(entity, inside) if isinstance(entity, Insert) else 1
        return total

    def count_block(insert: Insert, inside: tuple[str, ...]) -> int:
        name = insert.dxf.name.lower()
        if name in inside or len(inside) >= DEEPEST_BLOCKS:
            raise NotADrawing(
                f"The block “{insert.dxf.name}” is nested too deep, or within itself: explode "
                "the blocks of the drawing and save it again."
            )
        if name not in counted:
            block = document.blocks.get(insert.dxf.name)
            counted[name] = 1 + (count(block, (*inside, name)) if block is not None else 0)
        return max(1, insert.mcount) * counted[name]

    total = count(space, ())
    if total > MOST_THINGS:
        raise NotADrawing(
            f"The drawing holds {total:,} things with its blocks opened; {MOST_THINGS:,} are read "
            "at most. Save the pattern alone."
        )


def _laid_flat(entities: Iterable[DXFGraphic], layer_outside: str) -> Iterator[Thing]:
    """Everything, blocks opened; what a block has on layer 0 lies on the layer of the block."""
    for entity in entities:
        layer = str(entity.dxf.layer)
        if layer == "0" and layer_outside:
            layer = layer_outside
        if not isinstance(entity, Insert):
            yield Thing(layer, entity)
            continue
        for one in entity.multi_insert() if entity.mcount > 1 else [entity]:
            yield from _laid_flat(one.virtual_entities(), layer)


def _hidden(document: Document) -> frozenset[str]:
    layers = document.layers
    return frozenset(str(each.dxf.name) for each in layers if each.is_off() or each.is_frozen())


def _sided(document: Document) -> float | None:
    """What our own drawings say of the siding, among the header's custom properties."""
    for name, value in document.header.custom_vars.properties:
        if name == "SIDED_MM":
            try:
                return float(value)
            except ValueError:
                return None
    return None


def _no_lines(texts: int, others: Counter[str]) -> str:
    if not texts and not others:
        return "There is nothing in the drawing's model space: a pattern needs lines."
    found = [f"{texts} text{'s' if texts != 1 else ''}"] if texts else []
    found += [f"{count} {kind}" for kind, count in others.most_common(4)]
    return (
        f"The drawing holds {', '.join(found)}, but no line, arc, circle, polyline or spline: "
        "there is nothing to take a pattern from."
    )
