"""Pieces laid out on a board: begun, moved by hand, refused, kept, printed, promised."""

import io
from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from pypdf import PdfReader

from restoration.actions.nesting import (
    Wanted,
    keep_layout,
    lay_out_board,
    move_piece,
    open_again,
    promise_lengths,
    search_longer,
    take_off,
)
from restoration.calc.nesting_lawful import faults_of
from restoration.calc.nesting_pieces import copies, from_pattern, rectangle
from restoration.calc.nesting_sheet import Defect, Sheet, oval, tapered
from restoration.calc.pattern import Pattern as Shape
from restoration.calc.pattern import to_data
from restoration.models import Allotment, LaidPiece, Layout, Pattern

pytestmark = pytest.mark.django_db

OUTLINE = ((0, 0), (430, 70), (860, 0), (830, 105), (430, 190), (20, 110))
FACE = Sheet(
    2500, 70, tapered(2500, 240, 240), butt_check_mm=80, sapwood_left_mm=15,
    defects=(Defect("knot", oval(1300, -70, 60, 50), 10),),
)  # fmt: skip


@pytest.fixture
def specs(survey, make_spec):
    sizes = {"sided_mm": 60, "moulded_mm": 70, "length_mm": 700}
    return [make_spec(survey, f"F{n}", **sizes) for n in (11, 12, 13)]


@pytest.fixture
def pattern(specs, people):
    return Pattern.objects.create(
        member=specs[1].finding.member, name="mould", sided_mm=60, taken="offsets",
        data=to_data(Shape(OUTLINE, 60)), by=people["yard"],
    )  # fmt: skip


@pytest.fixture
def layout(bought_board, specs, people):
    wanted = [
        Wanted(rectangle(f"S{s.pk}", f"TEN-{s.finding.member}", long_mm=700, wide_mm=70,
                         sided_mm=60), s)
        for s in specs
    ]  # fmt: skip
    return lay_out_board(
        board_id=bought_board.pk, sheet=FACE, wanted=wanted, gap_mm=5, grain_deg=4,
        by=people["yard"], steps=6,
    )  # fmt: skip


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    return client


def first_values(page):
    """Every field of the page's form as it would be sent untouched."""
    given = {}
    context = page.context
    for form in (context["face"], *context["defects"].forms, context["pieces"]):
        for field in form:
            given[field.html_name] = field.value() if field.value() is not None else ""
            if field.name == "kind":  # a list to choose from always sends one of its choices
                given[field.html_name] = field.value() or "knot"
    for field in context["defects"].management_form:
        given[field.html_name] = field.value()
    return given


def lies(layout):
    return {p.key: (p.x_mm, p.y_mm, p.angle_deg, p.mirrored) for p in layout.pieces.all()}


# Beginning


def test_the_boards_own_figures_come_first_and_its_promised_lengths_are_kept_clear_of(
    yard, bought_board, specs, promise
):
    promise(specs[0], "Q3", 0, 700)
    page = yard.get(f"/boards/{bought_board.pk}/lay-out/")
    assert page.status_code == 200
    given = first_values(page)
    assert given["length_mm"] == "8 ft 2 7/16 in"
    assert given["defect-0-kind"] == "used"
    assert given["defect-0-long_mm"] == "2 ft 3 9/16 in"
    marks = [each.piece.label for each in page.context["pieces"].candidates]
    assert marks == ["TEN-F12", "TEN-F13"]  # the first has its timber


def test_the_heart_lies_where_the_record_says_on_the_other_side_of_the_line(yard, bought_board):
    bought_board.butt_heart_across_mm, bought_board.butt_heart_off_mm = 30, 5
    bought_board.save()
    given = first_values(yard.get(f"/boards/{bought_board.pk}/lay-out/"))
    assert given["defect-0-kind"] == "heart"
    assert given["defect-0-across_mm"].startswith("−1 3/16")  # to the right, as it was recorded


