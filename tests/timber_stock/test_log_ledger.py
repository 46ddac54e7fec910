"""The yield of a log: it adds up, as sawn beside as planned, and its price lands on its pieces."""

import re
from datetime import date
from html import unescape

import pytest
from django.urls import reverse

from timber_stock.actions import Piece, saw_log, tick_cut
from timber_stock.models import CuttingItem, CuttingList, SawingPlan, request_for
from timber_stock.sawing.plan import make_plan
from timber_stock.sawing.read_request import parse_request
from timber_stock.sawing.request import Saw
from timber_stock.sawing.search import Allowance


def words(response):
    return unescape(" ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split()))


@pytest.fixture
def ledger(signed_in, log):
    url = reverse("timber_stock:log_ledger", args=[log.pk])
    return lambda: signed_in("surveyor").get(url)


@pytest.fixture
def sawn_up(log):
    pieces = [Piece("L07-1", 76, 360, 4100), Piece("L07-2", 63, 300, 4100)]
    saw_log(
        log=log, pieces=pieces, sawn_on=date(2026, 2, 3), sawn_by="Bram Oddy", kerf_mm=6,
        finishes_log=True,
    )  # fmt: skip


def parts_mm3(response, column):
    row = {"planned": "planned_mm3", "sawn": "sawn_mm3"}[column]
    return {row_.name: getattr(row_, row) for row_ in response.context["rows"]}


def test_what_was_sawn_adds_up_to_the_log(ledger, log, sawn_up):
    log.refresh_from_db()
    log.butt_trim_mm = 100
    log.save()
    parts = parts_mm3(ledger(), "sawn")
    assert sum(parts.values()) == pytest.approx(log.solid_mm3)
    assert parts["Timbers"] == pytest.approx((76 * 360 + 63 * 300) * 4100)
    assert parts["Trimmed ends"] == pytest.approx(100 * 0.7854 * 528.6**2, rel=1e-3)


def test_the_price_lands_on_the_pieces_by_volume_to_the_last_cent(ledger, log, sawn_up):
    costed = ledger().context["costed"]
    assert sum(one.coins for one in costed) == 64000
    first, second = (one.coins for one in costed)
    assert first / second == pytest.approx(76 * 360 / (63 * 300), rel=1e-3)


def test_half_a_log_sawn_costs_its_pieces_what_is_gone_of_it(ledger, flitch, log):
    log.refresh_from_db()
    (one,) = ledger().context["costed"]
    assert one.coins == round(64000 * log.taken_mm3 / log.solid_mm3)
    assert parts_mm3(ledger(), "sawn")["Not sawn yet"] == pytest.approx(log.unsawn_mm3())


def test_the_plan_stands_beside_what_was_sawn_and_adds_up_too(ledger, log, sawn_up):
    listed = CuttingList.objects.create(name="Floors")
    item = CuttingItem.objects.create(
        cutting_list=listed, label="F1", thickness_mm=70, width_mm=150, length_mm=1800,
        quantity=2, heart_clearance_mm=15, sapwood_allowed=True,
    )  # fmt: skip
    asked = request_for(log, [item], Saw(4, 8))
    plan = make_plan(parse_request(asked), Allowance(steps=40))
    SawingPlan.objects.create(
        log=log, cutting_list=listed, number=1, request=asked, plan=plan, made_by="Bram Oddy",
        why="For the floors.",
    )  # fmt: skip
    response = ledger()
    planned = parts_mm3(response, "planned")
    assert planned["Timbers"] == pytest.approx(2 * 70 * 150 * 1800)
    assert sum(v for v in planned.values() if v) == pytest.approx(log.solid_mm3)
    assert "version 1" in words(response)


def test_what_a_plan_put_in_for_stock_is_a_by_product_as_planned_and_as_sawn(ledger, log):
    made = CuttingList.objects.create(name="Floors and boards")
    items = [
        CuttingItem.objects.create(
            cutting_list=made, label=label, thickness_mm=thick, width_mm=150, length_mm=4200,
            quantity=1, sapwood_allowed=True,
        )
        for label, thick in (("F1", 80), ("1 × 6", 27))
    ]  # fmt: skip
    asked = request_for(log, items, Saw(4, 8))
    asked["wanted"][1]["by_product"] = True
    plan = SawingPlan.objects.create(
        log=log, cutting_list=made, number=1, request=asked, made_by="Bram Oddy", why="Floors.",
        plan=make_plan(parse_request(asked), Allowance(steps=40)),
    )  # fmt: skip
    for cut in plan.cuts():
        tick_cut(plan=plan, step=cut["step"], made_by="Bram Oddy")
    response = ledger()
    for column in ("planned", "sawn"):
        parts = parts_mm3(response, column)
        assert parts["Timbers"] == pytest.approx(80 * 150 * 4200, rel=1e-3)
        assert parts["By-products"] == pytest.approx(27 * 150 * 4200, rel=1e-3)


def test_a_log_with_neither_plan_nor_sawing_says_what_to_do_next(ledger):
    assert "This log has no plan yet and nothing was sawn from it" in words(ledger())


def test_a_log_without_a_price_says_so(ledger, log, sawn_up):
    log.refresh_from_db()
    log.price = None
    log.save()
    assert "no price yet, so its pieces have none" in words(ledger())
