"""A pattern from a photograph, page by page: sent, marked, made true, traced, kept."""

import io
import math

import numpy as np
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from restoration.models import Member, Pattern, PatternPhotograph
from tests.restoration import photographed_floor as floor

pytestmark = pytest.mark.django_db


@pytest.fixture
def member(vessel, woods):
    return Member.objects.create(
        vessel=vessel, kind="floor_timber", mark="F7", wood=woods["oak_white"], sided_mm=76,
        moulded_mm=130, length_mm=720,
    )  # fmt: skip


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    return client


@pytest.fixture
def photograph(yard, member):
    send(yard, member, floor.jpeg())
    return PatternPhotograph.objects.get()


@pytest.fixture
def marked(yard, photograph):
    answer = yard.post(photograph.get_absolute_url(), floor.marks_typed())
    assert answer.status_code == 302, answer.content.decode()
    photograph.refresh_from_db()
    return photograph


def send(client, member, jpeg, **typed):
    file = SimpleUploadedFile("board.jpg", jpeg, "image/jpeg")
    return client.post(
        f"/members/{member.pk}/pattern-photographs/new/",
        {"photograph": file, "above_mm": ""} | typed,
    )


def traced(**more):
    return {
        "do": "keep", "name": "F7 forward face", "side": "C", "sided_mm": "76 mm",
        "grain_deg": "0", "note": "", "outline": floor.table(floor.FLOOR),
        "lines": "", "holes": floor.table([floor.HOLE]), "bevels": "",
    } | more  # fmt: skip


def text(answer) -> str:
    return " ".join(answer.content.decode().split())


def test_a_photograph_is_kept_with_the_member_and_asks_for_its_marks(yard, member):
    answer = send(yard, member, floor.jpeg(), above_mm="6 mm")
    kept = PatternPhotograph.objects.get()
    assert answer["Location"] == kept.get_absolute_url()
    assert (kept.width_px, kept.height_px, kept.above_mm) == (2000, 1500, 6)
    assert "No marks are kept yet" in text(yard.get(kept.get_absolute_url()))


def test_the_same_photograph_twice_and_no_photograph_at_all_are_refused(yard, member, photograph):
    answer = send(yard, member, floor.jpeg())
    assert answer.status_code == 422
    assert "with the member already" in text(answer)
    answer = send(yard, member, b"GIF89a not a picture")
    assert answer.status_code == 422
    assert "not a photograph that can be read" in text(answer)


def test_a_photograph_of_48_megapixels_is_kept_small_enough_to_hold(yard, member):
    """8000 by 6000: kept at 4096, and made true at 2400 at most."""
    grey = Image.new("L", (8000, 6000), 170)
    out = io.BytesIO()
    grey.save(out, "JPEG", quality=60)
    send(yard, member, out.getvalue())
    kept = PatternPhotograph.objects.get()
    assert (kept.width_px, kept.height_px) == (4096, 3072)
    places = ((300, 2700), (3800, 2700), (3800, 300), (300, 300))
    typed = floor.marks_typed(lower="1750 mm", right="1200 mm", upper="", left="",
                              diagonal_1="", diagonal_2="")  # fmt: skip
    for n, (x, y) in enumerate(places, 1):
        typed |= {f"px_{n}": x, f"py_{n}": y}
    yard.post(kept.get_absolute_url(), typed)
    true = Image.open(io.BytesIO(yard.get(f"{kept.get_absolute_url()}true/").content))
    assert max(true.size) <= 2400


def test_a_client_and_a_stranger_see_neither_photograph_nor_trace(client, people, marked):
    addresses = ["", "picture/full/", "picture/thumb/", "true/", "trace/"]
    client.force_login(people["client"])
    for tail in addresses:
        assert client.get(f"{marked.get_absolute_url()}{tail}").status_code == 403
    client.logout()
    assert client.get(f"{marked.get_absolute_url()}picture/full/").status_code == 302
    client.force_login(people["surveyor"])
    for tail in addresses:
        assert client.get(f"{marked.get_absolute_url()}{tail}").status_code == 200


def test_the_agreement_is_shown_at_each_mark_and_four_are_said_to_prove_nothing(yard, marked):
    page = text(yard.get(marked.get_absolute_url()))
    assert page.count('<td class="num">0.0</td>') == 4
    assert "these noughts prove nothing" in page
    assert "Sides and diagonals agree to" in page
    assert 'value="1000 mm"' in page  # as it was typed


def test_diagonals_that_contradict_the_sides_are_cautioned_of_where_it_is_traced(yard, photograph):
    address = photograph.get_absolute_url()
    assert yard.post(address, floor.marks_typed(diagonal_2="1093 mm")).status_code == 302
    for page in (address, f"{address}trace/"):
        assert '<p class="caution">The sides and diagonals contradict' in text(yard.get(page))
    refused = yard.post(address, floor.marks_typed(diagonal_2="1184.6 mm"))
    assert refused.status_code == 422
    assert "one of the six is misread" in text(refused)
    assert 'value="1184.6 mm"' in text(refused)
    assert yard.post(address, floor.marks_typed()).status_code == 302
    assert "contradict" not in text(yard.get(address))


