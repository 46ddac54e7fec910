"""Which pieces to lay out on a board, and where to move one."""

from collections.abc import Collection
from dataclasses import dataclass

from django import forms
from django.db.models import Q

from restoration.actions.nesting import Wanted
from restoration.calc.nesting_pieces import Piece, copies, from_pattern, rectangle
from restoration.models import LaidPiece, Pattern, ReplacementSpec
from restoration.models.replacement import LACKING, Stage
from timber_stock.web.fields import PlaceField, format_for
from timber_stock.web.forms import PlainForm

MOST_CANDIDATES = 60
MOST_OF_ONE = 20


@dataclass(frozen=True)
class Candidate:
    """A piece that could be laid out: a replacement's straight timber, or its pattern."""

    piece: Piece
    spec: ReplacementSpec
    pattern: Pattern | None = None

    @property
    def key(self) -> str:
        return self.piece.key

    def size_in(self, units: str) -> str:
        across = [[point[n] for point in self.piece.outline_mm] for n in (0, 1)]
        long, wide = (max(each) - min(each) for each in across)
        sizes = (self.piece.sided_mm, wide, long)
        return " × ".join(format_for(size, units) for size in sizes)

    @property
    def has_timber(self) -> bool:
        """All of its timber is found: laid out here, it is so over and above."""
        return self.spec.stage not in LACKING


def candidates_for(board, asked: Collection[int] = ()) -> list[Candidate]:
    """What waits for timber of this wood and is no thicker than the board, along each hull; the
    replacements asked about come first, whatever their wood and stage."""
    also = ReplacementSpec.objects.filter(other_woods=board.species)
    waiting = Q(stage=Stage.NEEDS_TIMBER) & (Q(wood=board.species) | Q(pk__in=also.values("pk")))
    specs = (
        ReplacementSpec.objects.with_stage()
        .filter(waiting | Q(pk__in=asked), withdrawn_on=None)
        .for_list()
        .along_the_hull()
    )
    ordered = sorted(specs[: 4 * MOST_CANDIDATES], key=lambda spec: spec.pk not in asked)
    members = [spec.finding.member_id for spec in ordered]
    patterns: dict[int, list[Pattern]] = {}
    for pattern in Pattern.objects.standing().filter(member__in=members):
        patterns.setdefault(pattern.member_id, []).append(pattern)
    found = [each for spec in ordered for each in _of(spec, board, patterns)]
    fitting = [each for each in found if each.piece.sided_mm <= board.thickness_mm + 0.5]
    return fitting[:MOST_CANDIDATES]


def _of(spec, board, patterns: dict[int, list[Pattern]]) -> list[Candidate]:
    own = patterns.get(spec.finding.member_id, [])
    return [as_candidate(spec, board, pattern) for pattern in own or [None]]


def as_candidate(spec: ReplacementSpec, board, pattern: Pattern | None) -> Candidate:
    """The piece of a replacement by a pattern of its member; straight where there is none."""
    piece = _straight(spec, board) if pattern is None else _shaped(pattern, spec)
    return Candidate(piece, spec, pattern)


def _straight(spec: ReplacementSpec, board) -> Piece:
    """On its side if it is sided thicker than the board, but moulded no thicker."""
    sided, wide = spec.sided_mm, spec.moulded_mm
    if sided > board.thickness_mm >= wide:
        sided, wide = wide, sided
    piece = rectangle(
        f"S{spec.pk}", mark_of(spec), long_mm=spec.length_mm, wide_mm=wide, sided_mm=sided
    )
    return _with_sapwood(piece, spec)


def _shaped(pattern: Pattern, spec: ReplacementSpec) -> Piece:
    key, label = f"P{pattern.pk}.S{spec.pk}", f"{mark_of(spec)} {pattern.name}"
    return _with_sapwood(from_pattern(key, label[:110], pattern.shape()), spec)


def _with_sapwood(piece: Piece, spec: ReplacementSpec) -> Piece:
    return Piece(
        piece.key, piece.label, piece.outline_mm, piece.sided_mm, hand=piece.hand,
        sapwood_allowed=spec.sapwood_allowed,
    )  # fmt: skip


def mark_of(spec: ReplacementSpec) -> str:
    member = spec.finding.member
    return f"{member.vessel.code}-{member.mark}"


class PiecesForm(forms.Form):
    """How many of each candidate; for the other side they are mirrored."""

    def __init__(
        self, *args, candidates: list[Candidate], first: dict[str, int], units: str, **options
    ):
        super().__init__(*args, **options)
        self.candidates, self.units = candidates, units
        for each in candidates:
            names = {f"n-{each.key}": f"How many of {each.piece.label}"}
            if each.pattern:
                names[f"o-{each.key}"] = f"How many of {each.piece.label} for the other side"
            for name, label in names.items():
                self.fields[name] = _count(label, first.get(name, 0))

    def rows(self):
        for each in self.candidates:
            other = self[f"o-{each.key}"] if each.pattern else None
            yield each, each.size_in(self.units), self[f"n-{each.key}"], other

    def clean(self):
        if not self.errors and not self.wanted():
            raise forms.ValidationError("Choose at least one piece to lay out.")

    def wanted(self) -> list[Wanted]:
        return [
            Wanted(piece, each.spec, each.pattern)
            for each in self.candidates
            for piece in copies(
                each.piece,
                self.cleaned_data.get(f"n-{each.key}") or 0,
                other_side=self.cleaned_data.get(f"o-{each.key}") or 0,
            )
        ]


def _count(label: str, first: int) -> forms.IntegerField:
    return forms.IntegerField(
        label=label, required=False, min_value=0, max_value=MOST_OF_ONE, initial=first,
        widget=forms.NumberInput({"aria-label": label}),
    )  # fmt: skip


def counts_of(layout) -> dict[str, int]:
    """How many of each candidate a layout has, to begin another one with."""
    found: dict[str, int] = {}
    for piece in layout.pieces.all():
        key = f"P{piece.pattern_id}.S{piece.spec_id}" if piece.pattern_id else f"S{piece.spec_id}"
        name = f"{'o' if piece.hand == 'mirrored' else 'n'}-{key}"
        found[name] = found.get(name, 0) + 1
    return found


class MoveForm(PlainForm):
    """Where one piece shall lie: its own middle, and how it is turned."""

    x_mm = PlaceField(label="Middle, from the butt")
    y_mm = PlaceField(label="Middle, left of the chalk line", help_text="Right of it with a minus.")
    angle_deg = forms.FloatField(
        label="Turned, degrees",
        min_value=-360,
        max_value=360,
        help_text="Counter-clockwise on the drawing; 180 is end for end.",
    )
    mirrored = forms.BooleanField(label="Turned over", required=False)

    def __init__(self, *args, piece: LaidPiece, **options):
        if piece.x_mm is None:
            had = {"angle_deg": 0.0, "mirrored": piece.hand == "mirrored"}
        else:
            names = ("x_mm", "y_mm", "angle_deg", "mirrored")
            had = {name: getattr(piece, name) for name in names}
        shown = had | {"angle_deg": round(had["angle_deg"], 3)}
        super().__init__(*args, initial=shown, auto_id=f"move-{piece.pk}-%s", **options)
        self.had = had

    def clean(self):
        """What was left as it was shown stays as it was, though it is shown rounded."""
        for name, value in self.had.items():
            if name not in self.changed_data and name in self.cleaned_data:
                self.cleaned_data[name] = value
