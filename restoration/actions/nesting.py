"""Laying pieces out on a board, moving one by hand, keeping a layout, promising its lengths."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from django.core.exceptions import ValidationError
from django.db import transaction

from restoration.actions.allotments import allot_board
from restoration.calc.nesting_data import sheet_to_data
from restoration.calc.nesting_lawful import faults_of
from restoration.calc.nesting_lengths import Taken, lengths_taken
from restoration.calc.nesting_pieces import Piece, check_gap_mm, check_grain_deg, checked_pieces
from restoration.calc.nesting_places import Place
from restoration.calc.nesting_search import USUAL_STEPS, Request, lay_out, score
from restoration.calc.nesting_sheet import Sheet, checked_sheet
from restoration.models import Allotment, LaidPiece, Layout, Pattern, ReplacementSpec, User

KEPT = "This layout is kept: open it again before you change it."
LONGEST_SECONDS = 3.0
LONGER_SECONDS = 12.0


@dataclass(frozen=True)
class Wanted:
    """One piece to lay out, for which replacement, and by which pattern."""

    piece: Piece
    spec: ReplacementSpec | None = None
    pattern: Pattern | None = None


def lay_out_board(
    *,
    board_id: int,
    sheet: Sheet,
    wanted: Sequence[Wanted],
    gap_mm: float,
    grain_deg: float,
    by: User,
    steps: int = USUAL_STEPS,
    note: str = "",
) -> Layout:
    """Search a layout, for three seconds at most, and store it; it is not kept yet."""
    try:
        checked_sheet(sheet)
        check_grain_deg(grain_deg)
        check_gap_mm(gap_mm)
        checked_pieces([each.piece for each in wanted])
    except ValueError as error:
        raise ValidationError(str(error)) from error
    layout = Layout(
        board_id=board_id, sheet=sheet_to_data(sheet), gap_mm=gap_mm, grain_deg=grain_deg,
        by=by, note=note,
    )  # fmt: skip
    pieces = [_row(layout, each) for each in wanted]
    request = Request(sheet, tuple(p.as_piece(grain_deg) for p in pieces), gap_mm)
    found = lay_out(request, steps=steps, seconds=LONGEST_SECONDS)
    layout.steps = found.steps
    _lie(pieces, found.places)
    with transaction.atomic():
        layout.full_clean()
        layout.save()
        for piece in pieces:
            piece.full_clean(exclude=["layout"])
            piece.save()
    return layout


def search_longer(*, layout: Layout, steps: int) -> Layout:
    """Search again with more steps and another beginning; what lies now stays if it is better."""
    found = lay_out(layout.request(), steps=steps, seed=layout.steps + 2, seconds=LONGER_SECONDS)
    with transaction.atomic():
        layout = _open(layout.pk)
        request = layout.request()
        if score(request, found.places) > score(request, layout.places()):
            _save_places(layout, found.places)
        layout.steps += found.steps
        layout.save(update_fields=["steps"])
    return layout


@transaction.atomic
def move_piece(
    *, piece: LaidPiece, x_mm: float, y_mm: float, angle_deg: float, mirrored: bool
) -> LaidPiece:
    """Lay one piece elsewhere, refused with every reason where it may not lie."""
    layout = _open(piece.layout_id)
    moved = Place(piece.key, x_mm, y_mm, angle_deg, mirrored)
    others = tuple(place for place in layout.places() if place.key != piece.key)
    request = layout.request()
    found = faults_of(request.sheet, request.pieces, (moved, *others), request.gap_mm)
    if found:
        raise ValidationError([fault.says for fault in found])
    return _put(piece, moved)


@transaction.atomic
def take_off(*, piece: LaidPiece) -> LaidPiece:
    """Leave a piece out: it lies nowhere until it is laid again."""
    _open(piece.layout_id)
    return _put(piece, None)


@transaction.atomic
def keep_layout(*, layout: Layout, by: User, on: date) -> Layout:
    """From now on it is moved no more, and its lengths can be promised."""
    layout = _open(layout.pk)
    if not layout.places():
        raise ValidationError("Nothing is laid out: there is nothing to keep.")
    layout.kept_on, layout.kept_by = on, by
    layout.full_clean()
    layout.save()
    return layout


@transaction.atomic
def open_again(*, layout: Layout) -> Layout:
    layout = Layout.objects.select_for_update().get(pk=layout.pk)
    layout.kept_on = layout.kept_by = None
    layout.full_clean()
    layout.save()
    return layout


@transaction.atomic
def remove_layout(*, layout: Layout) -> None:
    _open(layout.pk).delete()


def lengths_of(layout: Layout) -> tuple[Taken, ...]:
    return lengths_taken(layout.request().pieces, layout.places())


def spec_of(taken: Taken, pieces: Iterable[LaidPiece]) -> ReplacementSpec | None:
    """The one replacement for which all the pieces in a length are; None where they differ."""
    specs = {piece.spec_id: piece.spec for piece in pieces if piece.key in taken.keys}
    return next(iter(specs.values())) if len(specs) == 1 else None


@transaction.atomic
def promise_lengths(
    *, layout: Layout, keys: Iterable[str], by: User, on: date
) -> tuple[Allotment, ...]:
    """Promise those lengths of the board in which a chosen piece lies, all of them or none.

    A length is promised only where every piece in it is for the same replacement.
    """
    layout = Layout.objects.select_for_update().get(pk=layout.pk)
    if layout.kept_on is None:
        raise ValidationError("Keep the layout first: one that may still change promises nothing.")
    chosen, pieces, made = set(keys), list(layout.pieces.select_related("spec")), []
    for taken in lengths_of(layout):
        if not chosen & set(taken.keys):
            continue
        if (spec := spec_of(taken, pieces)) is None:
            raise ValidationError(_side_by_side(taken, pieces))
        told = {"from_mm": round(taken.from_mm, 2), "to_mm": round(taken.to_mm, 2)}
        note = f"as laid out in layout {layout.pk}"
        made.append(
            allot_board(spec=spec, board_id=layout.board_id, by=by, on=on, note=note, **told)
        )
    if not made:
        raise ValidationError("Choose at least one length to promise.")
    return tuple(made)


def _side_by_side(taken: Taken, pieces: Iterable[LaidPiece]) -> str:
    labels = " and ".join(piece.label for piece in pieces if piece.key in taken.keys)
    return (
        f"{labels} cannot be promised by length: either they share a length of the board and are "
        "for different replacements, or one of them is for none."
    )


def _row(layout: Layout, wanted: Wanted) -> LaidPiece:
    piece = wanted.piece
    return LaidPiece(
        layout=layout, key=piece.key, label=piece.label, spec=wanted.spec, pattern=wanted.pattern,
        outline=[list(point) for point in piece.outline_mm], sided_mm=piece.sided_mm,
        hand=piece.hand, sapwood_allowed=piece.sapwood_allowed,
    )  # fmt: skip


def _open(layout_id: int) -> Layout:
    """The layout, held still until this transaction ends, and refused where it is kept."""
    layout = Layout.objects.select_for_update().get(pk=layout_id)
    if layout.kept_on:
        raise ValidationError(KEPT)
    return layout


def _lie(pieces: Iterable[LaidPiece], places: Iterable[Place]) -> None:
    where = {place.key: place for place in places}
    for piece in pieces:
        _set(piece, where.get(piece.key))


def _set(piece: LaidPiece, place: Place | None) -> None:
    piece.x_mm, piece.y_mm = (place.x_mm, place.y_mm) if place else (None, None)
    piece.angle_deg = place.angle_deg if place else None
    piece.mirrored = bool(place and place.mirrored)


def _put(piece: LaidPiece, place: Place | None) -> LaidPiece:
    _set(piece, place)
    piece.full_clean()
    piece.save()
    return piece


def _save_places(layout: Layout, places: Iterable[Place]) -> None:
    pieces = list(layout.pieces.all())
    _lie(pieces, places)
    for piece in pieces:
        piece.save()
