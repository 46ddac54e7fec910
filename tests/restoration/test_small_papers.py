"""The smaller papers, read back by another library: what they say, on which paper, alike twice."""

import io
import re
import subprocess
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from pypdf import PdfReader

from restoration.models import Finding, Survey, User, Yard
from restoration.reports.gather_money import vessel_money
from restoration.reports.paper import (
    Caution,
    Figure,
    Heading,
    Paper,
    Scan,
    Signatures,
    Table,
    Words,
)
from restoration.reports.pdf.page import made
from restoration.reports.pdf.paper import draw_paper, drawn, sheet_words
from restoration.reports.pdf.short_report import fitted_short_report
from restoration.reports.short_report import short_report
from tests.restoration.test_report_pdf import finding, member, replacement, report
from timber_stock.actions import keep_plan, keep_reckoning, tick_cut
from timber_stock.models import CuttingItem, CuttingList, Log, LogReckoning, SawingPlan, request_for
from timber_stock.sawing.log_wanted import Sought
from timber_stock.sawing.plan import make_plan
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.request import Saw
from timber_stock.sawing.search import Allowance

pytestmark = pytest.mark.django_db
DAY = date(2026, 4, 9)
A4, LETTER = (595, 842), (612, 792)


@pytest.fixture
def yard(client, people):
    client.force_login(people["yard"])
    return client


@pytest.fixture
def fitted(survey, make_spec, deep_log, promise):
    """F12, fitted from a board four deep in L7; F13, promised from the same board."""
    spec = make_spec(survey, "F12")
    spec.hours_estimate, spec.cost_estimate = Decimal("11.5"), Decimal("620.10")
    spec.save()
    use = promise(spec, "L7-2b1", 100, 1300)
    use.cut_on, use.cut_by = date(2026, 3, 1), "W. Right"
    use.fitted_on, use.fitted_by = date(2026, 3, 9), "W. Right"
    use.save()
    promise(make_spec(survey, "F13"), "L7-2b1", 1400, 2600)
    return spec.finding.member


@pytest.fixture
def listed(woods):
    asked = CuttingList.objects.create(name="Floors of the Wren", note="Before the frost.")
    CuttingItem.objects.create(
        cutting_list=asked, label="TEN-F12", for_whom="floor timber F12", thickness_mm=70,
        width_mm=140, length_mm=1200, quantity=2, heart_clearance_mm=20, worst_min_deg=45,
        knot_free=[[0.2, 0.8]],
    )  # fmt: skip
    CuttingItem.objects.create(
        cutting_list=asked, label="BEAM", thickness_mm=60, width_mm=61, length_mm=2300, quantity=3,
        sapwood_allowed=True, worth=2,
    )  # fmt: skip
    return asked


@pytest.fixture
def plan(listed, woods):
    log = Log.objects.create(
        tag="L9", species=woods["oak_white"], length_mm=2700, butt_diameter_mm=520,
        top_diameter_mm=455, sapwood_mm=25, butt_trim_mm=90,
    )  # fmt: skip
    asked = request_for(log, list(listed.items.all()), Saw(3, 9))
    asked["wanted"] = [row | {"for": "the Wren"} for row in asked["wanted"]]
    return keep_plan(
        log=log, cutting_list=listed, request=asked, made_by="W. Right", why="first",
        plan=make_plan(parse_request(asked), Allowance(steps=120)),
    )  # fmt: skip


def read(answer):
    assert answer.status_code == 200, answer.content[:400]
    assert answer["Content-Type"] == "application/pdf"
    return PdfReader(io.BytesIO(answer.content))


def words(reader):
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


def size(reader):
    return tuple(round(float(side)) for side in reader.pages[0].mediabox[2:])


def fonts_are_inside(pdf, tmp_path):
    (tmp_path / "p.pdf").write_bytes(pdf)
    told = subprocess.run(
        ["pdffonts", str(tmp_path / "p.pdf")], check=True, capture_output=True, text=True
    ).stdout.splitlines()[2:]
    ours = [line.split()[-5] for line in told if "NotoSans" in line]  # embedded: yes or no
    return len(ours) > 1 and set(ours) == {"yes"}


