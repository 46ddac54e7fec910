"""What a paper says, as plain blocks: gathered once, then drawn as PDF and as a web page alike.

Every text is said already in the reader's units, so that the page and the paper cannot differ.
Figures are our own SVG. The blocks know nothing of either medium.
"""

from collections.abc import Container, Iterator
from dataclasses import dataclass, fields, is_dataclass

from restoration.drawings.hull.paper import Sheet


@dataclass(frozen=True)
class Heading:
    """Goes into the bookmarks by its `key`, which is short and used once in a paper."""

    text: str
    key: str
    is_chapter: bool = True

    kind = "heading"


@dataclass(frozen=True)
class Words:
    """A paragraph; `look` is body, small, or strong, which leads to what follows it."""

    text: str
    look: str = "body"

    kind = "words"


@dataclass(frozen=True)
class Caution:
    text: str

    kind = "caution"


@dataclass(frozen=True)
class Facts:
    """Particulars: what it is, and what is said of it."""

    pairs: tuple[tuple[str, str], ...]
    columns: int = 3

    kind = "facts"


@dataclass(frozen=True)
class Graded:
    """A class of condition, drawn as its mark with its word; "" for no grade."""

    grade: str
    word: str


@dataclass(frozen=True)
class Head:
    """A column's head, its share of the width, whether it holds figures (set right), and whether
    the first line of each cell is what one looks for (set bold)."""

    text: str
    share: float
    figures: bool = False
    strong: bool = False


@dataclass(frozen=True)
class Line:
    """A row of a table; the first cell names it. A `note` stands under it, across the table."""

    cells: tuple[str | Graded, ...]
    note: str = ""
    is_total: bool = False


@dataclass(frozen=True)
class Table:
    heads: tuple[Head, ...]
    lines: tuple[Line, ...]
    caption: str = ""
    is_large: bool = False  # to be read at arm's length

    kind = "table"

    def rows(self) -> list[tuple[Line, list[tuple[Head, "str | Graded"]]]]:
        """Each line with its cells under their heads."""
        return [(line, list(zip(self.heads, line.cells, strict=True))) for line in self.lines]


@dataclass(frozen=True)
class Figure:
    """A drawing with its caption; `share` of the width of the paper is the most it takes."""

    svg: str
    caption: str
    share: float = 1.0
    looks: str = ""  # whose classes the drawing uses: a name known to whoever draws

    kind = "figure"


@dataclass(frozen=True)
class SideBySide:
    """Figures in a row, with what is said beside them; kept on one page."""

    figures: tuple[Figure, ...]
    beside: tuple["Block", ...] = ()

    kind = "side_by_side"


@dataclass(frozen=True)
class Signatures:
    """Places to sign, each for someone."""

    who: tuple[str, ...]

    kind = "signatures"


@dataclass(frozen=True)
class Scan:
    """A QR code that leads to an address, with what stands beside it."""

    address: str
    text: str

    kind = "scan"


@dataclass(frozen=True)
class FoldOut:
    """A hull sheet on a page twice the size of the paper, where every mark can be read."""

    sheet: Sheet

    kind = "fold_out"


@dataclass(frozen=True)
class NewPage:
    """What follows begins a page, where there are pages."""

    kind = "new_page"


Block = (
    Heading | Words | Caution | Facts | Table | Figure | SideBySide | Signatures | Scan | FoldOut
    | NewPage
)  # fmt: skip


@dataclass(frozen=True)
class Paper:
    """One paper. `kind` is what it is called, `of` what it is about, `foot` the strip along its
    foot (three labels with their values), `file_name` what it is kept as, without an ending."""

    kind: str
    of: str
    author: str
    foot: tuple[tuple[str, str], ...]
    file_name: str
    blocks: tuple[Block, ...]

    @property
    def title(self) -> str:
        return f"{self.kind}: {self.of}"


DRAWN = ("svg", "sheet", "looks", "key", "look")
"""Fields of drawings, whose texts are those of the content too."""


def strings(thing: object, but: Container[str] = DRAWN) -> Iterator[str]:
    """Every text in the content, to tell which letters cannot be printed; `but` of these fields."""
    if isinstance(thing, str):
        yield thing
    elif isinstance(thing, tuple):
        for item in thing:
            yield from strings(item, but)
    elif is_dataclass(thing):
        for each in fields(thing):
            if each.name not in but:
                yield from strings(getattr(thing, each.name), but)
