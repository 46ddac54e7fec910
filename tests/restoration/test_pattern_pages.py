"""The pages of patterns: typed, sent as a drawing, changed, printed, taken back."""

import io
import math
import re
from datetime import timedelta

import ezdxf
import pytest
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from restoration.actions import waiting_files
from restoration.actions.member_removal import remove_member
from restoration.actions.patterns import keep_pattern
from restoration.calc import pattern as calc
from restoration.models import Member, Pattern

pytestmark = pytest.mark.django_db
SHAPE = calc.Pattern(
    ((0, 0), (500, -20), (900, 30), (880, 180), (400, 120), (10, 150)), 60.0,
    (calc.PatternLine("rabbet", ((20, 80), (400, 60))),), (calc.BoltHole(100, 75, 20),),
    (calc.Bevel(200, -3.5),), 12.0,
)  # fmt: skip
TABLE = "0-0-0; 0-4-0; 0-0-0\n1-6-0; 0-5-4+; -0-1-2\n3-0-0; 0-3-0; 0-0-4"


@pytest.fixture
def floor(vessel):
    return Member.objects.create(
        vessel=vessel, kind="floor_timber", mark="F7", side="B", sided_mm=63.5
    )


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    return client


@pytest.fixture
def kept(floor, people):
    return keep_pattern(
        member=floor, pattern=SHAPE, name="Floor", taken="dxf", by=people["yard"],
        as_entered={"file": "lofted.dxf"},
    )  # fmt: skip


def typed(**more):
    return {
        "name": "Floor at 7", "side": "P", "turns_over": "on", "sided_mm": "2 1/2",
        "taken_on": "2026-03-04", "way": "edges", "bare_unit": "in", "outline": TABLE,
        "holes": "9; 2; 5/8", "bevels": "12; -3.5", "lines": "rabbet; 0; 1\nrabbet; 30; 1",
        "grain_deg": "4", "note": "", **more,
    }  # fmt: skip


def offsets(floor):
    return f"/members/{floor.pk}/patterns/offsets/"


def test_the_end_that_offsets_begin_at_is_named_as_the_member_lies(yard, floor, vessel):
    plank = Member.objects.create(vessel=vessel, kind="planking", mark="PL3P", side="P")
    assert "from its port end." in yard.get(offsets(floor)).content.decode()
    assert "from its forward or lower end." in yard.get(offsets(plank)).content.decode()


def test_offsets_typed_in_feet_inches_and_eighths_become_a_pattern_and_are_shown(yard, floor):
    answer = yard.post(offsets(floor), typed())
    pattern = Pattern.objects.get()
    assert answer.status_code == 302
    assert answer["Location"] == pattern.get_absolute_url()
    shape = pattern.shape()
    assert shape.outline_mm[1] == pytest.approx((457.2, -31.75))
    assert shape.sided_mm == pattern.sided_mm == 63.5
    assert (pattern.taken, pattern.version, pattern.by.username) == ("offsets", 1, "wright")
    page = yard.get(pattern.get_absolute_url()).content.decode()
    assert "<svg" in page
    assert "−3.5°" in page
    assert "rabbet line" in page
    assert "5/8 in" in page
    assert "3 ft" in page


def test_looking_first_draws_it_and_keeps_nothing(yard, floor):
    page = yard.post(offsets(floor), typed(look="1"))
    assert page.status_code == 200
    assert 'class="pattern-drawing"' in page.content.decode()
    assert "Not kept yet" in page.content.decode()
    assert not Pattern.objects.exists()


