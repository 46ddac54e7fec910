"""What was spent, entered by thumb: refused below nothing, kept, and in the sum of the vessel."""

from decimal import Decimal

import pytest

from restoration.models import Cost, Finding, Member, ReplacementSpec, Survey, Yard

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def spec(vessel, people, woods):
    Yard.objects.update_or_create(pk=1, defaults={"hourly_rate": Decimal("31.50")})
    survey = Survey.objects.create(
        vessel=vessel, surveyed_on="2026-01-12", surveyor_name="P", recorded_by=people["surveyor"]
    )
    member = Member.objects.create(vessel=vessel, kind="floor_timber", mark="F12")
    finding = Finding.objects.create(
        survey=survey, member=member, condition="3", urgency=3, measure=3,
        recorded_by=people["surveyor"],
    )  # fmt: skip
    return ReplacementSpec.objects.create(
        finding=finding, wood=woods["oak_white"], specified_by=people["yard"], sided_mm=63.5,
        moulded_mm=127, length_mm=1100, cost_estimate=Decimal("500.00"),
    )  # fmt: skip


@pytest.mark.parametrize("width", [390, 1400])
def test_a_cost_below_nothing_is_refused_and_mended_and_comes_into_the_sum(signed_in, spec, width):
    page = signed_in
    page.set_viewport_size({"width": width, "height": 900})
    page.goto(spec.get_absolute_url())
    page.get_by_role("link", name="what it took so far").click()
    page.get_by_label("Amount").evaluate("amount => amount.removeAttribute('min')")
    page.get_by_label("Amount").fill("-1")
    page.get_by_label("Note").fill("eight bolts")
    page.get_by_role("button", name="Enter it").click()
    page.get_by_text("What was spent cannot be less than nothing").wait_for()
    assert page.get_by_label("Amount").input_value() == "-1"
    assert page.get_by_label("Note").input_value() == "eight bolts"
    page.get_by_label("Amount").fill("41.30")
    page.get_by_role("button", name="Enter it").click()
    page.get_by_role("cell", name="eight bolts").wait_for()
    assert Cost.objects.get().amount == Decimal("41.30")
    page.get_by_role("link", name="Money", exact=True).click()
    page.locator("table.money").get_by_text("41.30").first.wait_for()
    page.wait_for_load_state()
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
