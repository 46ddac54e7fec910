"""Pieces laid out on a board: begin, look, move by hand, search longer, keep, print, promise."""

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_POST

from restoration import timber
from restoration.actions import nesting
from restoration.calc.nesting_left_out import why_left_out
from restoration.drawings.nesting import layout_drawing
from restoration.forms.nesting import MoveForm
from restoration.models import Allotment, LaidPiece, Layout
from restoration.reports.nesting import (
    defects_told,
    drawn_pieces,
    figures_of,
    layout_paper,
    notes_on_face,
)
from restoration.views.paper_answers import as_pdf, size_asked
from timber_stock.templatetags.measures import lengths_in
from timber_stock.web.addresses import row_number
from timber_stock.web.pages import own_units, page_or_piece

PAGE = 50
MOST_BOARDS = 30
LONGER_STEPS = 400


def layouts(request):
    """All layouts, and a board to begin one on: first the one allotted to `?spec=`."""
    asked = request.GET.get("tag")
    spec = row_number(request.GET.get("spec", ""))
    boards = []
    if asked is not None:
        boards = timber.boards_in_stock().matching(asked.strip())[:MOST_BOARDS]
    page = Paginator(Layout.objects.for_list(), PAGE).get_page(request.GET.get("page"))
    context = {
        "page": page, "asked": asked, "boards": boards, "most": MOST_BOARDS,
        "spec": spec or "", "allotted": _allotted_to(spec) if spec else [],
    }  # fmt: skip
    return render(request, "restoration/layouts.html", context)


def _allotted_to(spec_id: int):
    """The boards a replacement has lengths of that are still to be cut."""
    waiting = Allotment.objects.standing().filter(spec=spec_id, cut_on=None)
    return timber.boards_in_stock().filter(pk__in=waiting.values("board"))


def layout(request, pk):
    return show_layout(request, _layout(pk))


@require_POST
def layout_move(request, pk):
    """Lay one piece elsewhere or take it off: judged here, whatever the browser thought."""
    found = _layout(pk)
    piece = get_object_or_404(found.pieces, pk=row_number(request.POST.get("piece")))
    if "off" in request.POST:
        return _done(request, found, lambda: nesting.take_off(piece=piece), f"{piece} is left out.")
    form = MoveForm(request.POST, piece=piece, units=own_units(request))
    if form.is_valid():
        try:
            nesting.move_piece(piece=piece, **form.cleaned_data)
        except ValidationError as error:
            for sentence in error.messages:
                form.add_error(None, lengths_in(sentence, own_units(request)))
    if form.errors:
        return show_layout(request, found, moving=(piece, form), status=422)
    return _moved(request, pk, f"{piece} lies there now.")


@require_POST
def layout_again(request, pk):
    found = _layout(pk)

    def search():
        nesting.search_longer(layout=found, steps=LONGER_STEPS)

    return _done(request, found, search, "Searched longer: what is shown is the best so far.")


@require_POST
def layout_keep(request, pk):
    found, today = _layout(pk), timezone.localdate()
    if "open" in request.POST:
        return _done(request, found, lambda: nesting.open_again(layout=found), "It can be changed.")

    def keep():
        nesting.keep_layout(layout=found, by=request.user, on=today)

    return _done(request, found, keep, "The layout is kept.")


@require_POST
def layout_delete(request, pk):
    found = _layout(pk)
    try:
        nesting.remove_layout(layout=found)
    except ValidationError as error:
        return show_layout(request, found, refused=error.messages, status=422)
    messages.success(request, f"The layout of {found.board} is thrown away.")
    return redirect("restoration:layouts")


def layout_pdf(request, pk):
    paper = layout_paper(_layout(pk), own_units(request), size_asked(request))
    return as_pdf(request, paper, lying=True)


def layout_promise(request, pk):
    """Which lengths of the board the layout takes, and which of them can be promised."""
    found = _layout(pk)
    refused = []
    if request.method == "POST":
        try:
            made = nesting.promise_lengths(
                layout=found,
                keys=request.POST.getlist("key"),
                by=request.user,
                on=timezone.localdate(),
            )
            are = "is" if len(made) == 1 else "are"
            messages.success(request, f"{len(made)} of its lengths {are} promised.")
            return redirect("restoration:layout", pk)
        except ValidationError as error:
            refused = error.messages
    pieces = list(found.pieces.all())
    served = _served(pieces)
    rows = [_length(taken, pieces, served) for taken in nesting.lengths_of(found)]
    context = {
        "layout": found, "rows": rows, "refused": refused, "any": any(row["spec"] for row in rows),
        "chosen": request.POST.getlist("key"),
    }  # fmt: skip
    status = 422 if refused else 200
    return render(request, "restoration/layout_promise.html", context, status=status)


def _served(pieces) -> dict[int, Allotment]:
    """By replacement, a length that is promised to it already."""
    specs = {piece.spec_id for piece in pieces if piece.spec_id}
    promised = Allotment.objects.standing().filter(spec__in=specs).select_related("board")
    return {each.spec_id: each for each in promised}


def _length(taken, pieces, served) -> dict:
    inside_it = [piece for piece in pieces if piece.key in taken.keys]
    spec = nesting.spec_of(taken, pieces)
    return {
        "taken": taken,
        "pieces": inside_it,
        "spec": spec,
        "has": spec and served.get(spec.pk),
        "for_none": any(piece.spec_id is None for piece in inside_it),
    }


def _layout(pk) -> Layout:
    rows = Layout.objects.select_related("board__species", "by", "kept_by")
    pieces = "pieces__spec__finding__member__vessel"
    return get_object_or_404(rows.prefetch_related(pieces, "pieces__pattern"), pk=pk)


def _done(request, found, action, said):
    try:
        action()
    except ValidationError as error:
        return show_layout(request, found, refused=error.messages, status=422)
    return _moved(request, found.pk, said)


def _moved(request, pk, said):
    if request.htmx:
        return show_layout(request, _layout(pk), said=said)
    messages.success(request, said)
    return redirect("restoration:layout", pk)


def show_layout(request, found, *, moving=None, refused=(), said="", status=200):
    """`moving`: the piece and its refused form, kept as it was typed."""
    units = own_units(request)
    laid = drawn_pieces(found, units)
    says = f"Pieces laid out on {found.board}; the butt end is at the left"
    drawing = layout_drawing(found.face(), laid, says, units=units)
    left_out = why_left_out(found.request(), found.places())
    context = {
        "layout": found,
        "face": found.face(),
        "drawing": mark_safe(drawing.svg),  # escaped where it was drawn
        "yield": figures_of(found),
        "rows": [_row(piece, left_out, moving, units) for piece in found.pieces.all()],
        "count_laid": len(laid),
        "notes": notes_on_face(found),
        "defects": defects_told(found, units),
        "may_move": request.user.role == "yard" and not found.kept_on,
        "moving": moving,
        "refused": refused,
        "said": said,
    }
    return page_or_piece(
        request, "restoration/layout.html", "restoration/_layout.html", context, status=status
    )


def _row(piece: LaidPiece, left_out: dict, moving, units: str) -> dict:
    is_moving = moving is not None and moving[0].pk == piece.pk
    form = moving[1] if is_moving else MoveForm(piece=piece, units=units)
    return {
        "piece": piece,
        "form": form,
        "open": is_moving,
        "why": lengths_in(left_out.get(piece.key, ""), units),
    }