def every_paper(survey, fitted, listed, plan):
    vessel = survey.vessel_id
    return {
        "Short report": reverse("restoration:short_report_pdf", args=[survey.pk]),
        "Certificate of origin": reverse("restoration:certificate_pdf", args=[fitted.pk]),
        "Estimate": reverse("restoration:estimate_pdf", args=[vessel]),
        "Change report": reverse("restoration:change_report_pdf", args=[vessel]),
        "Saw sheet": reverse("restoration:saw_sheet_pdf", args=[plan.pk]),
        "Cutting list": reverse("restoration:cutting_list_pdf", args=[listed.pk]),
        "Log wanted": reverse("restoration:log_wanted_pdf", args=[listed.pk]),
        "Stock list": reverse("restoration:boards_pdf"),
    }


def second_survey(survey, people):
    later = Survey.objects.create(
        vessel=survey.vessel, surveyed_on=survey.surveyed_on + timedelta(days=400),
        place="Sallow Creek", lying="ashore", surveyor_name="P. Prober", methods="spike",
        not_reached="none", recorded_by=people["surveyor"],
    )  # fmt: skip
    for mark in ("F12", "F13"):
        Finding.objects.create(
            survey=later, member=survey.vessel.members.get(mark=mark), condition="1", urgency=1,
            measure=1, recorded_by=people["surveyor"], seen="A stain beside the bolt.",
        )  # fmt: skip
    return later


def test_each_paper_says_what_it_is_in_its_file_and_comes_alike_twice_on_either_paper(
    yard, survey, fitted, listed, plan, people, tmp_path
):
    second_survey(survey, people)
    for kind, address in every_paper(survey, fitted, listed, plan).items():
        answer = yard.get(address)
        reader = read(answer)
        across = kind in ("Cutting list", "Stock list")
        assert reader.metadata.title.startswith(f"{kind}: "), kind
        assert reader.trailer["/Root"]["/Lang"] == "en-GB", kind
        assert kind in words(reader), kind
        assert re.search(rf"Page 1 of {len(reader.pages)}\b", words(reader)), kind
        assert size(reader) == (A4[::-1] if across else A4), kind
        assert answer.content == yard.get(address).content, kind
        assert fonts_are_inside(answer.content, tmp_path), kind
        letter = read(yard.get(address, {"paper": "Letter"}))
        assert size(letter) == (LETTER[::-1] if across else LETTER), kind
        assert not any(page.images for page in reader.pages), kind


def test_papers_come_on_what_the_yard_prints_on_until_another_is_asked_for(yard, survey):
    Yard(pk=1, paper="Letter").save()
    address = reverse("restoration:short_report_pdf", args=[survey.pk])
    assert size(read(yard.get(address))) == LETTER
    assert size(read(yard.get(address, {"paper": "A4"}))) == A4
    assert size(read(yard.get(address, {"paper": "wallpaper"}))) == LETTER


def test_the_field_sheet_lies_across_on_either_paper(yard, survey):
    address = reverse("restoration:field_sheet", args=[survey.pk])
    assert size(read(yard.get(address))) == A4[::-1]
    assert size(read(yard.get(address, {"paper": "Letter"}))) == LETTER[::-1]


def test_the_certificate_follows_the_member_to_its_log_and_says_where_that_grew(yard, fitted):
    reader = read(yard.get(reverse("restoration:certificate_pdf", args=[fitted.pk])))
    said = words(reader)
    for part in (
        "fitted 9 March 2026 by W. Right", "L7-2b1 board", "L7-2b board", "L7-2 flitch", "L7 log",
        "Hangar Wood", "17 January 2025", "Aldermoor Sawing, Aldermoor", "no proof of lawful",
        "No paper of origin of this log", "/t/TEN-F12/",
    ):  # fmt: skip
        assert part in said, part
    assert said.index("L7 log") < said.index("L7-2 flitch") < said.index("L7-2b1 board")
    assert [mark.title for mark in reader.outline] == [
        "From the member to its log", "Where the logs grew",
    ]  # fmt: skip


def test_a_certificate_tells_nothing_of_other_members_out_of_the_same_log(yard, fitted):
    address = reverse("restoration:certificate_pdf", args=[fitted.pk])
    said = words(read(yard.get(address)))
    assert "TEN-F12" in said
    assert "F13" not in said
    assert said.count("asked for") == said.count("Size asked for") == 1