def test_a_refused_table_keeps_every_word_and_says_every_row(yard, floor):
    bad = typed(outline="0; 4; 0\n12; abc; 1-13-0\n36; 3; 1; 9", holes="9; 2", note="mind it")
    page = yard.post(offsets(floor), bad)
    assert page.status_code == 422
    text = page.content.decode()
    for said in ("row 2: upper edge", "row 2: lower edge", "row 3: 4 cells", "row 1: diameter"):
        assert said in text
    for word in ("12; abc; 1-13-0", "mind it", "rabbet; 30; 1"):
        assert word in text
    assert not Pattern.objects.exists()


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"way": "corners", "outline": "0; 0\n10; 0\n0; 10\n10; 10"}, "crosses itself"),
        ({"holes": "90; 2; 5/8"}, "does not lie wholly inside the timber"),
        ({"bevels": "9; 80"}, "75 degrees from square at most"),
        ({"sided_mm": "0"}, "more than nothing"),
        ({"outline": "0 m; 4; 0\n50 m; 4; 0"}, "are its units millimetres"),
        ({"grain_deg": "120"}, "Give 90(.0)? or less"),
    ],
)
def test_a_shape_that_does_not_hold_is_refused_with_its_reason(yard, floor, change, says):
    page = yard.post(offsets(floor), typed(**change))
    assert page.status_code == 422
    assert re.search(says, page.content.decode())


def test_a_second_pattern_of_the_same_name_is_refused_for_the_member(yard, floor, kept):
    page = yard.post(offsets(floor), typed(name="FLOOR"))
    assert page.status_code == 422
    assert "has a pattern of this name" in page.content.decode()


def test_the_form_proposes_what_the_member_says_of_itself(yard, floor):
    form = yard.get(offsets(floor)).context["form"]
    assert form["name"].value() == "Floor timber F7"
    assert form["side"].value() == "P"
    assert form["turns_over"].value() is True
    assert form["bare_unit"].value() == "in"


# Changed


def test_a_change_is_the_next_version_and_the_one_before_stays(yard, floor):
    yard.post(offsets(floor), typed())
    first = Pattern.objects.get()
    page = yard.get(f"/patterns/{first.pk}/edit/").content.decode()
    assert "1-6-0; 0-5-4+; -0-1-2" in page
    answer = yard.post(f"/patterns/{first.pk}/edit/", typed(bevels="12; 5"))
    second = Pattern.objects.standing().get()
    assert answer["Location"] == second.get_absolute_url()
    assert (second.version, second.replaces) == (2, first)
    assert second.shape().bevels[0].degrees == 5
    old = yard.get(first.get_absolute_url()).content.decode()
    assert "replaced by" in old
    assert yard.get(f"/patterns/{first.pk}/edit/").status_code == 302


def test_what_is_left_alone_in_a_drawing_stays_exact_when_the_rest_is_changed(yard, people, floor):
    fine = calc.Pattern(tuple((x + 1 / 3, y / 7) for x, y in SHAPE.outline_mm), 60.0)
    kept = keep_pattern(member=floor, pattern=fine, name="P", taken="dxf", by=people["yard"])
    form = yard.get(f"/patterns/{kept.pk}/edit/").context["form"]
    said = {name: form[name].value() or "" for name in form.fields}
    said = {name: value for name, value in said.items() if value is not False}
    said |= {"sided_mm": "60 mm", "bevels": "100; 3"}
    said["outline"] = said["outline"].replace("\n", "\r\n")
    assert yard.post(f"/patterns/{kept.pk}/edit/", said).status_code == 302
    now = Pattern.objects.standing().get()
    assert now.shape().outline_mm == fine.outline_mm
    assert now.taken == "dxf"
    first, rest = said["outline"].split("\r\n", 1)
    yard.post(f"/patterns/{now.pk}/edit/", said | {"outline": f"-5 mm; -5 mm\r\n{rest}"})
    newest = Pattern.objects.standing().get()
    assert first == "0.333 mm; 0 mm"
    assert newest.shape().outline_mm[0] == (-5, -5)
    assert newest.shape().outline_mm[1] == pytest.approx((500.333, -2.857))


def test_two_who_change_the_same_version_do_not_overwrite_one_another(people, floor, kept):
    more = {"member": floor, "name": "Floor", "taken": "dxf", "by": people["yard"]}
    keep_pattern(pattern=SHAPE, replaces=kept, **more)
    with pytest.raises(ValidationError, match="changed this pattern meanwhile"):
        keep_pattern(pattern=SHAPE, replaces=kept, **more | {"name": "Other"})


