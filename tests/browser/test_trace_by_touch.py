"""A pattern marked and traced on a phone by touch: one finger aims, two move the picture."""

import math

import pytest

from restoration.models import Member, Pattern, PatternPhotograph
from tests.restoration import photographed_floor as floor

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
DIAGONALS = ("Diagonal, lower left", "Diagonal, lower right")


class Fingers:
    """Fingers on the picture, at places of the picture itself, through the browser's own input."""

    def __init__(self, page):
        self.page = page
        self.input = page.context.new_cdp_session(page)
        page.locator(".photo .over").wait_for()
        page.wait_for_function("document.querySelector('.photo img').complete")
        self.down = self.put = 0
        page.evaluate(
            """() => {
                window.lifted = 0;
                const count = (event) => { window.lifted += event.pointerType === 'touch'; };
                addEventListener('pointerup', count, true);
                addEventListener('pointercancel', count, true);
            }"""
        )
        self.scroll = page.locator(".photo-scroll")
        self.scroll.evaluate("box => box.scrollIntoView({block: 'center'})")

    def touch(self, kind, *places):
        points = [{"x": x, "y": y, "id": n} for n, (x, y) in enumerate(places)]
        self.input.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
        self.put += max(0, len(places) - self.down)
        self.down = len(places)
        if not self.down:  # until the page has had every finger lifted from it
            self.page.wait_for_function("count => window.lifted >= count", arg=self.put)

    def on_screen(self, x, y):
        """Where that place of the picture is now; it is brought into view first."""
        return self.page.evaluate(
            """([x, y]) => {
                const over = document.querySelector('.over');
                const scroll = document.querySelector('.photo-scroll');
                scroll.scrollIntoView({block: 'center'});
                const unit = () => over.getBoundingClientRect().width / over.viewBox.baseVal.width;
                scroll.scrollLeft = x * unit() - scroll.clientWidth / 2;
                scroll.scrollTop = y * unit() - scroll.clientHeight / 2;
                const box = over.getBoundingClientRect();
                return [box.left + x * unit(), box.top + y * unit()];
            }""",
            [x, y],
        )  # fmt: skip

    def tap(self, x, y):
        at = self.on_screen(x, y)
        self.touch("touchStart", at)
        self.touch("touchEnd")

    def draw(self, start, end):
        """One finger put down here and lifted there, without a leap."""
        (x, y), (u, v) = start, end
        self.touch("touchStart", (x, y))
        for share in (0.25, 0.5, 0.75, 1.0):
            self.touch("touchMove", (x + share * (u - x), y + share * (v - y)))
        self.touch("touchEnd")

    def two(self, before, after):
        """Two fingers put down one after the other, drawn, and lifted."""
        self.touch("touchStart", before[0])
        self.touch("touchStart", *before)
        for share in (0.25, 0.5, 0.75, 1.0):
            self.touch("touchMove", *(
                (x + share * (u - x), y + share * (v - y))
                for (x, y), (u, v) in zip(before, after, strict=True)
            ))  # fmt: skip
        self.touch("touchEnd")

    def middle(self):
        box = self.scroll.bounding_box()
        return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

    def spread(self, by):
        """Apart round the middle of the picture, so that it grows by that."""
        x, y = self.middle()
        self.two(((x - 20, y), (x + 20, y)), ((x - 20 * by, y), (x + 20 * by, y)))

    def wide(self):
        return self.page.locator(".photo").evaluate("photo => photo.offsetWidth")

    def lies(self):
        """Which place of the picture lies at the left upper corner of its window, as shares."""
        return self.scroll.evaluate(
            "box => [box.scrollLeft / box.scrollWidth, box.scrollTop / box.scrollHeight]"
        )


@pytest.fixture
def screen(phone, people, vessel, woods, client):
    """The picture of F7, sent in and open to be marked, on a phone."""
    member = Member.objects.create(
        vessel=vessel, kind="floor_timber", mark="F7", wood=woods["oak_white"], sided_mm=76
    )
    page = phone(people["yard"], client)
    page.goto(f"/members/{member.pk}/pattern-photographs/new/")
    file = {"name": "board.jpg", "mimeType": "image/jpeg", "buffer": floor.jpeg()}
    page.set_input_files("[name=photograph]", file)
    page.get_by_role("button", name="Keep it, and set the marks").click()
    page.wait_for_url("**/pattern-photographs/*/")
    return page