def test_the_certificate_names_the_papers_of_a_log_by_their_fingerprints(yard, fitted, deep_log):
    deep_log.papers.create(
        kind="felling", title="Felling note 17", dated_on=date(2025, 1, 20), file="n.pdf",
        content_type="application/pdf", size_bytes=9, sha256="0f" * 32, kept_on=DAY, kept_by="W",
    )  # fmt: skip
    Log.objects.filter(pk=deep_log.pk).update(
        grew_country="Norway", grew_latitude=58.25, grew_longitude=-7.5,
        protection_note="not a protected species", protection_source="the supplier's letter",
    )  # fmt: skip
    said = words(read(yard.get(reverse("restoration:certificate_pdf", args=[fitted.pk]))))
    for part in ("Felling note 17", "felling note or licence", "20 January 2025", "Norway",
                 "58.25° N, 7.5° W", "Written in: The supplier's letter."):  # fmt: skip
        assert part in said, part
    assert "0f" * 32 in said.replace(" ", "")
    assert "No paper of origin" not in said


def test_the_page_of_a_certificate_says_what_the_paper_says(yard, fitted):
    page = yard.get(reverse("restoration:certificate", args=[fitted.pk])).content.decode()
    for part in ("fitted 9 March 2026 by W. Right", "L7-2b1", "Hangar Wood", "<svg"):
        assert part in page
    assert f"{reverse('restoration:certificate_pdf', args=[fitted.pk])}?paper=Letter" in page


def test_a_member_without_timber_has_no_origin_to_certify_and_is_told_so(yard, survey, make_spec):
    bare = make_spec(survey, "F14").finding.member
    said = words(read(yard.get(reverse("restoration:certificate_pdf", args=[bare.pk]))))
    assert "there is no origin to certify" in said
    assert "Where the logs grew" not in said


def test_timber_bought_sawn_says_that_its_log_is_not_known(
    yard, survey, make_spec, promise, bought_board
):
    spec = make_spec(survey, "F14")
    promise(spec, "Q3", 0, 1200)
    member_of = spec.finding.member
    said = words(read(yard.get(reverse("restoration:certificate_pdf", args=[member_of.pk]))))
    assert "bought sawn from Drayhithe Timber" in said
    assert "its log is not in this register" in said


def test_the_estimate_adds_up_and_says_what_is_in_no_sum(yard, survey, fitted):
    Finding.objects.create(
        survey=survey, member=survey.vessel.members.create(kind="keel", mark="K1"),
        condition="NE", not_examined_reason="tank over it", recorded_by=survey.recorded_by,
    )  # fmt: skip
    said = words(read(yard.get(reverse("restoration:estimate_pdf", args=[survey.vessel_id]))))
    assert "All that is specified 11.5 620.10" in said
    assert "2, of which 1 still to be fitted" in said
    assert "Fitted: what was estimated for work that is done 1 11.5 620.10" in said
    assert "for want of a figure: hours of 1 replacement, cost of 1 replacement" in said
    assert "Of 1 member nothing is known yet, not examined or without a finding: K1." in said


def test_the_estimate_gives_a_range_only_where_the_yards_past_gives_one(
    yard, survey, fitted, monkeypatch
):
    address = reverse("restoration:estimate_pdf", args=[survey.vessel_id])
    said = words(read(yard.get(address)))
    assert "How far off it may be" in said
    assert "no range is given" in said
    known = replace(
        vessel_money(survey.vessel), low=Decimal("900.5"), high=Decimal("1400"),
        past_says="3 jobs with an estimate are done.", past_rule="The whole span.",
    )  # fmt: skip
    monkeypatch.setattr("restoration.reports.estimate.vessel_money", lambda vessel: known)
    said = words(read(yard.get(address)))
    assert "may come to between 900.50 EUR and 1,400 EUR." in said
    assert "3 jobs with an estimate are done. The whole span." in said


def test_the_change_report_tells_what_became_of_each_with_what_was_seen(
    yard, survey, fitted, people
):
    later = second_survey(survey, people)
    address = reverse("restoration:change_report_pdf", args=[survey.vessel_id])
    said = words(read(yard.get(address, {"a": survey.pk, "b": later.pk})))
    assert "Graded better, no replacement on record (1)" in said
    assert re.search(r"F13 floor timber 3 major 1 minor", said)
    assert "Found bad, not graded before (1)" in said or "Put right" in said
    alone = yard.get(address, {"a": later.pk, "b": later.pk})
    assert alone.status_code == 404
    assert "two different surveys" in alone.content.decode()


