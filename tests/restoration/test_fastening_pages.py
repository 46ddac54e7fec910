"""Laying out the new fastenings of a joint: what is refused, what is told, what is drawn."""

import re

import pytest
from django.core.exceptions import ValidationError

from restoration import timber
from restoration.actions.fastening_plans import (
    keep_hole,
    keep_plan,
    keep_planned_fastening,
    lay_holes,
)
from restoration.actions.members import join_members
from restoration.calc import keel_bolts
from restoration.calc.fastening_sources import CAUTION
from restoration.models import (
    Fastening,
    FasteningPlan,
    Member,
    PlannedFastening,
    PlannedHole,
)
from restoration.views.fastening_facts import distances_of, lines_of, woods_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def joint(vessel, woods):
    """A floor on the keel, fastened with two wrought-iron bolts."""
    keel = Member.objects.create(
        vessel=vessel, kind="keel", mark="K1", wood=woods["oak_white"], sided_mm=178, moulded_mm=228
    )
    floor = Member.objects.create(
        vessel=vessel, kind="floor_timber", mark="F7", wood=woods["oak_white"], sided_mm=64,
        moulded_mm=127,
    )  # fmt: skip
    old = {
        "kind": "bolt", "metal": "wrought iron", "diameter_mm": 16.0, "length_mm": 380.0, "count": 2
    }  # fmt: skip
    return join_members(member=floor, others=[keel], fastening=old)[0]


@pytest.fixture
def plan(joint):
    """The floor's grain along the face, the keel's across it; heads in the floor (`other`)."""
    return keep_plan(
        plan=FasteningPlan(
            joint=joint, name="floor on keel", head_in_other=True, length_mm=400, width_mm=160,
            head_thickness_mm=127, point_thickness_mm=228, point_grain_deg=90, load_deg=0,
            head_runs_on=["start", "finish"], point_runs_on=["left", "right"], moisture="wet",
            place_in_boat="bilge",
        )
    )  # fmt: skip


@pytest.fixture
def bolts(plan):
    return keep_planned_fastening(
        fastening=PlannedFastening(
            plan=plan, kind="bolt", metal="silicon_bronze_651", diameter_mm=16, length_mm=380,
            thread="M16", washer_mm=60, washer_thick_mm=5, replaces=Fastening.objects.get(),
            old_least_mm=11.5,
        )
    )  # fmt: skip


@pytest.fixture
def yard(client, people):
    people["yard"].units = "metric"
    people["yard"].save()
    client.force_login(people["yard"])
    return client


def said(response):
    text = re.sub(r"<[^>]+>", " ", response.content.decode())
    return " ".join(text.replace("&#x27;", "'").replace("&amp;", "&").split())


PLAN = {
    "name": "floor on keel", "length_mm": "400", "width_mm": "160", "head_thickness_mm": "127",
    "head_grain_deg": "0", "head_runs_on": ["start", "finish"], "point_thickness_mm": "228",
    "point_grain_deg": "90", "point_runs_on": ["left", "right"], "load_deg": "0", "planes": "1",
    "moisture": "wet",
}  # fmt: skip
BOLT = {"kind": "bolt", "metal": "silicon_bronze_651", "diameter_mm": "16", "length_mm": "380"}
ROW = {
    "first_x": "60", "first_y": "80", "along": "2", "along_apart": "120", "rows": "1",
    "rows_apart": "",
}  # fmt: skip


def test_from_the_member_to_bolts_in_a_row(yard, joint):
    member = joint.other
    assert f"/joints/{joint.pk}/layouts/" in yard.get(member.get_absolute_url()).content.decode()
    asked = {**PLAN, "heads_in": str(member.pk)}
    yard.post(f"/joints/{joint.pk}/layouts/new/", asked)
    plan = FasteningPlan.objects.get()
    assert (plan.head(), plan.point()) == (joint.other, joint.one)
    assert plan.head_runs_on == ["start", "finish"]
    answer = yard.post(f"/fastening-layouts/{plan.pk}/fastenings/new/", BOLT)
    fastening = PlannedFastening.objects.get()
    assert answer.url == f"/planned-fastenings/{fastening.pk}/holes/"
    answer = yard.post(answer.url, ROW, follow=True)
    assert [(h.x_mm, h.y_mm) for h in PlannedHole.objects.all()] == [(60, 80), (180, 80)]
    assert "2 × through bolt" in said(answer)


