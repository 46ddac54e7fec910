"""The three jobs, from the sign-in to the paper, as a small yard would do them."""

import io
import re

import pytest
from pypdf import PdfReader

from restoration.models import Report

LAUNCH = "Marrow Kate"
REFUSED = "the server responded with a status of 422"


@pytest.fixture
def yard(page, demo_yard):
    return page


def sign_in(page, name):
    page.goto("/sign-in/")
    page.get_by_label("Username").fill(name)
    page.get_by_label("Password").fill("demo-only")
    page.get_by_role("main").get_by_role("button", name="Sign in").click()
    page.wait_for_url(re.compile(r"://[^/]+/$"))


def sign_out(page):
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/sign-in/**")


def grade(page, group, value):
    page.locator("fieldset.grades").nth(group).locator(f"label:has([value='{value}'])").click()


def survey_a_hull(page):
    """The surveyor finds a plank gone, says why, and is one tap from the next member."""
    sign_in(page, "surveyor")
    page.get_by_role("link", name="Survey a hull").click()
    page.get_by_role("row").filter(has_text=LAUNCH).get_by_role("link").click()
    page.get_by_text("Next not yet examined").click()
    page.wait_for_url("**/members/*/")
    mark = page.locator("h1 .mark-no").first.inner_text().split("-")[-1]
    for group, value in enumerate(("3", "2", "3")):
        grade(page, group, value)
    page.get_by_label("What was seen").fill("Pulpy round the rivets at both ends")
    page.locator("#id_causes-0-cause").select_option("ALKALI_CATHODE")
    page.locator("#id_causes-0-certainty").select_option("probable")
    page.get_by_role("button", name="Keep this finding").click()
    page.locator(".kept").wait_for()
    finding = page.get_by_role("link", name="See the finding").get_attribute("href")
    page.locator(".kept a.act.main").click()
    page.get_by_role("button", name="Keep this finding").wait_for()
    sign_out(page)
    return mark, finding


def replace_it(page, finding):
    """The yard specifies the replacement and takes a length of a board for it, to the fitting."""
    sign_in(page, "yard")
    page.goto(finding)
    page.get_by_role("link", name="Specify a replacement").click()
    page.get_by_label("Finished length").fill("2.2 m")
    page.get_by_role("button", name="Keep").click()
    page.get_by_role("link", name=re.compile("Allot")).first.click()
    page.get_by_role("link", name="Allot from L08-1").click()
    page.get_by_role("button", name="Allot this length").click()
    for step in ("Record the cutting", "Record the fitting"):
        page.get_by_role("link", name=step).click()
        page.get_by_label("By whom").fill("Ansgar Wedderlie")
        page.get_by_role("button", name="Record", exact=True).click()
    page.get_by_text("Stage: fitted").wait_for()


def trace_a_timber(page, mark):
    page.get_by_role("link", name="Hull & Log").click()
    page.get_by_role("link", name="Trace a timber").click()
    page.get_by_role("main").get_by_role("searchbox").or_(
        page.get_by_role("main").get_by_role("textbox")
    ).first.fill(f"MKT-{mark}")
    page.get_by_role("main").get_by_role("button").first.click()
    page.get_by_role("heading", name=re.compile(mark)).first.wait_for()
    page.wait_for_load_state()
    told = page.get_by_role("main").inner_text()
    assert "L08-1" in told
    assert "Orrin Head plantation" in told
    assert page.locator("main svg").count() >= 1


def make_a_report(page):
    page.get_by_role("link", name="Hull & Log").click()
    page.get_by_role("link", name="Make a report").click()
    page.get_by_role("main").get_by_role("link", name=re.compile(LAUNCH)).first.click()
    page.get_by_role("button", name="Issue report 1").click()
    page.get_by_role("link", name="Read the report (PDF)").wait_for()
    path = page.get_by_role("link", name="Read the report (PDF)").get_attribute("href")
    answer = page.request.get(path)
    assert answer.status == 200
    return answer.body()


def test_survey_a_hull_trace_its_timber_and_hand_over_the_report(yard):
    page = yard
    mark, finding = survey_a_hull(page)
    replace_it(page, finding)
    trace_a_timber(page, mark)
    paper = make_a_report(page)
    text = "\n".join(sheet.extract_text() for sheet in PdfReader(io.BytesIO(paper)).pages)
    thread = text[text.rindex(f"MKT-{mark}") :] if f"MKT-{mark}" in text else text
    assert "L08" in thread
    assert "Pulpy round the rivets" in text
    assert Report.objects.get(vessel__name=LAUNCH).number == 1
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert [said for said in page.mistakes if REFUSED not in said] == []


def test_the_client_reads_their_own_report_and_nothing_else(yard):
    page = yard
    sign_in(page, "yard")
    page.goto("/reports/")
    page.get_by_role("main").get_by_role(
        "link", name=re.compile("Wintle Hare.*surveyed")
    ).first.click()
    page.get_by_role("button", name="Issue report 3").click()
    page.get_by_role("link", name="Read the report (PDF)").wait_for()
    address = page.url
    sign_out(page)
    sign_in(page, "client")
    main = page.get_by_role("main")
    assert "Wintle Hare" in main.inner_text()
    assert LAUNCH not in main.inner_text()
    page.goto(address)
    path = page.get_by_role("link", name="Read the report (PDF)").get_attribute("href")
    paper = PdfReader(io.BytesIO(page.request.get(path).body()))
    text = "\n".join(sheet.extract_text() for sheet in paper.pages)
    # The index of members at the end names every mark once more, and no log.
    threads = text[text.rindex("Timber, from member to log") : text.rindex("Index of members")]
    under_the_floor = threads[threads.index("F12 floor timber") :]
    assert "L07" in under_the_floor
    assert page.request.get("/timber/logs/").status == 403
    assert page.request.get("/vessels/2/").status == 404