def test_a_layout_is_laid_out_from_the_form_with_the_pattern_where_there_is_one(
    yard, bought_board, specs, pattern
):
    address = f"/boards/{bought_board.pk}/lay-out/?spec={specs[1].pk}"
    given = first_values(yard.get(address))
    key = f"P{pattern.pk}.S{specs[1].pk}"
    assert given[f"n-{key}"] == 1
    given |= {f"o-{key}": "1", f"n-S{specs[0].pk}": "2", "sapwood_left_mm": "15 mm"}
    answer = yard.post(address, given)
    layout = Layout.objects.get()
    assert answer["Location"] == layout.get_absolute_url()
    assert layout.pieces.count() == 4
    assert {p.pattern_id for p in layout.pieces.all()} == {pattern.pk, None}
    assert layout.face().sapwood_left_mm == 15
    request = layout.request()
    assert faults_of(request.sheet, request.pieces, layout.places(), request.gap_mm) == ()
    shown = yard.get(layout.get_absolute_url()).content.decode()
    assert "Yield of the whole face" in shown
    assert 'data-piece="' in shown


def test_measured_edges_and_defects_are_read_and_read_back(yard, bought_board, specs):
    address = f"/boards/{bought_board.pk}/lay-out/"
    edges = "0; 120 mm; 110 mm\n1200 mm; 80 mm; 130 mm\n8-2-3.5; -20 mm; 140 mm"
    given = first_values(yard.get(address)) | {
        "length_mm": "2500 mm", "edges": edges.replace("8-2-3.5", "2500 mm"),
        f"n-S{specs[0].pk}": "1", "defect-0-along_mm": "900 mm", "defect-0-across_mm": "-30 mm",
        "defect-0-long_mm": "60 mm", "defect-0-wide_mm": "40 mm", "defect-0-clearance_mm": "8 mm",
    }  # fmt: skip
    assert yard.post(address, given).status_code == 302
    layout = Layout.objects.get()
    assert [s.right_mm for s in layout.face().stations] == [120, 80, -20]
    (defect,) = layout.face().defects
    assert min(x for x, _ in defect.points_mm) == pytest.approx(870)
    again = first_values(yard.get(f"{address}?again={layout.pk}"))
    assert again["defect-0-long_mm"] == "2 3/8 in"
    assert again["edges"].splitlines()[2].count("-") == 1
    assert again[f"n-S{specs[0].pk}"] == 1


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"grain_deg": "46"}, "beyond that it is cross grain"),
        ({"grain_deg": "-1"}, "from 0 to 45 degrees"),
        ({"gap_mm": "200 mm"}, "gap between pieces is nothing to 3 15/16 in"),
        ({"length_mm": "0 mm", "edges": ""}, "more than nothing"),
        ({"butt_check_mm": "3000 mm"}, "leave nothing of the length"),
        ({"edges": "0; 4 in"}, "Line 1 of the edges needs three lengths"),
        ({"edges": "0; 4 in; wide"}, "Line 1 of the edges"),
        ({"defect-0-along_mm": "9000 mm"}, "lies wholly off the face"),
        ({"defect-0-wide_mm": ""}, "Fill this in"),
        ({"n": "0"}, "Choose at least one piece"),
        ({"n": "21"}, "20"),
    ],
)
def test_what_cannot_be_laid_out_is_refused_with_everything_typed_kept(
    yard, bought_board, specs, change, says
):
    address = f"/boards/{bought_board.pk}/lay-out/"
    count = change.pop("n", "2") if "n" in change else "2"
    given = first_values(yard.get(address)) | {
        f"n-S{specs[0].pk}": count, "note": "off the rack by the door",
        "defect-0-along_mm": "900 mm", "defect-0-across_mm": "0", "defect-0-long_mm": "60 mm",
        "defect-0-wide_mm": "40 mm",
    } | change  # fmt: skip
    answer = yard.post(address, given)
    shown = answer.content.decode()
    assert answer.status_code == 422
    assert says in shown
    assert "off the rack by the door" in shown
    assert change.get("defect-0-along_mm", "900 mm") in shown
    assert not Layout.objects.exists()


def test_nothing_is_laid_out_on_a_board_that_is_gone(yard, bought_board, specs):
    bought_board.state = "gone"
    bought_board.save()
    address = f"/boards/{bought_board.pk}/lay-out/"
    assert "nothing can be laid out on it any more" in yard.get(address).content.decode()
    yard.post(address, {})
    assert not Layout.objects.exists()