def test_a_hole_outside_the_timber_is_refused_and_nothing_is_lost(yard, bolts):
    lay_holes(fastening=bolts, places=[(60, 40)])
    asked = {**ROW, "along": "4"}
    answer = yard.post(f"/planned-fastenings/{bolts.pk}/holes/", asked)
    assert answer.status_code == 422
    text = said(answer)
    assert "would come out of the timber: 28 mm of it lies beyond the far end" in text
    assert "Nothing is changed." in text
    page = answer.content.decode()
    assert all(f'value="{typed}"' in page for typed in ("60", "80", "4", "120"))
    assert PlannedHole.objects.count() == 1


def test_the_refusal_speaks_in_the_readers_own_units(client, people, bolts):
    client.force_login(people["yard"])  # inches
    asked = {**ROW, "first_x": "15 3/4", "first_y": "2", "along": "1"}
    answer = client.post(f"/planned-fastenings/{bolts.pk}/holes/", asked)
    assert answer.status_code == 422
    assert "5/16 in of it lies beyond the far end of the face, which is 15 3/4 in" in said(answer)


def test_a_hole_moved_into_another_is_refused(yard, bolts):
    lay_holes(fastening=bolts, places=[(60, 80), (180, 80)])
    second = PlannedHole.objects.last()
    url = f"/planned-holes/{second.pk}/edit/"
    answer = yard.post(url, {"x_mm": "70", "y_mm": "82"})
    assert answer.status_code == 422
    assert "runs into" in said(answer)
    second.refresh_from_db()
    assert second.x_mm == 180
    assert yard.post(url, {"x_mm": "200", "y_mm": "80"}).status_code == 302
    second.refresh_from_db()
    assert second.x_mm == 200


def test_a_face_is_not_made_smaller_than_its_holes(yard, plan, bolts):
    lay_holes(fastening=bolts, places=[(380, 80)])
    asked = {**PLAN, "heads_in": str(plan.head().pk), "length_mm": "300"}
    answer = yard.post(f"/fastening-layouts/{plan.pk}/edit/", asked)
    assert answer.status_code == 422
    assert "beyond the far end" in said(answer)
    assert 'value="300"' in answer.content.decode()
    plan.refresh_from_db()
    assert plan.length_mm == 400


def test_bolts_are_not_made_so_thick_that_they_meet(bolts):
    lay_holes(fastening=bolts, places=[(60, 80), (90, 80)])
    bolts.diameter_mm, bolts.washer_mm, bolts.old_least_mm = 40, 80, None
    with pytest.raises(ValidationError, match="runs into"):
        keep_planned_fastening(fastening=bolts)
    bolts.refresh_from_db()
    assert bolts.diameter_mm == 16


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"length_mm": "0"}, "more than nothing"),
        ({"length_mm": "12 bananas"}, "length"),
        ({"name": ""}, "Fill this in"),
        ({"load_deg": "400"}, "180"),
        ({"head_runs_on": ["up"]}, "“up” is not among them"),
        ({"length_mm": "99000"}, "larger than any joint"),
        ({"scarf_of": "keel"}, "how deep the timber is"),
    ],
)
def test_a_face_that_cannot_be_is_refused(yard, joint, change, says):
    asked = {**PLAN, "heads_in": str(joint.one_id), **change}
    answer = yard.post(f"/joints/{joint.pk}/layouts/new/", asked)
    assert answer.status_code == 422
    assert says in said(answer)
    assert not FasteningPlan.objects.exists()


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"length_mm": "10"}, "check which is which"),
        ({"washer_mm": "12"}, "wider than the fastening"),
        ({"kind": "treenail"}, "“treenail” is not among them"),
        ({"old_least_mm": "9"}, "Say which old fastening"),
        ({"diameter_mm": "-4"}, "4"),
    ],
)
def test_a_fastening_that_cannot_be_is_refused(yard, plan, change, says):
    answer = yard.post(f"/fastening-layouts/{plan.pk}/fastenings/new/", {**BOLT, **change})
    assert answer.status_code == 422
    assert says in said(answer)
    assert not PlannedFastening.objects.exists()


