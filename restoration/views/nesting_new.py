"""Beginning a layout: the face of the board as measured, and the pieces wanted of it."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.shortcuts import get_object_or_404, redirect, render

from restoration import timber
from restoration.actions.nesting import lay_out_board
from restoration.forms.nesting import PiecesForm, candidates_for, counts_of
from restoration.forms.nesting_face import (
    DefectFormSet,
    FaceForm,
    face_as_entered,
    first_defects,
    first_face,
)
from restoration.models import Allotment, Layout
from timber_stock.web.addresses import row_number
from timber_stock.web.pages import own_units


def layout_new(request, board_id):
    """`?spec=` asks for one replacement's piece, to which its own length is open until it is cut;
    `?again=` begins from an earlier layout."""
    board = get_object_or_404(timber.Board.objects.select_related("species", "log"), pk=board_id)
    face, defects, pieces = _forms(request, board)
    if request.method == "POST" and board.is_in_stock():
        made = _lay_out(request, board, face, defects, pieces)
        if made is not None:
            messages.success(request, f"Laid out on {board}. It is not kept yet.")
            return redirect(made)
    context = {
        "board": board, "face": face, "defects": defects, "pieces": pieces,
        "again": "again" in request.GET,
    }  # fmt: skip
    refused = request.method == "POST"
    return render(request, "restoration/layout_new.html", context, status=422 if refused else 200)


def _forms(request, board):
    units, data = own_units(request), request.POST or None
    again = _number(request, "again")
    before = Layout.objects.filter(board=board, pk=again).first() if again else None
    spec_id = _number(request, "spec")
    if before:
        face, defects = face_as_entered(before, units)
    else:
        taken = Allotment.objects.standing().filter(board_id=board.pk).order_by("from_mm")
        taken = taken.exclude(spec=spec_id, cut_on=None) if spec_id else taken
        face, defects = first_face(board), first_defects(board, taken)
    asked = {piece.spec_id for piece in before.pieces.all()} if before else {spec_id}
    candidates = candidates_for(board, asked - {None})
    first = counts_of(before) if before else {}
    if spec_id and not before:
        first = {f"n-{each.key}": 1 for each in candidates if each.spec.pk == spec_id}
    return (
        FaceForm(data, initial=face, units=units),
        DefectFormSet(data, initial=defects, prefix="defect", form_kwargs={"units": units}),
        PiecesForm(data, candidates=candidates, first=first, units=units),
    )


def _number(request, name: str) -> int | None:
    return row_number(request.GET.get(name))


def _lay_out(request, board, face, defects, pieces):
    if not all([face.is_valid(), defects.is_valid(), pieces.is_valid()]):
        return None
    sheet = face.sheet(defects.defects())
    if sheet is None:
        return None
    given = {name: face.cleaned_data[name] for name in ("gap_mm", "grain_deg", "note")}
    try:
        return lay_out_board(
            board_id=board.pk, sheet=sheet, wanted=pieces.wanted(), by=request.user, **given
        )
    except ValidationError as error:
        face.refuse(*error.messages)
        return None