def test_a_fifth_mark_measured_wrong_shows_at_the_marks(yard, photograph):
    x, y = floor.CAMERA.sees([(500, 420)])[0]
    typed = floor.marks_typed(px_5=f"{x:.1f}", py_5=f"{y:.1f}", x_5="500 mm", y_5="400 mm")
    assert yard.post(photograph.get_absolute_url(), typed).status_code == 302
    board = PatternPhotograph.objects.get().settled()
    assert board.proven
    assert max(board.fit.residuals_mm) > 2


def refused(client, photograph, words, **more):
    typed = floor.marks_typed(**more)
    answer = client.post(photograph.get_absolute_url(), typed)
    assert answer.status_code == 422
    page = text(answer)
    assert words in page
    assert f'value="{typed["px_1"]}"' in page  # nothing typed is lost
    assert 'value="1000 mm"' in page or "lower" in more
    assert PatternPhotograph.objects.get().marks == []


def test_marks_that_cannot_serve_are_refused_with_everything_as_typed(yard, photograph):
    one, two, three, _ = floor.taps()
    refused(yard, photograph, "Mark 3 is not tapped on the picture yet", px_3="", py_3="")
    between = {"px_3": f"{(one[0] + two[0]) / 2:.1f}", "py_3": f"{(one[1] + two[1]) / 2:.1f}"}
    refused(yard, photograph, "lie in one line", **between)
    crossed = {"px_2": three[0], "py_2": three[1], "px_3": two[0], "py_3": two[1]}
    refused(yard, photograph, "crossing order", **crossed)
    refused(yard, photograph, "make no triangle", diagonal_1="1700 mm")
    refused(yard, photograph, "the lower and the right side at least", right="", left="420 mm")
    refused(yard, photograph, 'wrong"', px_4="left")


def test_a_lens_too_close_is_refused_with_a_reason(yard, photograph):
    """The same corners tapped as a lens half a metre off would have shown them."""
    close = floor.Camera(560, (500, 210), tilt_deg=38, focal=0.42, width=2000, height=1500)
    seen = close.sees(floor.MARKS)
    more = {
        f"p{a}_{n}": f"{v:.1f}" for n, p in enumerate(seen, 1) for a, v in zip("xy", p, strict=True)
    }
    refused(yard, photograph, "The lens was too close", **more)


def test_the_true_picture_shows_the_floor_where_it_lies(yard, marked):
    from restoration.calc.rectify_sheet import sheet_of

    answer = yard.get(f"{marked.get_absolute_url()}true/")
    assert answer["Content-Type"] == "image/jpeg"
    assert "private" in answer["Cache-Control"]
    grey = np.asarray(Image.open(io.BytesIO(answer.content)).convert("L")).astype(float)
    sheet = sheet_of(marked.settled().fit.plane, marked.as_marks())
    assert grey.shape == (sheet.height_px, sheet.width_px)

    def level(x_mm, y_mm):
        x = round((x_mm - sheet.left_mm) / sheet.mm_per_px)
        y = round((sheet.top_mm - y_mm) / sheet.mm_per_px)
        return grey[y - 1 : y + 2, x - 1 : x + 2].mean()

    for (x, y), inside in (
        ((470, 58), True),
        (((470, 46)), False),
        ((842.5, 165), False),
        ((831, 165), True),
    ):
        assert level(x, y) == pytest.approx(120 if inside else 215, abs=22), (x, y)
    assert level(-300 + 5, 300) < 110 or sheet.left_mm > -295


def test_a_trace_is_kept_as_a_pattern_taken_from_a_photograph(yard, marked, member):
    lines = "rabbet line; 140; 180\n; 470; 120\n; 820; 190"
    answer = yard.post(
        f"{marked.get_absolute_url()}trace/", traced(lines=lines, bevels="480; -3.5")
    )
    assert answer.status_code == 302, text(answer)
    kept = Pattern.objects.get()
    assert (kept.member, kept.taken, kept.name, kept.sided_mm) == (
        member,
        "photograph",
        "F7 forward face",
        76,
    )
    shape = kept.shape()
    assert shape.outline_mm == floor.FLOOR
    assert [line.kind for line in shape.lines] == ["rabbet"]
    assert shape.bevels[0].degrees == -3.5
    assert kept.as_entered["photograph"] == marked.pk
    assert kept.as_entered["doubt_mm"] > 0


