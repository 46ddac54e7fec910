"""A log measured in the yard with a phone: the tape, and the heart tapped on its picture."""

import pytest
from PIL import Image, ImageDraw

from timber_stock.models import Log

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def log(woods):
    return Log.objects.create(
        tag="L31", species=woods["oak_white"], length_mm=3900, butt_diameter_mm=640,
        top_diameter_mm=520,
    )  # fmt: skip


@pytest.fixture
def butt(tmp_path):
    """The butt, 300 to 900 across and 200 to 1000 down a picture of 1200 by 1200."""
    image = Image.new("RGB", (1200, 1200), "#777")
    ImageDraw.Draw(image).ellipse((300, 200, 900, 1000), fill="#caa472")
    image.save(tmp_path / "butt.jpg")
    return tmp_path / "butt.jpg"


def tap(page, x, y):
    picture = page.locator(".tap-picture")
    box = picture.bounding_box()
    picture.click(position={"x": x * box["width"], "y": y * box["height"]})


def test_a_log_is_measured_and_its_heart_is_tapped_on_a_photograph(signed_in, log, butt):
    page = signed_in
    page.goto(f"{log.get_absolute_url()}measure/")
    page.fill("[name=butt_diameter_mm]", "24")
    page.fill("[name=butt_diameter_2_mm]", "30")
    page.click("text=Keep >> nth=0")
    page.wait_for_url("**/sheet/")
    page.click("text=Photograph the butt")
    page.set_input_files("[name=photograph]", butt)
    page.click("text=Keep the photograph")
    page.wait_for_url("**/log-photographs/*/")  # loaded: the picture is there and hears the taps
    # The heart half way from the middle to the bark at 3 o'clock, then 12, 3, 6 and 9.
    for x, y in ((0.625, 0.5), (0.5, 1 / 6), (0.75, 0.5), (0.5, 5 / 6), (0.25, 0.5)):
        tap(page, x, y)
    page.click("text=Reckon the heart from the taps")
    page.wait_for_selector("text=Proposed by the taps")
    assert page.input_value("[name=clock]") == "3 o'clock"
    page.click("text=Keep as the heart at the butt")
    page.wait_for_selector("text=The heart at the butt is kept")
    log.refresh_from_db()
    # Half of half of 24 in; a finger is good for a twentieth of the log.
    assert log.butt_heart_offset_mm == pytest.approx(6 * 25.4, abs=15)
    assert log.across("butt") == pytest.approx((609.6, 762))
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert page.mistakes == []