def test_an_annular_nail_is_a_kind_and_is_measured_at_the_root_of_its_rings(yard, plan):
    url = f"/fastening-layouts/{plan.pk}/fastenings/new/"
    assert "of an annular nail: at the root of its rings" in said(yard.get(url))
    nail = {
        "kind": "annular",
        "metal": "silicon_bronze_651",
        "diameter_mm": "5",
        "length_mm": "160",
    }
    yard.post(url, nail)
    text = said(yard.get(f"/fastening-layouts/{plan.pk}/strength/"))
    assert "Annular nail, 5 mm" in text
    assert "taken as ringed all along" in text
    assert "Eq. 8-2a" in text
    assert "nothing is held here that may be allowed" in text


def test_rows_ask_how_far_apart(yard, bolts):
    answer = yard.post(f"/planned-fastenings/{bolts.pk}/holes/", {**ROW, "along_apart": ""})
    assert answer.status_code == 422
    assert "Say how far apart they stand." in said(answer)


def test_every_distance_is_told_with_what_to_do(yard, plan, bolts):
    lay_holes(fastening=bolts, places=[(30, 80), (200, 20)])
    text = said(yard.get(plan.get_absolute_url()))
    assert "distances are shorter than one or both publications want" in text
    assert "F7: to the left edge 2 20 mm" in text
    assert "K1: to the near edge 1 30 mm 64 mm (4 D) 64 mm (4 D)" in text
    assert "Move it 34 mm further from the near edge, or take one of 7.5 mm or thinner" in text
    assert "Too near: nothing may be counted." in text
    assert "(from memory)" in text


def test_a_roomy_layout_is_said_to_be_so(yard, plan, bolts):
    lay_holes(fastening=bolts, places=[(120, 80), (280, 80)])
    text = said(yard.get(plan.get_absolute_url()))
    assert "distances are as wide as both publications want" in text


def test_the_drawing_bears_every_dimension(yard, plan, bolts):
    lay_holes(fastening=bolts, places=[(120, 70), (280, 95)])
    page = yard.get(plan.get_absolute_url()).content.decode()
    start = page.index('<svg class="hull-sheet')
    drawing = page[start : page.index("</svg>", start)]
    words = re.findall(r"<text[^>]*>([^<]*)<", drawing)
    for dimension in ("120 mm", "280 mm", "160 mm", "70 mm", "95 mm", "25 mm", "65 mm", "1", "2"):
        assert dimension in words
    assert "hole 1: 120 mm along, 70 mm across" in drawing


def test_two_opinions_stand_side_by_side_with_what_governs(yard, plan, bolts):
    lay_holes(fastening=bolts, places=[(120, 80), (280, 80)])
    text = said(yard.get(f"/fastening-layouts/{plan.pk}/strength/"))
    assert "Yield-limit equations (NDS)" in text
    assert "Governs: IV: the fastening bends in both timbers" in text
    assert "Governs: f: the fastening bends in both timbers" in text
    assert "All 2 together, at most" in text
    assert "kN" in text
    assert "Begins to crush" in text
    assert "at most" in text
    assert "turns of a M16 nut" in text