def test_a_pattern_is_taken_back_version_by_version_or_whole(yard, people, floor, kept):
    more = {"member": floor, "name": "Floor", "taken": "dxf", "by": people["yard"]}
    second = keep_pattern(pattern=SHAPE, replaces=kept, **more)
    assert yard.post(f"/patterns/{kept.pk}/delete/").status_code == 422
    assert (
        "Version 1 then stands again" in yard.get(f"/patterns/{second.pk}/delete/").content.decode()
    )
    said = yard.post(f"/patterns/{second.pk}/delete/", follow=True).content.decode()
    assert "Version 2 of " in said
    assert "is taken off the register: version 1 stands again." in said
    assert list(Pattern.objects.standing()) == [kept]
    third = keep_pattern(pattern=SHAPE, replaces=kept, **more)
    yard.post(f"/patterns/{third.pk}/delete/", {"all": "1"})
    assert not Pattern.objects.exists()


def test_a_member_with_a_pattern_stays_on_the_register_and_says_why(floor, kept):
    with pytest.raises(ValidationError, match="F7 has a pattern: take that off"):
        remove_member(member=floor)
    kept.delete()
    remove_member(member=floor)


# Sent as a drawing


def dxf(draw, unit=4):
    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = unit
    draw(document.modelspace())
    file = io.StringIO()
    document.write(file)
    return file.getvalue().encode()


def send(client, floor, data, name="foot.dxf"):
    return client.post(
        f"/members/{floor.pk}/patterns/dxf/", {"drawing": SimpleUploadedFile(name, data)}
    )


def asked(client, floor, data):
    """The page that asks, and the form as it would be sent untouched."""
    answer = send(client, floor, data)
    assert answer.status_code == 302, answer.content.decode()
    page = client.get(answer["Location"])
    form = page.context["form"]
    said = {name: form[name].value() for name in form.fields}
    said = {name: value for name, value in said.items() if value not in (None, False)}
    said["waiting"] = page.context["waiting"].token
    return page, said


def outline(space, points=SHAPE.outline_mm):
    return space.add_lwpolyline(points, close=True, dxfattribs={"layer": "OUTLINE"})


def test_a_drawing_is_opened_asked_about_and_kept(yard, floor):
    page, said = asked(yard, floor, dxf(lambda s: [outline(s), s.add_circle((100, 75), 10)]))
    text = page.content.decode()
    assert "foot.dxf" in text
    assert "millimetres: it is then 2 ft 11 3/8 in long, 7 7/8 in broad" in text
    answer = yard.post(f"/members/{floor.pk}/patterns/dxf/", said)
    assert answer.status_code == 302, answer.content.decode()
    kept = Pattern.objects.get()
    assert kept.shape().outline_mm == SHAPE.outline_mm
    assert kept.taken == "dxf"
    assert kept.as_entered["file"] == "foot.dxf"
    with pytest.raises(waiting_files.NoLongerWaiting):
        waiting_files.find(token=said["waiting"], by=kept.by)


def test_a_drawing_without_a_unit_is_asked_about_and_waits_until_it_is_said(yard, floor):
    page, said = asked(yard, floor, dxf(outline, unit=0))
    assert "does not say in which unit" in page.content.decode()
    assert "unit" not in said or not said["unit"]
    refused = yard.post(f"/members/{floor.pk}/patterns/dxf/", said | {"note": "from the loft"})
    assert refused.status_code == 422
    assert "from the loft" in refused.content.decode()
    assert said["waiting"] in refused.content.decode()
    answer = yard.post(f"/members/{floor.pk}/patterns/dxf/", said | {"unit": "cm"})
    assert answer.status_code == 302
    assert Pattern.objects.get().shape().outline_mm[2] == pytest.approx((9000, 300))


def test_of_several_outlines_one_is_chosen(yard, floor):
    def draw(space):
        outline(space)
        outline(space, ((0, 300), (90, 300), (90, 360), (0, 360)))

    page, said = asked(yard, floor, dxf(draw))
    assert "Which of these is the outline?" in page.content.decode()
    refused = yard.post(f"/members/{floor.pk}/patterns/dxf/", said)
    assert refused.status_code == 422
    assert "2 closed lines could be the outline" in refused.content.decode()
    assert (
        yard.post(f"/members/{floor.pk}/patterns/dxf/", said | {"outline": "1"}).status_code == 302
    )
    assert len(Pattern.objects.get().shape().outline_mm) == 4