def marked(page):
    fingers = Fingers(page)
    fingers.spread(4)
    for x, y in floor.taps():
        fingers.tap(x, y)
    sides = {"Lower side": 1000, "Right side": 420}
    for label, mm in (sides | dict.fromkeys(DIAGONALS, 1084.6)).items():
        page.get_by_label(label).fill(f"{mm} mm")
    page.get_by_role("button", name="Set the marks").click()
    page.get_by_role("link", name="Trace the outline").first.click()
    page.wait_for_url("**/trace/")
    return Fingers(page)


def on_sheet(page, points):
    """Places of the board, seen through the camera that took it, on the true picture."""
    from restoration.calc.rectify import to_mm

    plane = PatternPhotograph.objects.get().settled().fit.plane
    sheet = page.evaluate("JSON.parse(document.querySelector('[data-photo]').dataset.sheet)")
    return [
        ((x - sheet["left"]) / sheet["perPx"], (sheet["top"] - y) / sheet["perPx"])
        for x, y in to_mm(plane, floor.CAMERA.sees(points))
    ]


def corners(page):
    rows = page.locator("[name=outline]").input_value().split("\n")
    return [tuple(map(float, row.split(";"))) for row in rows if row]


def test_a_pattern_is_marked_and_traced_with_the_finger_alone(screen):
    fingers = marked(screen)
    taps = [row[:2] for row in PatternPhotograph.objects.get().marks]
    assert taps == [pytest.approx(tap, abs=2.0) for tap in floor.taps()]
    fingers.spread(4)
    screen.get_by_text("level, upright, 45°").click()
    for place in on_sheet(screen, floor.FLOOR):
        fingers.tap(*place)
    screen.get_by_role("button", name="Close the outline").click()
    screen.get_by_label("Name of the pattern").fill("F7 by finger")
    screen.get_by_role("button", name="Keep the pattern").click()
    screen.wait_for_url("**/patterns/*/")
    shape = Pattern.objects.get().shape()
    off = [math.dist(a, b) for a, b in zip(shape.outline_mm, floor.FLOOR, strict=True)]
    assert max(off) < 3.0, off


def test_two_fingers_move_the_picture_and_make_it_larger_and_set_no_point(screen):
    fingers = marked(screen)
    narrow = fingers.wide()
    fingers.spread(3)
    assert fingers.wide() == pytest.approx(3 * narrow, rel=0.02)
    assert screen.evaluate("visualViewport.scale") == 1
    before = fingers.lies()
    assert before[0] == pytest.approx(1 / 3, abs=0.02)  # what lay in the middle lies there still
    x, y = fingers.middle()
    fingers.two(((x - 30, y), (x + 30, y)), ((x - 90, y), (x - 30, y)))
    assert fingers.wide() == pytest.approx(3 * narrow, rel=0.02)
    assert fingers.lies()[0] == pytest.approx(before[0] + 60 / (3 * narrow), abs=0.01)
    fingers.spread(0.1)
    assert fingers.wide() == pytest.approx(narrow, rel=0.01)
    assert corners(screen) == []


def test_a_point_is_moved_by_finger_and_a_second_finger_puts_it_back(screen):
    fingers = marked(screen)
    fingers.spread(3)
    screen.get_by_text("level, upright, 45°").click()
    for place in on_sheet(screen, [(200, 80), (700, 90), (420, 300)]):
        fingers.tap(*place)
    screen.get_by_role("button", name="Close the outline").click()
    screen.get_by_text("Move", exact=True).click()
    drawn = corners(screen)
    (place,) = on_sheet(screen, [(420, 300)])
    x, y = fingers.on_screen(*place)
    fingers.draw((x + 3, y - 4), (x + 43, y - 34))
    moved = corners(screen)
    assert moved[:2] == drawn[:2]
    assert moved[2][0] > drawn[2][0] + 10
    assert moved[2][1] > drawn[2][1] + 10
    (side,) = on_sheet(screen, [(450, 85)])
    u, v = fingers.on_screen(*side)
    fingers.two(((u, v), (u + 40, v)), ((u - 60, v), (u - 20, v)))
    assert corners(screen) == moved
    screen.get_by_role("button", name="Undo").click()
    assert corners(screen) == drawn


def test_where_the_finger_aims_is_told_first_and_seen_under_a_magnifier(screen):
    fingers = marked(screen)
    fingers.spread(2)
    x, y = fingers.on_screen(*on_sheet(screen, [(500, 200)])[0])
    fingers.touch("touchStart", (x, y))
    screen.locator(".loupe").wait_for()
    says = screen.locator("[data-says]")
    along, across = (float(n.split()[0]) for n in says.inner_text().split(" mm")[0].split(","))
    assert (along, across) == pytest.approx((500, 200), abs=5)
    fingers.touch("touchEnd")
    screen.locator(".loupe").wait_for(state="hidden")
    assert len(corners(screen)) == 1