def test_a_row_along_the_load_shares_unevenly_and_page_and_paper_say_by_how_much(yard, plan, bolts):
    from io import BytesIO

    from pypdf import PdfReader

    page = f"/fastening-layouts/{plan.pk}/strength/"
    lay_holes(fastening=bolts, places=[(120, 80)])
    assert "what one alone holds" not in said(yard.get(page))
    lay_holes(fastening=bolts, places=[(280, 80)])
    told = "NDS: One row of 2 along the load: each keeps 100 % of what one alone holds."
    assert told in said(yard.get(page))
    plan.length_mm = 1200
    keep_plan(plan=plan)
    lay_holes(fastening=bolts, places=[(440, 80), (600, 80), (760, 80), (920, 80)])
    (percent,) = re.findall(
        r"One row of 6 along the load: each keeps (\d+) %", said(yard.get(page))
    )
    assert 70 < int(percent) < 97
    assert "one bolt that is slack leaves its share to the others" in said(yard.get(page))
    sheet = PdfReader(BytesIO(yard.get(f"/fastening-layouts/{plan.pk}/pdf/").content))
    words = " ".join(" ".join(page.extract_text() for page in sheet.pages).split())
    assert f"each keeps {percent} % of what one alone holds" in words
    assert "leaves its share to the others" in words
    drawing, holes = (page.extract_text() for page in sheet.pages)
    assert "Seen from the side of the heads" in drawing
    assert holes.count("through bolt") == 6  # a drawing that stays large puts them on a page apart


def test_the_sum_by_the_nds_is_lessened_by_the_groups_factor(plan, bolts):
    plan.length_mm = 1200
    keep_plan(plan=plan)
    lay_holes(fastening=bolts, places=[(120 + 160 * n, 80) for n in range(6)])
    plan = FasteningPlan.objects.whole().get()
    woods = woods_of(plan)
    (line,) = lines_of(plan, woods, distances_of(plan, woods))
    (nds, together), _ = line.together()
    assert line.group.factor < 1
    assert together == pytest.approx(6 * line.share * line.group.factor * nds.newtons)


def test_nothing_is_summed_where_a_hole_is_too_near(yard, plan, bolts):
    lay_holes(fastening=bolts, places=[(120, 10), (280, 80)])
    text = said(yard.get(f"/fastening-layouts/{plan.pk}/strength/"))
    assert "No sum of all 2: a distance is below the least" in text


def test_old_metal_is_told_against_new(yard, plan, bolts):
    lay_holes(fastening=bolts, places=[(120, 80), (280, 80)])
    text = said(yard.get(f"/fastening-layouts/{plan.pk}/metals/"))
    assert "in place of 2 × through bolt, wrought iron" in text
    assert "52 % of its pull is left" in text  # (11.5 / 16)**2
    assert "37 % of its bending" in text  # (11.5 / 16)**3
    # M16 of C65100 (70 ksi) for 16 mm of wrought iron (56 ksi): shank against shank 70/56
    assert "2 of the new ones together bear 1.25 times the pull of all the old ones" in text
    assert "at the shank; what thread it has is not known" in text


def test_a_thread_is_not_held_against_a_shank(yard, plan, bolts):
    """The same metal and size again: as strong as the boat was built with, thread or none."""
    bolts.metal = "wrought_iron"
    keep_planned_fastening(fastening=bolts)
    lay_holes(fastening=bolts, places=[(120, 80), (280, 80)])
    text = said(yard.get(f"/fastening-layouts/{plan.pk}/metals/"))
    assert "together bear 1.00 times the pull" in text
    assert "That is less than the boat was built with" not in text


def test_the_strength_of_a_metal_stands_with_its_source_and_how_it_is_known(yard, plan, bolts):
    bolts.metal = "silicon_bronze_655"
    keep_planned_fastening(fastening=bolts)
    known = "tensile 345 MPa (50 ksi), from memory; yield 138 MPa (20 ksi), from memory; ASTM F468"
    for page in ("strength", "metals"):
        assert known in said(yard.get(f"/fastening-layouts/{plan.pk}/{page}/"))


def test_a_size_the_strengths_are_not_published_for_is_told(yard, plan, bolts):
    told = "the strengths held are for those sizes, and a fastening of 24 mm is outside them"
    for page in ("", "strength/"):
        assert told not in said(yard.get(f"/fastening-layouts/{plan.pk}/{page}"))
    bolts.diameter_mm, bolts.thread, bolts.replaces, bolts.old_least_mm = 24, "M24", None, None
    keep_planned_fastening(fastening=bolts)
    for page in ("", "strength/"):
        assert told in said(yard.get(f"/fastening-layouts/{plan.pk}/{page}"))


