"""Members in the browser: entered, marked, corrected, and read with all that hangs on them."""

from datetime import date

import pytest

from restoration.actions.allotments import allot_board
from restoration.models import Finding, FindingCause, Member, ReplacementSpec, Survey


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    return client


def text(page):
    return page.content.decode()


def survey_on(vessel, day, by):
    return Survey.objects.create(
        vessel=vessel, surveyed_on=day, place="Sallow Creek", lying="ashore",
        surveyor_name="P. Prober", methods="spike", not_reached="none", recorded_by=by,
    )  # fmt: skip


def new(vessel):
    return f"/vessels/{vessel.pk}/members/new/"


FLOOR = {"kind": "floor_timber", "side": "C", "sided_mm": "2 1/2", "moulded_mm": "1-3-1"}


def test_a_member_is_entered_and_its_lengths_read_back_as_typed(yard, vessel, woods):
    typed = FLOOR | {"mark": "f12", "station_from": "11.5", "station_to": "12", "length_mm": "3'"}
    page = yard.post(new(vessel), typed | {"wood": woods["elm_wych"].pk, "note": "see photograph"})
    floor = Member.objects.get()
    assert page.url == floor.get_absolute_url()
    assert (floor.mark, floor.number, floor.wood.code) == ("f12", 12, "elm_wych")
    assert floor.moulded_mm == pytest.approx((15 + 1 / 8) * 25.4)
    assert 'value="1-3-1"' in text(yard.get(f"/members/{floor.pk}/edit/"))
    shown = text(yard.get(page.url))
    for said in ("15 1/8 in", "wych elm", "11.5 to 12", "see photograph"):
        assert said in shown
    assert "Cross member tying the two sides of the frame to the keel" in shown


def test_published_rules_stand_with_source_and_standing_and_disputes_from_both_sides(yard, vessel):
    plank = Member.objects.create(vessel=vessel, kind="garboard", mark="G1P", side="P")
    frame = Member.objects.create(vessel=vessel, kind="frame", mark="FR3P", side="P")
    floor = Member.objects.create(vessel=vessel, kind="floor_timber", mark="F3")
    said = text(yard.get(plank.get_absolute_url()))
    assert "Butts in neighbouring strakes: at least 3 frame spaces." in said
    assert "Butts in neighbouring strakes, unusual frame spacing: at least 5 ft." in said
    assert "Shims behind the plank: none." in said
    assert "marine condition survey, 2-13 (read)" in said
    assert "Whether keel and bottom planking are seasoned first" in said
    framed = text(yard.get(frame.get_absolute_url()))
    assert "Size of a sister frame" in framed
    assert "equal, and not larger, because a deeper sister bends worse" in framed
    assert "a naval architect come before" in framed
    assert "Published rules" not in text(yard.get(floor.get_absolute_url()))


@pytest.mark.parametrize(
    ("said", "mark", "number"),
    [
        ({"kind": "floor_timber"}, "F8", 8),
        ({"kind": "floor_timber", "number": "31"}, "F31", 31),
        ({"kind": "frame", "side": "S"}, "FR1S", 1),
        ({"kind": "keel"}, "K", None),
        ({"kind": "keel", "mark": "K-old"}, None, None),
    ],
)
def test_without_a_mark_the_next_free_one_of_the_kind_is_taken(yard, vessel, said, mark, number):
    Member.objects.create(vessel=vessel, kind="floor_timber", mark="F7", number=7)
    page = yard.post(new(vessel), {"side": "C", **said})
    if mark is None:
        assert page.status_code == 422
        assert "A mark is letters and figures without spaces" in text(page)
    else:
        made = Member.objects.exclude(mark="F7").get()
        assert (made.mark, made.number) == (mark, number)


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"mark": "F7"}, "Another member of this vessel has this mark."),
        ({"mark": "f7"}, "Another member of this vessel has this mark."),
        ({"station_from": "9", "station_to": "3"}, "from the lower station to the higher"),
        ({"sided_mm": "0"}, "must be more than nothing"),
        ({"sided_mm": "thick"}, "“thick” is not a length that can be read"),
        ({"kind": "gronkle"}, "Choose one of those listed: “gronkle”"),
    ],
)
def test_a_refused_member_says_why_and_keeps_what_was_typed(yard, vessel, changed, sentence):
    Member.objects.create(vessel=vessel, kind="floor_timber", mark="F7", number=7)
    page = yard.post(new(vessel), FLOOR | {"note": "grown crook", **changed})
    assert page.status_code == 422
    assert sentence in text(page)
    assert "grown crook" in text(page)
    assert 'value="1-3-1"' in text(page)
    assert Member.objects.count() == 1


def test_another_vessel_may_use_the_same_mark(yard, vessel, owner):
    from restoration.models import Vessel

    other = Vessel.objects.create(code="OTH", name="Other", client=owner)
    Member.objects.create(vessel=other, kind="floor_timber", mark="F7")
    assert yard.post(new(vessel), FLOOR | {"mark": "F7"}).status_code == 302


