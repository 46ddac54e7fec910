"""A pattern from a photograph with four clicks and a trace, its outline against the truth in mm."""

import json
import math

import pytest

from restoration.models import Member, Pattern, PatternPhotograph
from tests.restoration import photographed_floor as floor

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def member(page, client, live_server, people, vessel, woods):
    """F7, with the yard signed in at `page`."""
    client.force_login(people["yard"])
    session = client.cookies["sessionid"].value
    page.context.add_cookies([{"name": "sessionid", "value": session, "url": live_server.url}])
    return Member.objects.create(
        vessel=vessel, kind="floor_timber", mark="F7", wood=woods["oak_white"], sided_mm=76
    )


class Picture:
    """Clicks on what lies over the picture, at places of the picture itself."""

    def __init__(self, page):
        self.page = page
        self.over = page.locator(".photo .over")
        self.over.wait_for()
        page.wait_for_load_state("networkidle")
        self.wide = int(page.locator("[data-photo]").get_attribute("data-wide"))

    def at(self, x, y):
        self.over.evaluate(
            """(over, [x, y, wide]) => {
                const scroll = over.closest('.photo-scroll');
                const unit = over.getBoundingClientRect().width / wide;
                scroll.scrollLeft = x * unit - scroll.clientWidth / 2;
                scroll.scrollTop = y * unit - scroll.clientHeight / 2;
            }""",
            [x, y, self.wide],
        )
        box = self.over.bounding_box()
        unit = box["width"] / self.wide
        return box["x"] + x * unit, box["y"] + y * unit

    def click(self, x, y):
        where = self.at(x, y)
        self.page.mouse.move(*where)
        self.page.mouse.down()
        self.page.mouse.up()

    def drag(self, start, end):
        self.page.mouse.move(*self.at(*start))
        self.page.mouse.down()
        for share in (0.5, 1.0):
            x, y = (s + share * (e - s) for s, e in zip(start, end, strict=True))
            box = self.over.bounding_box()
            unit = box["width"] / self.wide
            self.page.mouse.move(box["x"] + x * unit, box["y"] + y * unit)
        self.page.mouse.up()

    def larger(self, times):
        for _ in range(times):
            self.page.get_by_role("button", name="Larger").click()


class Trace(Picture):
    """The same in millimetres of the board, by what the page says of its sheet."""

    def __init__(self, page):
        super().__init__(page)
        self.sheet = json.loads(page.locator("[data-photo]").get_attribute("data-sheet"))

    def px(self, x_mm, y_mm):
        sheet = self.sheet
        return (x_mm - sheet["left"]) / sheet["perPx"], (sheet["top"] - y_mm) / sheet["perPx"]

    def tap(self, x_mm, y_mm):
        self.click(*self.px(x_mm, y_mm))

    def tool(self, name):
        self.page.get_by_role("radio", name=name, exact=True).check()


def sent_and_marked(page, member):
    page.goto(f"/members/{member.pk}/pattern-photographs/new/")
    file = {"name": "board.jpg", "mimeType": "image/jpeg", "buffer": floor.jpeg()}
    page.set_input_files("[name=photograph]", file)
    page.get_by_role("button", name="Keep it, and set the marks").click()
    picture = Picture(page)
    picture.larger(3)
    for x, y in floor.taps():
        picture.click(x, y)
    for label, mm in (("Lower side", 1000), ("Right side", 420), ("Upper side", 1000),
                      ("Left side", 420), ("Diagonal, lower left", 1084.6),
                      ("Diagonal, lower right", 1084.6)):  # fmt: skip
        page.get_by_label(label).fill(f"{mm} mm")
    page.get_by_role("button", name="Set the marks").click()
    page.get_by_role("link", name="Trace the outline").first.click()
    page.wait_for_url("**/trace/")
    return Trace(page)


def test_a_pattern_comes_from_a_photograph_with_four_clicks_and_a_trace(page, member):
    trace = sent_and_marked(page, member)
    kept = PatternPhotograph.objects.get()
    assert [row[:2] for row in kept.marks] == [pytest.approx(tap, abs=1.2) for tap in floor.taps()]
    trace.larger(3)
    # Where the corners are seen in the true picture: through the camera that took it.
    for corner in seen(kept, floor.FLOOR):
        trace.tap(*corner)
    page.get_by_role("button", name="Close the outline").click()
    trace.tool("Bolt hole")
    x, y, through = floor.HOLE
    trace.tap(x, y)
    trace.tap(x + through / 2, y)
    page.get_by_label("Name of the pattern").fill("F7 forward face")
    page.get_by_role("button", name="Keep the pattern").click()
    page.wait_for_url("**/patterns/*/")
    shape = Pattern.objects.get().shape()
    off = [math.dist(a, b) for a, b in zip(shape.outline_mm, floor.FLOOR, strict=True)]
    assert max(off) < 2.0, off
    (hole,) = shape.holes
    assert hole.diameter_mm == pytest.approx(through, abs=2)
    assert page.mistakes == []