def test_a_layer_is_given_another_meaning_by_hand(yard, floor):
    def draw(space):
        outline(space)
        space.add_line((20, 80), (400, 60), dxfattribs={"layer": "Z9"})

    page, said = asked(yard, floor, dxf(draw))
    (field,) = [f.name for layer, f in page.context["form"].layer_rows() if layer.name == "Z9"]
    assert said[field] == "other"
    yard.post(f"/members/{floor.pk}/patterns/dxf/", said | {field: "bearding"})
    (line,) = Pattern.objects.get().shape().lines
    assert line == calc.PatternLine("bearding", ((20, 80), (400, 60)))


@pytest.mark.parametrize(
    ("draw", "says"),
    [
        (lambda s: outline(s, ((0, 0), (300, 0), (0, 200), (300, 200))), "crosses itself"),
        (lambda s: [outline(s), s.add_circle((5000, 0), 9)], "does not lie wholly inside"),
        (lambda s: s.add_lwpolyline(SHAPE.outline_mm), "does not close"),
    ],
)
def test_a_drawing_that_makes_no_pattern_says_why_and_waits(yard, floor, draw, says):
    _, said = asked(yard, floor, dxf(draw))
    layers = {name: "outline" for name in said if name.startswith("layer_")}
    page = yard.post(f"/members/{floor.pk}/patterns/dxf/", said | layers)
    assert page.status_code == 422
    assert says in page.content.decode()
    assert said["waiting"] in page.content.decode()


def test_a_pattern_is_not_taken_on_a_day_still_to_come(yard, floor):
    today = timezone.localdate()
    refused = yard.post(offsets(floor), typed(taken_on=str(today + timedelta(days=1))))
    assert refused.status_code == 422
    assert "That day is still to come" in refused.content.decode()
    assert yard.post(offsets(floor), typed(taken_on=str(today))).status_code == 302


def test_every_table_shows_an_example_and_what_a_fair_curve_is(yard, floor):
    page = yard.get(f"/members/{floor.pk}/patterns/offsets/").content.decode()
    assert page.count("For instance: ") == 4
    assert "monotone cubic" in page


def test_a_name_the_member_has_already_is_refused_and_the_drawing_still_waits(yard, floor):
    for status in (302, 422):
        _, said = asked(yard, floor, dxf(outline))
        page = yard.post(f"/members/{floor.pk}/patterns/dxf/", said)
        assert page.status_code == status
    assert "This member has a pattern of this name" in page.content.decode()
    assert said["waiting"] in page.content.decode()
    assert Pattern.objects.count() == 1


def test_a_refusal_tells_a_place_in_the_units_of_its_reader(yard, floor):
    _, said = asked(yard, floor, dxf(lambda s: [outline(s), s.add_circle((5080, 0), 9)]))
    layers = {name: "outline" for name in said if name.startswith("layer_")}
    page = yard.post(f"/members/{floor.pk}/patterns/dxf/", said | layers).content.decode()
    assert "Bolt hole 1 at 16 ft 8 in along, 0 in across does not lie wholly inside" in page


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "The file is empty"),
        (b"GIF89a" + bytes(300), "not a DXF file"),
        (dxf(lambda s: s.add_text("oak")), "but no line"),
        (dxf(outline)[:4000], "breaks off"),
    ],
)
def test_a_file_that_is_no_drawing_is_refused_in_a_sentence(yard, floor, data, says):
    page = send(yard, floor, data)
    assert page.status_code == 422
    assert says in page.content.decode()


def test_a_file_of_50_mb_is_refused_by_its_size_without_being_read(yard, floor, monkeypatch):
    def not_read(self, *_):
        raise AssertionError("it was read")

    monkeypatch.setattr("restoration.forms.pattern_dxf.read_drawing", not_read)
    page = send(yard, floor, b" " * 50_000_000)
    assert page.status_code == 422
    assert "The file has 50 MB; a drawing of a pattern is taken up to 8 MB" in page.content.decode()


def test_a_drawing_waits_for_nobody_else(client, people, yard, floor):
    _, said = asked(yard, floor, dxf(outline))
    client.force_login(people["surveyor"])
    answer = client.post(f"/members/{floor.pk}/patterns/dxf/", said, follow=True)
    assert "no longer waiting here" in answer.content.decode()
    assert not Pattern.objects.exists()