def test_choosing_a_kind_brings_its_definition_and_the_mark_it_would_get(yard, vessel):
    asked = {"kind": "mast_step", "side": "C"}
    piece = text(yard.get(new(vessel), asked, headers={"HX-Request": "true"}))
    assert "<html" not in piece
    assert "<dfn>mast step</dfn>" in piece
    assert ">MS</b>" in piece
    whole = text(yard.get(new(vessel), asked))
    assert "<dfn>mast step</dfn>" in whole
    assert '<option value="mast_step" selected>' in whole


def test_the_form_defines_every_kind_without_a_script_and_lists_them_by_group(yard, vessel):
    shown = text(yard.get(new(vessel)))
    assert '<optgroup label="Framing">' in shown
    assert shown.count("<dt>") == 62


def test_enter_another_comes_back_to_an_empty_form(yard, vessel):
    assert yard.post(new(vessel), FLOOR | {"another": ""}).url == new(vessel)


def test_a_corrected_mark_is_written_on_the_boards_kept_for_it(yard, vessel, people, woods):
    from timber_stock.models import Board, Supplier

    floor = Member.objects.create(vessel=vessel, kind="floor_timber", mark="F12", sided_mm=60)
    survey = survey_on(vessel, date(2026, 3, 4), people["surveyor"])
    finding = Finding.objects.create(
        survey=survey, member=floor, recorded_by=people["yard"], condition="3", urgency=3, measure=3
    )
    spec = ReplacementSpec.objects.create(
        finding=finding, wood=woods["oak_white"], sided_mm=60, moulded_mm=90, length_mm=900,
        specified_by=people["yard"],
    )  # fmt: skip
    board = Board.objects.create(
        tag="B1", species=woods["oak_white"], supplier=Supplier.objects.create(name="Mill"),
        thickness_mm=70, width_mm=200, length_mm=2000,
    )  # fmt: skip
    allot_board(
        spec=spec, board_id=board.pk, from_mm=0, to_mm=1000, by=people["yard"], on=date(2026, 3, 5)
    )
    yard.post(f"/members/{floor.pk}/edit/", FLOOR | {"mark": "F13"})
    assert Board.objects.get().held_for == "TEN-F13"
    new_code = {"name": "Wren", "code": "WRN", "client": vessel.client_id, "construction": "carvel"}
    yard.post(f"/vessels/{vessel.pk}/edit/", new_code)
    assert Board.objects.get().held_for == "WRN-F13"
    shown = text(yard.get(floor.get_absolute_url()))
    assert "B1" in shown
    assert "allotted" in shown


def test_findings_come_newest_survey_first_with_causes_and_links(yard, vessel, people):
    floor = Member.objects.create(vessel=vessel, kind="floor_timber", mark="F12")
    late = survey_on(vessel, date(2026, 3, 4), people["surveyor"])
    early = survey_on(vessel, date(2024, 5, 6), people["surveyor"])
    for survey, seen, condition in ((late, "spike sank", "3"), (early, "sound here", "1")):
        finding = Finding.objects.create(
            survey=survey, member=floor, recorded_by=people["surveyor"], condition=condition,
            urgency=2, measure=3, seen=seen,
        )  # fmt: skip
        FindingCause.objects.create(
            finding=finding, rank=1, cause="FASTENER_IRON", certainty="probable"
        )
    shown = text(yard.get(floor.get_absolute_url()))
    assert shown.index("4 March 2026") < shown.index("6 May 2024")
    assert "Iron or steel fastening corrosion" in shown
    assert "urgency 2, short term; measure 3, major intervention" in shown
    assert finding.get_absolute_url() in shown


def test_the_queries_of_a_member_page_do_not_grow_with_its_findings_and_joints(
    yard, vessel, people, django_assert_max_num_queries
):
    from restoration.actions.members import join_members
    from restoration.models import FasteningPlan

    floor, *others = [
        Member.objects.create(vessel=vessel, kind="frame", mark=f"FR{n}") for n in range(9)
    ]
    survey = survey_on(vessel, date(2026, 3, 4), people["surveyor"])

    def add(partners):
        bolt = {"kind": "bolt", "metal": "bronze", "count": 2}
        for joint in join_members(member=floor, others=partners, fastening=bolt):
            name = f"new bolts to {joint.partner_of(floor).mark}"
            face = {"length_mm": 300, "width_mm": 90}
            through = {"head_thickness_mm": 60, "point_thickness_mm": 75}
            FasteningPlan.objects.create(joint=joint, name=name, **face, **through)
            finding = Finding.objects.create(
                survey=survey, member=floor, recorded_by=people["yard"], condition="2", urgency=1,
                measure=1,
            )  # fmt: skip
            FindingCause.objects.create(
                finding=finding, rank=1, cause="BROWN_ROT", certainty="suspected"
            )

    add(others[:1])
    yard.get(floor.get_absolute_url())
    with django_assert_max_num_queries(99) as few:
        yard.get(floor.get_absolute_url())
    add(others[1:])
    with django_assert_max_num_queries(len(few)):
        page = yard.get(floor.get_absolute_url())
    assert text(page).count("2 × through bolt, bronze") == 8
    assert text(page).count("Fastenings laid out:") == 8
    plan = FasteningPlan.objects.get(name="new bolts to FR7")
    link = f'<a class="laid-out" href="{plan.get_absolute_url()}">new bolts to FR7</a>'
    assert f"Fastenings laid out: {link}" in text(page)