def test_a_washer_wide_enough_and_too_thin_is_called_too_thin(yard, plan, bolts):
    lay_holes(fastening=bolts, places=[(120, 80)])
    strength = f"/fastening-layouts/{plan.pk}/strength/"
    assert "wide and thick enough" in said(yard.get(strength))
    bolts.washer_thick_mm = 2
    keep_planned_fastening(fastening=bolts)
    assert "too thin" in said(yard.get(strength))
    assert "across on F7" in said(yard.get(strength))


def test_a_bit_is_named_in_the_readers_own_units(client, people, plan, bolts):
    client.force_login(people["yard"])
    text = said(client.get(plan.get_absolute_url()))
    assert "Bore clearance: 21/32 in (16.8 mm) to 11/16 in (17.6 mm)" in text


def test_the_galvanic_pairs_are_those_of_the_new_metal(yard, plan, bolts, joint):
    Fastening.objects.create(joint=joint, kind="nail", metal="galvanised iron", count=6)
    Fastening.objects.create(joint=joint, kind="nail", metal="mild steel", count=6)
    text = said(yard.get(f"/fastening-layouts/{plan.pk}/metals/"))
    assert "Silicon bronze with Mild steel" in text
    assert "Galvanised steel with Mild steel" not in text
    assert "Mild steel with Galvanised steel" not in text


def test_what_is_replaced_by_the_layout_touches_nothing_any_more(yard, plan, bolts):
    text = said(yard.get(f"/fastening-layouts/{plan.pk}/metals/"))
    assert "Silicon bronze with Wrought iron" not in text
    bolts.replaces = None
    bolts.old_least_mm = None
    keep_planned_fastening(fastening=bolts)
    text = said(yard.get(f"/fastening-layouts/{plan.pk}/metals/"))
    assert "Silicon bronze with Wrought iron" in text


@pytest.fixture
def ballast(vessel, joint):
    casting = Member.objects.create(
        vessel=vessel, kind="ballast_keel", mark="BK1", material="cast iron", moulded_mm=350
    )
    under = join_members(member=joint.one, others=[casting])[0]
    plan = keep_plan(
        plan=FasteningPlan(
            joint=under, name="ballast", length_mm=2000, width_mm=178, head_thickness_mm=228,
            point_thickness_mm=350, load_deg=90, head_runs_on=["start", "finish"],
        )
    )  # fmt: skip
    bolts = keep_planned_fastening(
        fastening=PlannedFastening(
            plan=plan, kind="bolt", metal="aluminium_bronze_614", diameter_mm=20, length_mm=620,
            washer_mm=70, washer_thick_mm=5,
        )
    )  # fmt: skip
    lay_holes(fastening=bolts, places=[(300, 60), (800, 118), (1300, 60)])
    return plan


def test_keel_bolts_are_held_against_what_is_published(yard, ballast):
    text = said(yard.get(f"/fastening-layouts/{ballast.pk}/metals/"))
    assert "A keel bolt is not under 14 mm in diameter. met, 20 mm" in text
    assert "not met , 70 mm of 80 mm" in text
    assert "The bolts stand on either side of the centreline in turn. met" in text
    assert "Unknown bolts are a hazard, not a pass." in text
    assert "No published limit of wasting" in text


def test_whatever_holds_ballast_bears_the_caution_of_keel_bolts_on_every_page(yard, ballast, plan):
    pages = [
        f"/joints/{ballast.joint_id}/layouts/", f"/fastening-layouts/{ballast.pk}/",
        f"/fastening-layouts/{ballast.pk}/edit/", f"/fastening-layouts/{ballast.pk}/strength/",
        f"/fastening-layouts/{ballast.pk}/metals/",
    ]  # fmt: skip
    for page in pages:
        assert said(yard.get(page)).count(keel_bolts.CAUTION) == 1, page
    assert keel_bolts.CAUTION not in said(yard.get(f"/fastening-layouts/{plan.pk}/strength/"))