def test_a_vessel_with_one_survey_has_no_change_report_and_is_told_what_to_do(yard, survey):
    answer = yard.get(reverse("restoration:change_report_pdf", args=[survey.vessel_id]))
    assert answer.status_code == 404
    assert "begin a survey" in answer.content.decode()


LONG = " ".join(f"The {n}th bay was behind the tank and the ceiling." for n in range(900))


def many(count):
    return [
        member(f"F{n}", found=finding(condition="3", urgency=3, measure=3, seen=LONG[:900]))
        for n in range(count)
    ]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("count", [0, 1, 14, 400])
def test_the_short_report_is_two_pages_whatever_it_holds(paper, count):
    long_names = replace(
        report().vessel, name="The Honourable Tenacious Wren of Sallow Creek and Aldermoor " * 2
    )
    content = report(
        *many(count), replacements=tuple(replacement(f"F{n}") for n in range(count)),
        vessel=long_names, survey=replace(report().survey, not_reached=LONG * 3),
    )  # fmt: skip
    drawn_up = fitted_short_report(content, paper, on=DAY, issued=None)
    reader = PdfReader(io.BytesIO(draw_paper(drawn_up, paper)))
    assert len(reader.pages) == 2
    assert "What must be done" in reader.pages[1].extract_text()
    assert "How she stands" in reader.pages[0].extract_text()
    if count == 400:
        assert "more, in the full report" in words(reader)
        assert re.search(r"And \d+ replacements more", words(reader))
        assert f"Still to be done {400 * Decimal('11.5'):,}" in words(reader)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_short_report_is_two_pages_also_where_letters_cannot_be_printed(paper):
    odd = replace(report().vessel, name="船舶木材修理記録書類" * 6)
    survey = replace(report().survey, not_reached=LONG)
    content = report(*many(400), vessel=odd, survey=survey,
                     replacements=tuple(replacement(f"F{n}") for n in range(400)))  # fmt: skip
    drawn_up = fitted_short_report(content, paper, on=DAY, issued=None)
    reader = PdfReader(io.BytesIO(draw_paper(drawn_up, paper)))
    assert len(reader.pages) == 2
    assert re.search(r"Letters that no font here covers: U\+.* and 2 more",
                     words(reader))  # fmt: skip


def test_the_short_report_says_that_the_issued_one_stands_before_it():
    content = report(*many(2))
    none = short_report(content, on=DAY, issued=None).blocks[1].text
    third = short_report(content, on=DAY, issued=3).blocks[1].text
    assert "No report of this survey is issued yet" in none
    assert "Report 3 is issued of this survey and stands before this summary" in third


def test_what_is_renewed_presses_no_more_in_the_short_report_nor_in_the_draft(yard, survey, fitted):
    pressing = {"condition": "3", "urgency": 3, "measure": 3}
    for mark in ("F12", "F13"):
        survey.findings.filter(member__mark=mark).update(**pressing)
    paper = yard.get(reverse("restoration:short_report", args=[survey.pk])).content.decode()
    table = paper.partition("What presses")[2].partition("</table>")[0]
    assert "F13 floor timber" in table
    assert "F12" not in table
    assert "Pressed too, and renewed since the survey: F12." in paper
    draft = yard.get(reverse("restoration:report_draft", args=[survey.pk])).content.decode()
    assert "<dt>Renewed since the survey</dt><dd>F12</dd>" in draft


def test_a_short_report_whose_pressing_members_are_all_renewed_says_that_nothing_presses(
    yard, survey, fitted
):
    survey.findings.exclude(member=fitted).update(urgency=1)
    survey.findings.filter(member=fitted).update(condition="3", urgency=3, measure=3)
    paper = yard.get(reverse("restoration:short_report", args=[survey.pk])).content.decode()
    assert "No finding still to be met has an urgency of 2 or more." in paper
    assert "renewed since the survey: F12." in paper


def test_the_saw_sheet_has_every_cut_as_the_page_has_it_drawn_as_vectors(yard, plan):
    tick_cut(plan=plan, step=plan.cuts()[0]["step"], made_by="J. Sawyer", over_mm=2.0, sizes_mm={})
    reader = read(yard.get(reverse("restoration:saw_sheet_pdf", args=[plan.pk])))
    said = words(reader)
    page = yard.get(reverse("timber_stock:saw_sheet", args=[plan.pk])).content.decode()
    heights = re.findall(r'class="set">([^<]+) <', page)
    assert len(heights) == len(plan.cuts())
    for height in heights:
        assert height.strip() in said
    stages = re.findall(r'id="stage-(\d+)"', page)
    assert [mark.title.split(":")[0].split(" –")[0] for mark in reader.outline] == [
        f"Stage {n}" for n in stages
    ]
    assert "dog it, stand clear" in said
    assert "5/64 in high" in said
    assert "for the Wren" in said
    assert "off the butt" in said