def test_laid_out_anew_it_begins_with_the_same_pieces_though_they_have_found_timber(
    yard, layout, specs, promise
):
    promise(specs[0], "Q3", 0, 700)
    page = yard.get(f"/boards/{layout.board_id}/lay-out/?again={layout.pk}")
    given = first_values(page)
    assert [given[f"n-S{spec.pk}"] for spec in specs] == [1, 1, 1]


def test_a_replacement_that_may_also_be_of_this_wood_is_offered_and_another_is_not(
    yard, bought_board, specs, woods
):
    specs[0].other_woods.set([woods["oak_white"], woods["iroko"]])
    for spec in specs[:2]:
        spec.wood = woods["larch_european"]
        spec.save()
    page = yard.get(f"/boards/{bought_board.pk}/lay-out/")
    marks = [each.piece.label for each in page.context["pieces"].candidates]
    assert marks == ["TEN-F11", "TEN-F13"]


# By hand


def test_a_piece_is_moved_by_its_figures(yard, layout):
    piece = layout.pieces.first()
    take_off(piece=layout.pieces.last())
    told = {"piece": piece.pk, "x_mm": "2000 mm", "y_mm": "-1.5", "angle_deg": "182"}
    answer = yard.post(f"/layouts/{layout.pk}/move/", told)
    assert answer.status_code == 302
    piece.refresh_from_db()
    assert (piece.x_mm, piece.y_mm, piece.angle_deg) == (2000, pytest.approx(-38.1), 182)


def test_figures_left_as_they_are_shown_move_nothing_by_their_rounding(yard, layout):
    piece = layout.pieces.first()
    form = next(
        row["form"]
        for row in yard.get(layout.get_absolute_url()).context["rows"]
        if row["piece"].pk == piece.pk
    )
    told = {field.html_name: field.value() for field in form if field.name != "mirrored"}
    before = lies(layout)
    answer = yard.post(f"/layouts/{layout.pk}/move/", {"piece": piece.pk, **told})
    assert answer.status_code == 302
    assert lies(Layout.objects.get()) == before


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"x_mm": "over", "y_mm": "over"}, "would overlap"),
        ({"x_mm": "5000 mm"}, "off the face"),
        ({"x_mm": "360 mm", "y_mm": "0"}, "run into the checks"),
        ({"angle_deg": "20"}, "20.0° off the grain"),
        ({"angle_deg": "nan"}, "number"),
        ({"angle_deg": "1000"}, "360"),
        ({"x_mm": "aft"}, "aft"),
        ({"mirrored": "on"}, "wanted as drawn"),
    ],
)
def test_a_move_that_is_not_allowed_is_refused_and_nothing_lost(yard, layout, change, says):
    piece, other = layout.pieces.all()[:2]
    told = {"piece": piece.pk, "x_mm": f"{piece.x_mm} mm", "y_mm": f"{piece.y_mm} mm",
            "angle_deg": "0"} | change  # fmt: skip
    for name in ("x_mm", "y_mm"):
        if told[name] == "over":
            told[name] = f"{getattr(other, name):.3f} mm"
    before = lies(layout)
    answer = yard.post(f"/layouts/{layout.pk}/move/", told, headers={"HX-Request": "true"})
    shown = answer.content.decode()
    assert answer.status_code == 422
    assert says in shown
    assert f'value="{told["x_mm"]}"' in shown
    assert "<html" not in shown
    assert lies(Layout.objects.get()) == before


def test_a_refusal_speaks_in_the_readers_own_units(yard, layout, people):
    piece = layout.pieces.first()
    told = {"piece": piece.pk, "x_mm": "1000 mm", "y_mm": "-200 mm", "angle_deg": "0"}
    assert (
        "4 1/2 in off the face" in yard.post(f"/layouts/{layout.pk}/move/", told).content.decode()
    )
    people["yard"].units = "metric"
    people["yard"].save()
    assert "115 mm off the face" in yard.post(f"/layouts/{layout.pk}/move/", told).content.decode()


