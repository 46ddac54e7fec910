"""The smaller papers of what is empty, long, used up or counted twice."""

import io
import re
from decimal import Decimal

import pytest
from django.urls import reverse
from pypdf import PdfReader

from restoration.drawings.thread import Node, draw_thread
from restoration.reports.paper import Facts, Paper, Signatures, Words
from restoration.reports.pdf.paper import draw_paper
from restoration.reports.saw_sheet import drawings_a_row
from timber_stock.actions import keep_plan
from timber_stock.drawings.sheet_sections import StageDrawn
from timber_stock.models import Board, CuttingItem, CuttingList, Log, request_for
from timber_stock.sawing.plan import make_plan
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.request import Saw
from timber_stock.sawing.search import Allowance

pytestmark = pytest.mark.django_db
CUBIC = re.compile(r"(\d+\.\d{3}) m³")


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    return client


def pages(answer):
    assert answer.status_code == 200, answer.content[:300]
    return [page.extract_text() for page in PdfReader(io.BytesIO(answer.content)).pages]


def words(answer):
    return " ".join(" ".join(pages(answer)).split())


def test_a_board_resawn_or_gone_is_on_the_list_of_all_but_in_no_sum(yard, deep_log, bought_board):
    """L7-2 became L7-2a and L7-2b, and L7-2b two more: their wood is counted once."""
    Board.objects.filter(tag="Q3").update(state="gone")
    here = [b for b in Board.objects.all() if b.is_in_stock()]
    assert {b.tag for b in here} == {"L7-1", "L7-2a", "L7-2b1", "L7-2b2"}
    total = sum(
        Decimal(b.thickness_mm) * Decimal(b.width_mm) * Decimal(b.length_mm - b.cut_away_mm)
        for b in here
    )
    said = words(yard.get(reverse("restoration:boards_pdf"), {"which": "all"}))
    assert "7 boards" in said
    assert f"Left in them, together {total / 10**9:.3f} m³" in said
    assert f"Together {total / 10**9:.3f} m³" in said


def test_what_is_left_in_each_board_and_log_on_the_list_adds_up_to_its_last_line(
    yard, deep_log, bought_board
):
    for name in ("boards_pdf", "logs_pdf"):
        said = words(yard.get(reverse(f"restoration:{name}")))
        rows, last = said.split("Left in it", 1)[1].split("Together")
        left = [Decimal(found) for found in CUBIC.findall(rows)]
        left = left if name == "boards_pdf" else left[1::2]  # the first is the log's whole volume
        assert left
        assert abs(sum(left) - Decimal(CUBIC.search(last)[1])) <= Decimal("0.0005") * len(left)


def test_an_empty_list_says_on_its_papers_what_to_do(yard, woods):
    empty = CuttingList.objects.create(name="Not begun")
    for name in ("cutting_list_pdf", "log_wanted_pdf"):
        said = words(yard.get(reverse(f"restoration:{name}", args=[empty.pk])))
        assert "Enter its timbers on its page in the register" in said
    said = words(yard.get(reverse("restoration:boards_pdf")))
    assert "Narrow the list less" in said
    assert "enter what is in the yard" in said


def test_nobody_is_asked_to_sign_an_estimate_of_nothing(yard, vessel, survey, make_spec):
    address = reverse("restoration:estimate_pdf", args=[vessel.pk])
    assert "Agreed:" not in words(yard.get(address))
    make_spec(survey, "F3")
    assert f"Agreed: {vessel.client.name}" in words(yard.get(address))


def test_a_long_size_stands_on_one_line_of_a_cutting_list(yard, woods):
    asked = CuttingList.objects.create(name="Sixteenths")
    CuttingItem.objects.create(
        cutting_list=asked, label="A", thickness_mm=58.7375, width_mm=138.1125,
        length_mm=1357.3125, quantity=2,
    )  # fmt: skip
    for name in ("cutting_list_pdf", "log_wanted_pdf"):
        (page,) = pages(yard.get(reverse(f"restoration:{name}", args=[asked.pk])))
        plain = page.replace("\N{NO-BREAK SPACE}", " ")
        assert "2 5/16 in × 5 7/16 in × 4 ft 5 7/16 in" in plain.splitlines()


def test_no_length_of_a_log_is_broken_within_on_the_stock_list(yard, woods):
    Log.objects.create(
        tag="L8", species=woods["oak_white"], length_mm=3697.2875, butt_diameter_mm=900.1125,
        top_diameter_mm=823.9125,
    )  # fmt: skip
    (page,) = pages(yard.get(reverse("restoration:logs_pdf")))
    plain = page.replace("\N{NO-BREAK SPACE}", " ")
    for size in ("12 ft 1 9/16 in", "2 ft 11 7/16 in", "2 ft 8 7/16 in"):
        assert size in [line.strip() for line in plain.splitlines()]