def test_a_superseded_saw_sheet_sends_to_the_plan_that_took_its_place(yard, plan):
    SawingPlan.objects.create(
        log=plan.log, number=2, request=plan.request, plan=plan.plan, made_by="W", why="knot",
        supersedes=plan,
    )  # fmt: skip
    said = words(read(yard.get(reverse("restoration:saw_sheet_pdf", args=[plan.pk]))))
    assert "Plan 2 has taken the place of this sheet: saw from that." in said


def test_the_cutting_list_is_printed_with_all_that_is_asked_of_each_timber(yard, listed):
    said = words(read(yard.get(reverse("restoration:cutting_list_pdf", args=[listed.pk]))))
    for part in ("TEN-F12", "floor timber F12", "nowhere under 45°", "free of knots in 20 to 80 %",
                 "heart may be in it", "sapwood allowed", "Before the frost."):  # fmt: skip
        assert part in said, part


def test_a_log_wanted_not_reckoned_yet_says_so_and_searches_nothing(yard, listed, monkeypatch):
    def never(*args, **options):
        raise AssertionError("searched")

    monkeypatch.setattr("timber_stock.sawing.log_wanted.search", never)
    said = words(read(yard.get(reverse("restoration:log_wanted_pdf", args=[listed.pk]))))
    assert "The whole list is not reckoned yet" in said
    assert "None will do under" in said
    assert "Wood not said: write it here" in said
    assert f"Answers to: {Yard.current().name}" in said


def test_a_log_wanted_is_printed_as_it_was_reckoned_until_the_list_changes(yard, listed, woods):
    asked = {
        "wood": woods["oak_white"].pk,
        "kerf_mm": "3 mm",
        "crosscut_kerf_mm": "9 mm",
        "trim_mm": "80 mm",
        "sapwood_mm": "20 mm",
    }
    page = yard.get(reverse("timber_stock:log_wanted", args=[listed.pk]), asked).content.decode()
    kept = LogReckoning.objects.get(cutting_list=listed)
    address = reverse("restoration:log_wanted_pdf", args=[listed.pk])
    assert address in page
    said = words(read(yard.get(address)))
    diameter = re.search(r"heart in the middle</dt><dd>([^<]+)<", page)[1]
    assert f"Small end under bark, heart in the middle {diameter}" in said
    assert "not reckoned yet" not in said
    assert len(kept.found) == 2
    assert f"Wood {woods['oak_white']}" in said
    assert "What you can offer" in said
    listed.items.filter(label="BEAM").update(quantity=5)
    assert "The list has changed since the log was reckoned" in words(read(yard.get(address)))


def test_a_log_without_length_is_refused_and_nothing_is_kept_of_it(yard, listed):
    asked = {"kerf_mm": "3 mm", "crosscut_kerf_mm": "9 mm", "trim_mm": "80 mm", "length_mm": "0"}
    page = yard.get(reverse("timber_stock:log_wanted", args=[listed.pk]), asked)
    assert page.status_code == 422
    assert "No log is without length" in page.content.decode()
    assert 'value="80 mm"' in page.content.decode()
    assert not LogReckoning.objects.exists()


def test_reckoning_again_takes_the_place_of_what_was_reckoned_before(listed):
    items = list(listed.items.all())
    said = {"length_mm": None, "trim_mm": 75.0, "sapwood_mm": 0.0, "kerf_mm": 3.0,
            "crosscut_kerf_mm": 9.0}  # fmt: skip
    for diameter in (410.0, None):
        keep_reckoning(
            cutting_list=listed, items=items, said=said,
            sought=[Sought(0.0, 300.0, diameter, 7, diameter is None)],
        )  # fmt: skip
    kept = LogReckoning.objects.get()
    assert kept.sought() == [Sought(0.0, 300.0, None, 7, True)]
    assert kept.is_of(list(listed.items.all()))