def test_a_piece_is_left_out_and_laid_again(yard, layout):
    piece = layout.pieces.last()
    had = (piece.x_mm, piece.y_mm, piece.angle_deg)
    yard.post(f"/layouts/{layout.pk}/move/", {"piece": piece.pk, "off": "1"})
    piece.refresh_from_db()
    assert piece.place() is None
    assert "left out" in yard.get(layout.get_absolute_url()).content.decode()
    x, y, angle = had
    move_piece(piece=piece, x_mm=x, y_mm=y, angle_deg=angle, mirrored=False)
    piece.refresh_from_db()
    assert (piece.x_mm, piece.y_mm, piece.angle_deg) == had


def test_a_piece_of_another_layout_is_not_moved(yard, layout):
    for number in ("999999", "", "x"):
        answer = yard.post(f"/layouts/{layout.pk}/move/", {"piece": number, "off": "1"})
        assert answer.status_code == 404


def test_a_longer_search_never_leaves_it_worse(yard, layout):
    pieces = list(layout.pieces.all())
    for piece in pieces[1:]:
        take_off(piece=piece)
    search_longer(layout=layout, steps=5)
    assert len(Layout.objects.get().places()) == 3
    before = lies(layout)
    assert yard.post(f"/layouts/{layout.pk}/search/").status_code == 302
    after = Layout.objects.get()
    assert after.steps > layout.steps
    assert len(after.places()) == 3
    assert lies(after).keys() == before.keys()


# Kept, printed, promised


def test_a_kept_layout_is_moved_no_more_until_it_is_opened_again(yard, layout):
    yard.post(f"/layouts/{layout.pk}/keep/")
    piece = layout.pieces.first()
    for address, told in (
        ("move", {"piece": piece.pk, "off": "1"}),
        ("search", {}),
        ("delete", {}),
    ):
        answer = yard.post(f"/layouts/{layout.pk}/{address}/", told)
        assert answer.status_code == 422
        assert "This layout is kept" in answer.content.decode()
    yard.post(f"/layouts/{layout.pk}/keep/", {"open": "1"})
    assert yard.post(f"/layouts/{layout.pk}/delete/").status_code == 302
    assert not Layout.objects.exists()
    assert not LaidPiece.objects.exists()


def test_a_layout_of_nothing_is_not_kept(layout, people):
    for piece in layout.pieces.all():
        take_off(piece=piece)
    with pytest.raises(ValidationError, match="nothing to keep"):
        keep_layout(layout=layout, by=people["yard"], on=date(2026, 3, 4))


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_it_is_printed_to_a_round_scale_with_the_figures_to_set_out_by(yard, layout, size):
    answer = yard.get(f"/layouts/{layout.pk}/pdf/?paper={size}")
    assert answer["Content-Type"] == "application/pdf"
    said = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(answer.content)).pages)
    assert "Scale 1:20" in said
    assert "TEN-F11" in said
    assert "Defects kept clear of" in said
    # A foot on the ruler is 15.24 mm of paper at 1:20: between 3 and 6 lie 129.6 points.
    marks = {}

    def note(text, matrix, over, *_):
        if text.strip() in ("3 ft", "6 ft"):
            marks[text.strip()] = matrix[4] * over[0] + over[4]

    PdfReader(io.BytesIO(answer.content)).pages[0].extract_text(visitor_text=note)
    assert marks["6 ft"] - marks["3 ft"] == pytest.approx(129.6, abs=0.2)


def test_the_ruler_is_in_the_readers_own_units(yard, layout, people):
    page = f"/layouts/{layout.pk}/"
    assert ">6 ft</text>" in yard.get(page).content.decode()
    people["yard"].units = "metric"
    people["yard"].save()
    metric = yard.get(page).content.decode()
    assert ">2 m</text>" in metric
    assert " ft</text>" not in metric