# What goes out


def test_a_pattern_goes_out_as_a_drawing_and_comes_back_the_same(yard, floor, kept):
    answer = yard.get(f"/patterns/{kept.pk}/dxf/")
    assert 'filename="ten-f7-floor-v1.dxf"' in answer["Content-Disposition"]
    _, said = asked(yard, floor, answer.content)
    yard.post(f"/members/{floor.pk}/patterns/dxf/", said | {"name": "Again"})
    again = Pattern.objects.get(name="Again").shape()
    assert (again.outline_mm, again.lines, again.holes) == (
        SHAPE.outline_mm, SHAPE.lines, SHAPE.holes,
    )  # fmt: skip
    assert again.bevels == SHAPE.bevels
    assert math.isclose(again.grain_deg, 12)


def test_the_paper_pattern_comes_on_the_paper_asked_for(yard, kept):
    page = yard.get(f"/patterns/{kept.pk}/paper/?paper=A3&turned=on")
    assert page["Content-Type"] == "application/pdf"
    assert page.content.startswith(b"%PDF")
    assert "turned-over.pdf" in page["Content-Disposition"]
    as_taken = yard.get(f"/patterns/{kept.pk}/paper/?paper=A3")
    assert "turned-over" not in as_taken["Content-Disposition"]
    back = yard.get(f"/patterns/{kept.pk}/paper/?paper=B9", follow=True)
    assert "Sheets are A4, A3, Letter." in back.content.decode()


def test_the_full_size_drawing_is_as_many_millimetres_wide_as_the_timber(yard, kept):
    svg = yard.get(f"/patterns/{kept.pk}/svg/").content.decode()
    wide = float(re.search(r'width="([\d.]+)mm"', svg)[1])
    assert wide == pytest.approx(900 + 12, abs=0.001)


def test_the_list_of_a_vessel_shows_what_stands_and_the_queries_do_not_grow(
    yard, people, floor, kept
):
    def queries():
        with CaptureQueriesContext(connection) as asked:
            page = yard.get(f"/vessels/{floor.vessel_id}/patterns/")
        return len(asked), page.content.decode()

    few, page = queries()
    assert "Floor" in page
    for n in range(8):
        other = Member.objects.create(vessel=floor.vessel, kind="floor_timber", mark=f"F{20 + n}")
        keep_pattern(
            member=other, pattern=SHAPE, name=f"Pattern {n}", taken="dxf", by=people["yard"]
        )
    many, page = queries()
    assert "Pattern 7" in page
    assert few == many


def test_the_pages_of_member_vessel_and_way_lead_to_patterns(yard, floor, kept):
    assert kept.get_absolute_url() in yard.get(floor.get_absolute_url()).content.decode()
    vessel = yard.get(floor.vessel.get_absolute_url()).content.decode()
    assert f"/vessels/{floor.vessel_id}/patterns/" in vessel
    ways = yard.get(f"/members/{floor.pk}/patterns/new/").content.decode()
    for way in ("offsets/", "dxf/"):
        assert f"/members/{floor.pk}/patterns/{way}" in ways


def test_a_pattern_leads_on_to_its_replacement_and_to_the_boards_that_could_serve(
    yard, survey, make_spec, people, deep_log, promise
):
    spec = make_spec(survey, "F12")
    mould = keep_pattern(
        member=spec.finding.member, pattern=SHAPE, name="Floor", taken="dxf", by=people["yard"],
        as_entered={"file": "lofted.dxf"},
    )  # fmt: skip
    find, lay = f'href="/specs/{spec.pk}/allot/"', f'href="/layouts/?spec={spec.pk}"'
    shown = yard.get(mould.get_absolute_url()).content.decode()
    assert f'<a href="{spec.get_absolute_url()}">needs timber</a>' in shown
    assert find in shown
    assert lay in shown
    promise(spec, "L7-2a", 150, 1300)
    shown = yard.get(mould.get_absolute_url()).content.decode()
    assert f'<a href="{spec.get_absolute_url()}">timber found</a>' in shown
    assert find not in shown