def test_the_stock_list_keeps_to_the_filter_and_says_it(yard, fitted):
    address = reverse("restoration:boards_pdf")
    whole = words(read(yard.get(address)))
    held = words(read(yard.get(address, {"held": "held", "page": "7"})))
    assert "L7-2a" in whole
    assert "Boards: in stock" in whole
    assert "L7-2a " not in held
    assert "L7-2b1" in held
    assert "Held or free: held for someone" in held
    none = words(read(yard.get(address, {"q": "no such tag"})))
    assert "Nothing in the stock is like that." in none
    logs = words(read(yard.get(reverse("restoration:logs_pdf"), {"which": "all"})))
    assert "Logs: all, also sawn up" in logs
    assert "L7" in logs


def test_the_pages_of_the_stock_lead_to_their_papers_as_narrowed(yard, fitted, plan, listed):
    boards = yard.get("/timber/boards/", {"held": "held"}).content.decode()
    assert f'{reverse("restoration:boards_pdf")}?held=held"' in boards
    assert reverse("restoration:saw_sheet_pdf", args=[plan.pk]) in yard.get(
        reverse("timber_stock:saw_sheet", args=[plan.pk])
    ).content.decode()  # fmt: skip
    assert reverse("restoration:cutting_list_pdf", args=[listed.pk]) in yard.get(
        listed.get_absolute_url()
    ).content.decode()  # fmt: skip


def test_lengths_on_every_paper_are_in_the_readers_units(yard, survey, fitted, people):
    User.objects.filter(pk=people["yard"].pk).update(units="metric")
    said = words(read(yard.get(reverse("restoration:certificate_pdf", args=[fitted.pk]))))
    assert "64 × 127 mm" in said
    assert " in long" not in said


def test_names_in_other_scripts_print_and_what_no_font_has_is_named(survey):
    paper = Paper("Estimate", "Ἀλκυών, Чайка and Å", "Yard", (("a", "b"),) * 3, "x",
                  (Heading("Σχέδιο", "h"), ))  # fmt: skip
    said = words(PdfReader(io.BytesIO(draw_paper(paper))))
    assert "Ἀλκυών, Чайка and Å" in said
    assert "no font here covers" not in said
    odd = replace(paper, of="帆船")
    assert "Letters that no font here covers: U+5E06" in words(
        PdfReader(io.BytesIO(draw_paper(odd)))
    )


def test_every_paper_there_is_to_print_is_on_one_page_for_the_trade_alone(
    client, people, survey, fitted, plan, listed
):
    client.force_login(people["surveyor"])
    page = client.get(reverse("restoration:papers")).content.decode()
    for kind, address in every_paper(survey, fitted, listed, plan).items():
        if kind not in ("Certificate of origin", "Change report"):  # one survey; on each member
            assert address.replace("short-report/pdf", "short-report").replace(
                "estimate/pdf", "estimate") in page, kind  # fmt: skip
    client.force_login(people["client"])
    assert client.get(reverse("restoration:papers")).status_code == 403


@pytest.mark.parametrize("lines", [27, 28, 31, 36, 37])
def test_a_place_to_sign_has_the_cautions_and_the_code_before_it_on_its_page(lines):
    paper = Paper(
        "Paper", "one to sign", "Sallow Creek Yard", (("a", "b"), ("c", "d"), ("e", "f")), "sign",
        (
            *(Words(f"Line {n} of what is signed.") for n in range(lines)),
            Scan("https://register.example/t/TEN-F12/", "Follow the thread:"),
            Caution("What stands here is not a test of strength."),
            Signatures(("For the yard",)),
        ),
    )  # fmt: skip
    last = PdfReader(io.BytesIO(draw_paper(paper))).pages[-1].extract_text()
    for part in ("Follow the thread:", "not a test of strength", "For the yard"):
        assert part in last


def test_a_wide_cell_breaks_inside_its_table():
    from restoration.reports.paper import Head, Line

    table = Table((Head("One", 1), Head("Two", 1)), (Line(("x" * 400, "L7-2b1")),))
    figure = Figure('<svg viewBox="0 0 10 5"><rect width="9" height="4" fill="#123456"/></svg>', "")
    paper = Paper("List", "a cell wider than the page", "Yard", (("a", "b"),) * 3, "x",
                  (table, figure))  # fmt: skip
    assert "L7-2b1" in words(PdfReader(io.BytesIO(draw_paper(paper))))
    pages: list[int] = []
    made(drawn(paper.blocks, 400), sheet_words(paper), told=pages.append)
    assert max(pages) == 1