def test_lengths_are_promised_only_where_nothing_else_lies_beside(layout, people, specs):
    keep_layout(layout=layout, by=people["yard"], on=date(2026, 3, 4))
    open_again(layout=layout)
    first, second, third = layout.pieces.all()
    for piece in (first, second, third):
        take_off(piece=piece)
    move_piece(piece=first, x_mm=500, y_mm=0, angle_deg=0, mirrored=False)
    move_piece(piece=second, x_mm=1900, y_mm=-50, angle_deg=0, mirrored=False)
    move_piece(piece=third, x_mm=1700, y_mm=50, angle_deg=0, mirrored=False)
    told = {"layout": layout, "by": people["yard"], "on": date(2026, 3, 5)}
    with pytest.raises(ValidationError, match="Keep the layout first"):
        promise_lengths(keys=[first.key], **told)
    keep_layout(layout=layout, by=people["yard"], on=date(2026, 3, 4))
    with pytest.raises(ValidationError, match="TEN-F12 and TEN-F13 cannot be promised"):
        promise_lengths(keys=[first.key, second.key], **told)
    assert not Allotment.objects.exists()
    (made,) = promise_lengths(keys=[first.key], **told)
    assert (made.spec, made.from_mm, made.to_mm) == (specs[0], 150, 850)
    with pytest.raises(ValidationError, match="promised already"):
        promise_lengths(keys=[first.key], **told)


def test_the_page_says_which_lengths_cannot_be_promised_and_what_to_do(yard, layout, people):
    address = f"/layouts/{layout.pk}/promise/"
    assert "Keep it first" in yard.get(address).content.decode()
    keep_layout(layout=layout, by=people["yard"], on=date(2026, 3, 4))
    shown = yard.get(address).content.decode()
    assert "side by side for different replacements: saw it first" in shown
    answer = yard.post(address, {})
    assert answer.status_code == 422
    assert "Choose at least one length" in answer.content.decode()


def test_one_length_is_promised_and_told_as_one(yard, bought_board, specs, people):
    piece = rectangle("A", "half", long_mm=900, wide_mm=80, sided_mm=60)
    layout = lay_out_board(
        board_id=bought_board.pk, sheet=FACE, wanted=[Wanted(piece, specs[0])], gap_mm=5,
        grain_deg=2, by=people["yard"], steps=4,
    )  # fmt: skip
    keep_layout(layout=layout, by=people["yard"], on=date(2026, 3, 4))
    told = yard.post(f"/layouts/{layout.pk}/promise/", {"key": "A"}, follow=True)
    assert "1 of its lengths is promised." in told.content.decode()


def test_a_replacement_that_has_its_timber_is_told_as_such_and_promised_no_more_unasked(
    yard, bought_board, specs, people, promise
):
    address = f"/boards/{bought_board.pk}/lay-out/?spec={specs[0].pk}"
    assert "has its timber already" not in yard.get(address).content.decode()
    piece = rectangle("A", "half", long_mm=900, wide_mm=80, sided_mm=60)
    layout = lay_out_board(
        board_id=bought_board.pk, sheet=FACE, wanted=[Wanted(piece, specs[0])], gap_mm=5,
        grain_deg=2, by=people["yard"], steps=4,
    )  # fmt: skip
    keep_layout(layout=layout, by=people["yard"], on=date(2026, 3, 4))
    ticked = 'name="key" value="A" checked'
    assert ticked in yard.get(f"/layouts/{layout.pk}/promise/").content.decode()
    promise(specs[0], "Q3", 0, 711.2)
    assert yard.get(address).content.decode().count("has its timber already") == 1
    shown = yard.get(f"/layouts/{layout.pk}/promise/").content.decode()
    assert "which has 0 in to 2 ft 4 in of Q3 already" in shown.replace("\xa0", " ")
    assert ticked not in shown


def test_two_pieces_side_by_side_for_one_replacement_are_promised_together(
    bought_board, specs, people
):
    piece = rectangle("A", "halves", long_mm=900, wide_mm=80, sided_mm=60)
    wanted = [Wanted(each, specs[0]) for each in copies(piece, 2)]
    layout = lay_out_board(
        board_id=bought_board.pk, sheet=FACE, wanted=wanted, gap_mm=5, grain_deg=2,
        by=people["yard"], steps=4,
    )  # fmt: skip
    keep_layout(layout=layout, by=people["yard"], on=date(2026, 3, 4))
    made = promise_lengths(layout=layout, keys=["A", "A.2"], by=people["yard"], on=date(2026, 3, 4))
    assert {each.spec for each in made} == {specs[0]}


# What the register holds


def test_a_layout_keeps_the_outline_it_was_laid_out_with(layout, bought_board, pattern, people):
    made = lay_out_board(
        board_id=bought_board.pk, sheet=FACE, gap_mm=5, grain_deg=4, by=people["yard"], steps=2,
        wanted=[Wanted(from_pattern("P", "mould", pattern.shape()), None, pattern)],
    )  # fmt: skip
    assert made.pieces.get().as_piece(4).area_mm2() == pytest.approx(
        rectangle_area(OUTLINE), rel=1e-6
    )