def test_the_particulars_of_one_thing_are_never_parted_by_the_foot_of_a_page():
    facts = Facts(tuple((f"Fact {n}", f"value {n}") for n in range(12)))
    for lines in range(28, 37):
        blocks = (*(Words(f"Line {n}.") for n in range(lines)), facts, Signatures(("Yard",)))
        drawn = draw_paper(Paper("Paper", "x", "Yard", (("Yard", "Yard"),) * 3, "x", blocks))
        said = [page.extract_text() for page in PdfReader(io.BytesIO(drawn)).pages]
        assert sum("value" in page for page in said) == 1


def test_a_tag_longer_than_its_box_is_cut_short_in_the_picture_and_whole_in_its_title():
    tag = "LONGTAG-2026/0001-WEST"
    svg = draw_thread([Node("a", "log", 0, (tag, "log, white oak"), tag)], says="x")
    assert "LONGTAG-2026/0…</text>" in svg
    assert f"<title>{tag}</title>" in svg
    assert ">log, white oak</text>" in svg


def test_the_stage_of_a_saw_sheet_is_said_again_overleaf(yard, woods):
    asked = CuttingList.objects.create(name="Many")
    CuttingItem.objects.create(cutting_list=asked, label="PLK", thickness_mm=30, width_mm=80,
                               length_mm=2300, quantity=30)  # fmt: skip
    log = Log.objects.create(tag="L9", species=woods["oak_white"], length_mm=2600,
                             butt_diameter_mm=520, top_diameter_mm=500)  # fmt: skip
    request = request_for(log, list(asked.items.all()), Saw(3, 9))
    plan = keep_plan(
        log=log, cutting_list=asked, request=request, made_by="W", why="first",
        plan=make_plan(parse_request(request), Allowance(steps=60)),
    )  # fmt: skip
    told = pages(yard.get(reverse("restoration:saw_sheet_pdf", args=[plan.pk])))
    flat = [" ".join(page.split()) for page in told]
    overleaf = [page for page in flat[1:] if not re.search(r"Stage \d+ (Turn|Roll)", page)]
    assert overleaf
    assert all(re.search(r"Stage \d+: set the saw to", page) for page in overleaf)
    crosscuts = [line for page in told for line in page.splitlines() if "Crosscut" in line]
    assert any("Crosscut. Frees PLK." in line.replace("\N{NO-BREAK SPACE}", " ")
               for line in crosscuts)  # fmt: skip


def test_a_vessels_own_page_leads_to_her_papers_and_to_the_certificates_of_what_is_fitted(
    yard, survey, make_spec, deep_log, promise, other_vessel
):
    spec = make_spec(survey, "F12")
    make_spec(survey, "F13")
    use = promise(spec, "L7-2b1", 100, 1300)
    address = f"{reverse('restoration:papers')}?vessel={survey.vessel_id}"
    assert f'href="{address}"' in yard.get(survey.vessel.get_absolute_url()).content.decode()
    of_f12 = reverse("restoration:certificate", args=[spec.finding.member_id])
    assert of_f12 not in yard.get(address).content.decode()
    use.cut_on = use.fitted_on = "2026-03-09"
    use.cut_by = use.fitted_by = "W. Right"
    use.save()
    page = yard.get(address).content.decode()
    assert f'<a href="{of_f12}">F12</a>' in page
    assert other_vessel.name not in page
    whole = yard.get(reverse("restoration:papers")).content.decode()
    assert f'<a href="{of_f12}">F12</a>' in whole
    assert other_vessel.name in whole
    assert 'id="timber"' in whole


@pytest.mark.parametrize(
    ("asked", "status"), [("", 200), ("keel", 200), ("0", 404), ("9" * 30, 200)]
)
def test_papers_asked_of_what_is_no_vessel_are_those_of_all_or_not_there(
    yard, asked, status, survey
):
    assert yard.get(reverse("restoration:papers"), {"vessel": asked}).status_code == status


def test_drawings_of_a_stage_with_many_cuts_stand_no_more_than_two_in_a_row():
    few = StageDrawn(0.0, '<g class="cut-number"/>' * 14)
    many = StageDrawn(900.0, '<g class="cut-number"/>' * 15)
    assert [drawings_a_row([few] * n) for n in range(5)] == [1, 1, 2, 3, 3]
    assert [drawings_a_row([few] * n + [many]) for n in range(4)] == [1, 2, 2, 2]
