"""A mill, one lopsided log and one bought board, and the shortest way to say what was sawn."""

from datetime import date

import pytest

from timber_stock.actions import Piece, saw_log
from timber_stock.models import Board, Log, Supplier


@pytest.fixture
def mill(db):
    return Supplier.objects.create(name="Aldermoor Sawing", place="Aldermoor")


@pytest.fixture
def log(woods, mill):
    """About 0.74 m³: 530 mm at the butt, 410 at the top, 4.2 m long."""
    return Log.objects.create(
        tag="L07", species=woods["oak_white"], supplier=mill, felled_place="Hagg Wood",
        felled_on=date(2025, 12, 9), length_mm=4200, butt_diameter_mm=530, top_diameter_mm=410,
        butt_heart_offset_mm=38, butt_heart_clock=4.5, top_heart_offset_mm=21, top_heart_clock=5,
        sapwood_mm=25, price="640.00", place="north bank",
    )  # fmt: skip


@pytest.fixture
def board(woods, mill):
    return Board.objects.create(
        tag="X1-3", species=woods["larch_european"], supplier=mill, thickness_mm=63,
        width_mm=254, length_mm=3100, state="in_stick",
    )  # fmt: skip


@pytest.fixture
def flitch(log):
    """L07-1, out of L07: 76 x 360 x 4100 mm."""
    sawing = saw_log(
        log=log, pieces=[Piece("L07-1", 76, 360, 4100)], sawn_on=date(2026, 2, 3),
        sawn_by="Bram Oddy", kerf_mm=6,
    )  # fmt: skip
    return sawing.pieces.get()


@pytest.fixture
def signed_in(client, people):
    """`signed_in()` is the yard's client; `signed_in("surveyor")` the surveyor's."""

    def sign_in(role="yard"):
        client.force_login(people[role])
        return client

    return sign_in
