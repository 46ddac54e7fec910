"""The DXF drawing a pattern was taken from: kept as it was sent, served, read again, let go."""

import io

import ezdxf
import pytest
from django.core.exceptions import ValidationError
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile

from restoration.actions.pattern_drawings import keep_drawn_pattern
from restoration.actions.patterns import keep_pattern, take_back_pattern
from restoration.calc import pattern as calc
from restoration.models import Member, Pattern, PatternDrawing

pytestmark = pytest.mark.django_db
FOOT = ((0, 0), (640, -30), (910, 60), (450, 190), (20, 140))
KNEE = ((0, 400), (300, 400), (280, 520), (40, 560))


@pytest.fixture(autouse=True)
def files_apart(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path


@pytest.fixture
def floor(vessel):
    return Member.objects.create(
        vessel=vessel, kind="floor_timber", mark="F7", side="C", sided_mm=63.5
    )


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    return client


def drawing(*outlines, unit=4, lines=()):
    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = unit
    for points in outlines:
        document.modelspace().add_lwpolyline(points, close=True, dxfattribs={"layer": "LOFT"})
    for ends in lines:
        document.modelspace().add_line(*ends, dxfattribs={"layer": "Z9"})
    file = io.StringIO()
    document.write(file)
    return file.getvalue().encode()


def sent(client, address, data, name="foot “as lofted”.dxf"):
    """The page that asks about the drawing, and its form as it would be sent untouched."""
    answer = client.post(address, {"drawing": SimpleUploadedFile(name, data)})
    assert answer.status_code == 302, answer.content.decode()
    return asked(client, answer["Location"])


def asked(client, address):
    page = client.get(address)
    form = page.context["form"]
    said = {name: form[name].value() for name in form.fields}
    said = {name: value for name, value in said.items() if value not in (None, False)}
    return page.context["here"], said | {"waiting": page.context["waiting"].token}


def kept_of(client, floor, data, **more):
    here, said = sent(client, f"/members/{floor.pk}/patterns/dxf/", data)
    answer = client.post(here, said | more)
    assert answer.status_code == 302, answer.content.decode()
    return Pattern.objects.order_by("pk").last()


def files():
    try:
        return default_storage.listdir("pattern_drawings")[1]
    except FileNotFoundError:
        return []


def test_the_drawing_itself_is_kept_and_comes_back_byte_for_byte_under_its_own_name(yard, floor):
    data = drawing(FOOT)
    pattern = kept_of(yard, floor, data)
    page = yard.get(pattern.get_absolute_url()).content.decode()
    assert f'href="/patterns/{pattern.pk}/drawing/"' in page
    answer = yard.get(f"/patterns/{pattern.pk}/drawing/")
    assert b"".join(answer.streaming_content) == data
    assert answer["Content-Type"] == "image/vnd.dxf"
    assert answer["Content-Disposition"].startswith("attachment; filename*=utf-8''foot%20")
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert "private" in answer["Cache-Control"]


def test_the_drawing_goes_to_the_trade_alone(client, yard, people, floor):
    pattern = kept_of(yard, floor, drawing(FOOT))
    client.force_login(people["client"])
    assert client.get(f"/patterns/{pattern.pk}/drawing/").status_code == 403
    client.logout()
    assert client.get(f"/patterns/{pattern.pk}/drawing/").status_code == 302


def test_a_drawing_that_is_none_or_lost_from_the_disk_is_not_found(yard, people, floor):
    typed = keep_pattern(
        member=floor, pattern=calc.Pattern(FOOT, 60.0), name="Typed", taken="offsets",
        by=people["yard"],
    )  # fmt: skip
    assert yard.get(f"/patterns/{typed.pk}/drawing/").status_code == 404
    drawn = kept_of(yard, floor, drawing(FOOT))
    default_storage.delete(drawn.drawing.file.name)
    assert yard.get(f"/patterns/{drawn.pk}/drawing/").status_code == 404
    again = f"/members/{floor.pk}/patterns/dxf/?replaces={drawn.pk}"
    said = yard.post(again, {"again": "1"}, follow=True).content.decode()
    assert "not to be found any more: send it anew" in said


def test_one_drawing_of_two_patterns_is_kept_once_and_goes_with_the_last_of_them(
    yard, floor, django_capture_on_commit_callbacks
):
    data = drawing(FOOT, KNEE)
    first = kept_of(yard, floor, data, outline="0")
    second = kept_of(yard, floor, data, outline="1", name="Knee")
    assert first.drawing == second.drawing
    assert len(files()) == PatternDrawing.objects.count() == 1
    with django_capture_on_commit_callbacks(execute=True):
        take_back_pattern(pattern=first)
    assert len(files()) == 1
    with django_capture_on_commit_callbacks(execute=True):
        take_back_pattern(pattern=second)
    assert files() == []
    assert not PatternDrawing.objects.exists()


def test_a_figure_changed_by_hand_leaves_the_drawing_with_every_version(
    yard, floor, django_capture_on_commit_callbacks
):
    first = kept_of(yard, floor, drawing(FOOT))
    form = yard.get(f"/patterns/{first.pk}/edit/").context["form"]
    said = {name: form[name].value() or "" for name in form.fields}
    said = {name: value for name, value in said.items() if value is not False}
    yard.post(f"/patterns/{first.pk}/edit/", said | {"bevels": "100 mm; 4"})
    second = Pattern.objects.standing().get()
    assert (second.version, second.drawing) == (2, first.drawing)
    with django_capture_on_commit_callbacks(execute=True):
        take_back_pattern(pattern=second)
    assert len(files()) == 1


def test_a_refused_pattern_leaves_no_drawing_behind(people, floor):
    crossed = calc.Pattern(((0, 0), (300, 0), (0, 200), (300, 200)), 60.0)
    with pytest.raises(ValidationError, match="crosses itself"):
        keep_drawn_pattern(
            data=drawing(FOOT), file_name="foot.dxf", by=people["yard"], member=floor,
            pattern=crossed, name="Foot", taken="dxf",
        )  # fmt: skip
    assert files() == []
    assert not PatternDrawing.objects.exists()


def test_the_kept_drawing_is_read_again_into_the_next_version_with_what_was_said_of_it(yard, floor):
    data = drawing(FOOT, KNEE, unit=0)
    first = kept_of(
        yard, floor, data, unit="cm", outline="0", name="Foot", sided_mm="2 1/4",
        note="from the loft", lay_along="on", gap_mm="1/32",
    )  # fmt: skip
    again = f"/members/{floor.pk}/patterns/dxf/?replaces={first.pk}"
    assert "Read it again" in yard.get(again).content.decode()
    here, said = asked(yard, yard.post(again, {"again": "1"})["Location"])
    assert (said["unit"], said["name"], said["note"]) == ("cm", "Foot", "from the loft")
    assert (said["lay_along"], said["gap_mm"]) == (True, "1/32")
    assert yard.post(here, said | {"outline": "1"}).status_code == 302
    second = Pattern.objects.standing().get()
    assert (second.version, second.replaces, second.drawing) == (2, first, first.drawing)
    assert len(second.shape().outline_mm) == len(KNEE)
    assert second.sided_mm == first.sided_mm == 57.15


def test_a_new_drawing_replaces_a_pattern_however_it_was_taken(yard, people, floor):
    typed = keep_pattern(
        member=floor, pattern=calc.Pattern(KNEE, 60.0), name="Foot", taken="offsets",
        by=people["yard"],
    )  # fmt: skip
    here, said = sent(yard, f"/members/{floor.pk}/patterns/dxf/?replaces={typed.pk}", drawing(FOOT))
    assert yard.post(here, said).status_code == 302
    now = Pattern.objects.standing().get()
    assert (now.version, now.taken, now.shape().outline_mm) == (2, "dxf", FOOT)
    back = yard.get(f"/members/{floor.pk}/patterns/dxf/?replaces={typed.pk}", follow=True)
    assert "has been replaced already" in back.content.decode()


def test_a_layer_keeps_the_meaning_it_was_given_when_the_next_drawing_is_read(yard, floor):
    def lined(points):
        return drawing(points, lines=[((100, 60), (400, 80))])

    here, said = sent(yard, f"/members/{floor.pk}/patterns/dxf/", lined(FOOT))
    (layer,) = [name for name in said if said[name] == "other"]
    yard.post(here, said | {layer: "bearding"})
    first = Pattern.objects.get()
    assert first.shape().lines[0].kind == "bearding"
    more = drawing(KNEE, lines=[((50, 450), (250, 450))])
    _, said = sent(yard, f"/members/{floor.pk}/patterns/dxf/?replaces={first.pk}", more)
    assert said[layer] == "bearding"