def test_a_layout_says_what_ballast_is_of_and_what_to_bore_above_it(yard, ballast):
    text = said(yard.get(ballast.get_absolute_url()))
    assert "Behind it BK1 350 mm, cast iron" in text
    assert "wood not said" not in text
    assert "Bore clearance: 20.8 mm to 21.6 mm" in text


def test_ballast_of_iron_is_not_checked_as_wood(yard, ballast):
    text = said(yard.get(ballast.get_absolute_url()))
    assert "BK1 is not of wood: the rules for timber are not held against it." in text
    assert "BK1: to the" not in text
    assert "K1: to the" in text


def test_the_washer_on_ballast_is_judged_by_the_keel_alone(yard, ballast):
    text = said(yard.get(f"/fastening-layouts/{ballast.pk}/strength/"))
    assert "BK1 is not of wood: the equations for timber are not for it." in text
    assert "on K1, 4.62 MPa (670 psi) across the grain" in text


def test_a_wood_without_figures_is_named_and_the_page_stands(yard, plan, bolts, woods):
    plan.head_wood = woods["elm_wych"]
    keep_plan(plan=plan)
    lay_holes(fastening=bolts, places=[(120, 80)])
    for address in ("", "strength/", "metals/"):
        answer = yard.get(f"/fastening-layouts/{plan.pk}/{address}")
        assert answer.status_code == 200
    assert "No specific gravity or density is known for wych elm" in said(
        yard.get(f"/fastening-layouts/{plan.pk}/strength/")
    )


def test_the_caution_stands_on_every_page(yard, plan, bolts, joint):
    lay_holes(fastening=bolts, places=[(120, 80)])
    hole = PlannedHole.objects.get()
    pages = [
        f"/joints/{joint.pk}/layouts/", f"/joints/{joint.pk}/layouts/new/",
        f"/fastening-layouts/{plan.pk}/", f"/fastening-layouts/{plan.pk}/edit/",
        f"/fastening-layouts/{plan.pk}/delete/", f"/fastening-layouts/{plan.pk}/strength/",
        f"/fastening-layouts/{plan.pk}/metals/", f"/fastening-layouts/{plan.pk}/fastenings/new/",
        f"/planned-fastenings/{bolts.pk}/edit/", f"/planned-fastenings/{bolts.pk}/delete/",
        f"/planned-fastenings/{bolts.pk}/holes/", f"/planned-holes/{hole.pk}/edit/",
        f"/planned-holes/{hole.pk}/delete/",
    ]  # fmt: skip
    for page in pages:
        assert CAUTION in said(yard.get(page)), page


def test_the_sheet_for_the_bench_bears_holes_and_caution(yard, plan, bolts):
    from io import BytesIO

    from pypdf import PdfReader

    lay_holes(fastening=bolts, places=[(120, 70), (280, 95)])
    answer = yard.get(f"/fastening-layouts/{plan.pk}/pdf/")
    assert answer["Content-Type"] == "application/pdf"
    pages = PdfReader(BytesIO(answer.content)).pages
    assert len(pages) == 1
    text = " ".join(" ".join(page.extract_text() for page in pages).split())
    for words in ("280 mm", "25 mm", "not design approval", "Silicon bronze", "grain of F7"):
        assert words in text
    assert "bore clearance 16.8 mm to 17.6 mm" in text
    assert "shorter than" not in text


def test_the_sheet_for_the_bench_says_that_holes_stand_too_near(yard, plan, bolts):
    from io import BytesIO

    from pypdf import PdfReader

    lay_holes(fastening=bolts, places=[(120, 10), (280, 80)])
    answer = yard.get(f"/fastening-layouts/{plan.pk}/pdf/")
    (page,) = PdfReader(BytesIO(answer.content)).pages
    text = " ".join(page.extract_text().split())
    assert "distances are shorter than one or both publications want (holes 1): see" in text
    assert answer.content == yard.get(f"/fastening-layouts/{plan.pk}/pdf/").content