def test_a_refused_trace_keeps_the_drawing_and_says_what_is_amiss(yard, marked):
    crossed = floor.table([floor.FLOOR[i] for i in (0, 3, 2, 1, 4, 5)])
    answer = yard.post(
        f"{marked.get_absolute_url()}trace/",
        traced(outline=crossed, lines="rabbet line; 140; 180\n; 470; 120", note="check the heel"),
    )
    assert answer.status_code == 422
    page = answer.content.decode()
    assert "crosses itself, near " in page
    assert crossed in page.replace("\r\n", "\n")
    assert "rabbet line; 140; 180\n; 470; 120" in page
    assert "check the heel" in page
    assert not Pattern.objects.exists()


def test_every_table_says_what_is_amiss_in_it(yard, marked):
    answer = yard.post(
        f"{marked.get_absolute_url()}trace/",
        traced(lines="keel; 1; 2\n; 3; 4", holes="900; 20; 12", bevels="100; steep"),
    )
    page = text(answer)
    assert "is not a line that is known" in page
    assert "is not degrees" in page
    outside = yard.post(f"{marked.get_absolute_url()}trace/", traced(holes="900; 20; 12"))
    assert "Bolt hole 1 at 900 mm along, 20 mm across does not lie wholly inside" in text(outside)


def test_thick_timber_photographed_from_near_by_is_refused_and_nothing_is_lost(yard, photograph):
    yard.post(photograph.get_absolute_url(), floor.marks_typed(above_mm="40 mm"))
    answer = yard.post(f"{photograph.get_absolute_url()}trace/", traced())
    assert answer.status_code == 422
    assert "The lens was too close: an edge that lies" in text(answer)
    assert floor.table(floor.FLOOR) in answer.content.decode().replace("\r\n", "\n")


def test_a_drawing_is_kept_for_later_however_far_it_has_come(yard, marked):
    tail = f"{marked.get_absolute_url()}trace/"
    yard.post(tail, traced(do="later", outline="120; 100\n470; 5", name=""))
    assert "120; 100\n470; 5" in yard.get(tail).content.decode().replace("\r\n", "\n")
    assert not Pattern.objects.exists()


def test_a_drawing_for_later_is_kept_without_a_sign_that_no_database_holds(yard, marked):
    tail = f"{marked.get_absolute_url()}trace/"
    assert yard.post(tail, traced(do="later", name="Fl\0oor")).status_code == 302
    marked.refresh_from_db()
    assert marked.drawing["name"] == "Floor"


def test_a_version_traced_of_what_was_replaced_meanwhile_is_refused_with_nothing_lost(yard, marked):
    tail = f"{marked.get_absolute_url()}trace/"
    yard.post(tail, traced())
    first = Pattern.objects.get()
    moved = floor.table([(x + 3, y) for x, y in floor.FLOOR])
    yard.post(f"{tail}?replaces={first.pk}", traced(outline=moved))
    again = floor.table([(x + 4, y) for x, y in floor.FLOOR])
    answer = yard.post(f"{tail}?replaces={first.pk}", traced(outline=again))
    assert answer.status_code == 422
    assert "changed this pattern meanwhile" in text(answer)
    assert again in answer.content.decode().replace("\r\n", "\n")


def test_without_marks_there_is_nothing_to_trace(yard, photograph):
    answer = yard.get(f"{photograph.get_absolute_url()}trace/")
    assert answer["Location"] == photograph.get_absolute_url()
    assert yard.get(f"{photograph.get_absolute_url()}true/").status_code == 404


def test_a_pattern_is_traced_anew_as_its_next_version(yard, marked, member):
    tail = f"{marked.get_absolute_url()}trace/"
    yard.post(tail, traced())
    first = Pattern.objects.get()
    moved = [(x + 3, y) for x, y in floor.FLOOR]
    answer = yard.post(f"{tail}?replaces={first.pk}", traced(outline=floor.table(moved)))
    assert answer.status_code == 302, text(answer)
    second = Pattern.objects.get(version=2)
    assert second.replaces == first
    assert math.isclose(second.shape().outline_mm[0][0], 123)


def test_a_photograph_is_removed_with_its_files_unless_a_pattern_was_traced_on_it(yard, marked):
    tail = f"{marked.get_absolute_url()}delete/"
    yard.post(f"{marked.get_absolute_url()}trace/", traced())
    assert "was traced on it" in text(yard.get(tail))
    assert yard.post(tail).status_code == 422
    Pattern.objects.all().delete()
    assert yard.post(tail).status_code == 302
    assert not PatternPhotograph.objects.exists()
    assert not marked.image.storage.exists(marked.image.name)


def test_the_pages_ask_no_more_for_more_marks(yard, marked, django_assert_max_num_queries):
    with django_assert_max_num_queries(6):
        yard.get(marked.get_absolute_url())
    with django_assert_max_num_queries(6):
        yard.get(f"{marked.get_absolute_url()}trace/")