def seen(photograph, points):
    """Where these places of the board come to lie in the true picture, mm: not quite themselves."""
    from restoration.calc.rectify import to_mm

    plane = photograph.settled().fit.plane
    return [tuple(map(float, p)) for p in to_mm(plane, floor.CAMERA.sees(points))]


def test_a_trace_snaps_undoes_moves_and_is_not_lost_when_refused(page, member):
    trace = sent_and_marked(page, member)
    trace.larger(3)
    outline = page.locator("[name=outline]")

    def corners():
        return [
            tuple(map(float, row.split(";"))) for row in outline.input_value().split("\n") if row
        ]

    trace.tap(300, 60)
    trace.tap(700, 70)  # nearly level: laid level
    assert corners()[1][1] == pytest.approx(corners()[0][1], abs=0.1)
    trace.tap(1002, 417)  # hard by the third mark: laid on it
    assert corners()[2] == pytest.approx((1000, 420), abs=0.1)
    page.get_by_role("button", name="Undo").click()
    assert len(corners()) == 2
    page.get_by_role("button", name="Redo").click()
    assert len(corners()) == 3
    trace.tap(310, 300)
    page.get_by_role("button", name="Close the outline").click()
    trace.tool("Move")
    trace.drag(trace.px(*corners()[3]), trace.px(470, -30))  # across the lower side
    assert corners()[3] == pytest.approx((470, -30), abs=8)
    drawn = outline.input_value()
    page.get_by_role("button", name="Keep the pattern").click()
    refused = page.get_by_role("alert").first
    refused.wait_for()
    page.wait_for_load_state()  # loaded: its script has drawn the points again
    assert "crosses itself" in refused.inner_text()
    assert outline.input_value() == drawn
    assert page.locator(".over .point").count() == 4
    assert not Pattern.objects.exists()


def test_a_kept_drawing_is_begun_anew_for_another_outline_and_that_can_be_undone(page, member):
    trace = sent_and_marked(page, member)
    outline = page.locator("[name=outline]")
    anew = page.get_by_role("button", name="Begin anew")
    assert anew.is_disabled()
    for corner in ((200, 80), (600, 80), (420, 300)):
        trace.tap(*corner)
    page.get_by_role("button", name="Keep the drawing for later").click()
    page.get_by_text("The drawing is kept as far as it has come.").wait_for()
    page.wait_for_load_state()
    drawn = outline.input_value()
    assert len(drawn.split("\n")) == 3
    anew.click()
    assert outline.input_value() == ""
    trace.tap(500, 200)
    assert len(outline.input_value().split("\n")) == 1
    for _ in range(2):
        page.get_by_role("button", name="Undo").click()
    assert outline.input_value() == drawn


def test_a_trace_is_drawn_with_the_keys_alone(page, member):
    trace = sent_and_marked(page, member)
    page.locator(".photo-scroll").focus()
    for keys in (
        ["Enter"],
        ["Shift+ArrowRight"] * 3 + ["Enter"],
        ["Shift+ArrowUp"] * 2 + ["Enter"],
    ):
        for key in keys:
            page.keyboard.press(key)
    assert page.locator(".over .point").count() == 3
    page.keyboard.press("Backspace")
    assert page.locator(".over .point").count() == 2
    rows = page.locator("[name=outline]").input_value().split("\n")
    (x0, y0), (x1, y1) = (tuple(map(float, row.split(";"))) for row in rows)
    assert x1 > x0 + 20
    assert y1 == pytest.approx(y0, abs=0.1)
    assert trace.page.mistakes == []


def test_lines_bevels_and_a_strong_edge_are_traced(page, member):
    trace = sent_and_marked(page, member)
    trace.larger(3)
    page.get_by_label("strong edges").check()
    on_edge, beside = seen(PatternPhotograph.objects.get(), [(300, 75.3), (300, 72.8)])
    trace.tap(*beside)
    (tapped,) = page.locator("[name=outline]").input_value().split("\n")
    assert math.dist(map(float, tapped.split(";")), on_edge) < 1.8
    page.get_by_label("strong edges").uncheck()
    trace.tool("Line")
    page.locator("[data-kind]").select_option("bearding")
    for at in ((200, 150), (400, 170), (600, 140)):
        trace.tap(*at)
    page.get_by_role("button", name="End the line").click()
    trace.tap(210, 190)
    trace.tap(330, 170)
    trace.tool("Bevel")
    page.get_by_label("Degrees", exact=True).fill("-4.5")
    trace.tap(480, 300)
    lines = page.locator("[name=lines]").input_value().split("\n\n")
    assert [len(line.split("\n")) for line in lines] == [3, 2]
    assert all(row.startswith("bearding line;") for row in lines[0].split("\n"))
    (bevel,) = page.locator("[name=bevels]").input_value().split("\n")
    assert [float(n) for n in bevel.split(";")] == pytest.approx([480, -4.5], abs=1.5)
    assert page.mistakes == []