def rectangle_area(corners):
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    return abs(sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs)) / 2


def test_a_piece_lies_somewhere_or_nowhere_but_not_half(layout):
    for broken in ({"x_mm": None}, {"sided_mm": 0}):
        with pytest.raises(IntegrityError), transaction.atomic():
            layout.pieces.filter(pk=layout.pieces.first().pk).update(**broken)


def test_a_face_that_cannot_be_is_not_stored(bought_board, specs, people):
    bad = Sheet(2500, 70, tapered(2500, 240, 0))
    piece = rectangle("A", "A", long_mm=300, wide_mm=50, sided_mm=40)
    with pytest.raises(ValidationError, match="no width"):
        lay_out_board(
            board_id=bought_board.pk, sheet=bad, wanted=[Wanted(piece)], gap_mm=5, grain_deg=4,
            by=people["yard"],
        )  # fmt: skip


def test_layouts_are_listed_and_a_board_is_found_to_begin_on(yard, layout, specs):
    shown = yard.get("/layouts/", {"tag": "q", "spec": specs[0].pk}).content.decode()
    assert "3 of 3" in shown
    assert f"/boards/{layout.board_id}/lay-out/?spec={specs[0].pk}" in shown
    assert yard.get("/layouts/", {"spec": "x", "tag": "zz"}).status_code == 200


def test_the_board_allotted_to_a_replacement_is_offered_before_all_others(
    yard, bought_board, specs, promise
):
    ask = {"spec": specs[0].pk}
    assert "Allotted to it already" not in yard.get("/layouts/", ask).content.decode()
    length = promise(specs[0], "Q3", 0, 700)
    here = f"/boards/{bought_board.pk}/lay-out/?spec={specs[0].pk}"
    shown = yard.get("/layouts/", ask).content.decode()
    assert shown.index("Allotted to it already") < shown.index(here) < shown.index("Begin on")
    assert here not in yard.get("/layouts/", {"spec": specs[1].pk}).content.decode()
    length.cut_on, length.cut_by = date(2026, 3, 4), "Wiebke"
    length.save()
    assert here not in yard.get("/layouts/", ask).content.decode()


def test_a_promised_length_is_open_to_the_replacement_it_is_promised_to_and_to_no_other(
    yard, bought_board, specs, promise
):
    promise(specs[0], "Q3", 0, 700)
    address = f"/boards/{bought_board.pk}/lay-out/?spec="
    own, other = (yard.get(f"{address}{spec.pk}") for spec in specs[:2])
    assert "used" not in first_values(own).values()
    assert first_values(other)["defect-0-kind"] == "used"


def test_a_surveyor_looks_and_does_not_move(client, people, layout):
    client.force_login(people["surveyor"])
    shown = client.get(layout.get_absolute_url()).content.decode()
    assert "Keep this layout" not in shown
    assert "Move it by its figures" not in shown
    assert client.post(f"/layouts/{layout.pk}/keep/").status_code == 403


def test_the_queries_of_a_layout_do_not_grow_with_its_pieces(
    yard, layout, bought_board, survey, make_spec, people
):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    with CaptureQueriesContext(connection) as few:
        yard.get(layout.get_absolute_url())
    for n in range(20, 25):
        spec = make_spec(survey, f"F{n}")
        LaidPiece.objects.create(
            layout=layout, key=f"X{n}", label=f"more {n}", spec=spec, sided_mm=60,
            outline=[[0, 0], [400, 0], [400, 50]],
        )  # fmt: skip
    with CaptureQueriesContext(connection) as many:
        yard.get(layout.get_absolute_url())
    assert len(many) == len(few)


def test_the_page_tells_what_each_numbered_patch_of_the_drawing_is(yard, layout):
    page = " ".join(yard.get(layout.get_absolute_url()).content.decode().split())
    assert '<a href="#defects">' in page
    assert '<th scope="row">1 knot</th>' in page
    assert "1 3/4 in right to 3 3/4 in right" in page