def test_taken_away_it_is_gone_with_its_holes_and_the_old_ones_stay(yard, plan, bolts, joint):
    lay_holes(fastening=bolts, places=[(120, 80)])
    answer = yard.post(f"/fastening-layouts/{plan.pk}/delete/")
    assert answer.url == f"/joints/{joint.pk}/layouts/"
    assert not PlannedHole.objects.exists()
    assert Fastening.objects.count() == 1


def test_an_old_fastening_taken_off_leaves_the_layout(plan, bolts):
    Fastening.objects.get().delete()
    bolts.refresh_from_db()
    assert bolts.replaces is None


def test_the_database_itself_holds_no_hole_before_the_face(bolts):
    from django.db import IntegrityError

    with pytest.raises(IntegrityError):
        PlannedHole.objects.create(fastening=bolts, x_mm=-5, y_mm=10)


def test_a_hole_kept_again_where_it_is_does_not_run_into_itself(bolts):
    hole = lay_holes(fastening=bolts, places=[(60, 80)])[0]
    hole = PlannedHole.objects.get(pk=hole.pk)
    assert keep_hole(hole=hole).x_mm == 60


def test_pages_ask_no_more_for_more_holes_and_fastenings(yard, plan, bolts):
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    lay_holes(fastening=bolts, places=[(60, 80)])
    pages = [
        f"/fastening-layouts/{plan.pk}/{part}" for part in ("", "strength/", "metals/", "pdf/")
    ]

    def counts():
        found = []
        for page in pages:
            with CaptureQueriesContext(connection) as asked:
                assert yard.get(page).status_code == 200
            found.append(len(asked))
        return found

    few = counts()
    lay_holes(fastening=bolts, places=[(100 + 20 * n, 40) for n in range(10)])
    more = keep_planned_fastening(
        fastening=PlannedFastening(
            plan=plan, kind="screw", metal="silicon_bronze_651", diameter_mm=6, length_mm=150
        )
    )
    lay_holes(fastening=more, places=[(100 + 20 * n, 130) for n in range(10)])
    assert counts() == few


def test_what_is_too_short_or_comes_out_behind_is_told(yard, plan, bolts):
    bolts.length_mm = 340
    keep_planned_fastening(fastening=bolts)
    keep_planned_fastening(
        fastening=PlannedFastening(
            plan=plan, kind="drift", metal="silicon_bronze_651", diameter_mm=16, length_mm=365
        )
    )
    text = said(yard.get(plan.get_absolute_url()))
    assert "of 340 mm is shorter than the timbers it goes through, 355 mm." in text
    assert "A drift bolt of 365 mm comes out 10 mm beyond the timber behind." in text


def test_a_plank_screw_is_told_what_the_table_has(yard, plan):
    plan.head_thickness_mm = 28.6
    keep_plan(plan=plan)
    keep_planned_fastening(
        fastening=PlannedFastening(
            plan=plan, kind="screw", metal="silicon_bronze_651", diameter_mm=7.5, length_mm=57
        )
    )
    text = said(yard.get(plan.get_absolute_url()))
    assert "the table of boat screws has no. 18" in text
    assert "Bore lead, in the point's timber: 5.4 mm" in text


def test_taking_off_a_joint_says_that_its_layouts_go_with_it(yard, plan, bolts, joint):
    text = said(yard.get(f"/joints/{joint.pk}/delete/"))
    assert "K1 to F7, floor on keel" in text


def test_the_yards_own_stress_across_the_grain_stands_with_the_yards_own_source(yard, plan, bolts):
    lay_holes(fastening=bolts, places=[(120, 80)])
    strength = f"/fastening-layouts/{plan.pk}/strength/"
    assert "Offcuts of the yard" not in said(yard.get(strength))
    timber.WoodFigure.objects.create(
        species=plan.head().wood, kind="bearing_green_mpa", value="3.9",
        source="Offcuts of the yard, pressed", entered_by="The yard",
    )  # fmt: skip
    text = said(yard.get(strength))
    assert "on F7, 3.9 MPa (566 psi) across the grain Offcuts of the yard, pressed" in text
