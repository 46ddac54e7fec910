"""A log sawn four deep and used in two vessels, for the pages that follow timber."""

from datetime import date

import pytest

FELLED, SAWN, RESAWN, ALLOTTED = (
    date(2025, 1, 17),
    date(2025, 3, 2),
    date(2025, 11, 20),
    date(2026, 2, 3),
)


@pytest.fixture
def survey(vessel, people):
    from restoration.models import Survey

    return Survey.objects.create(
        vessel=vessel, surveyed_on=SAWN, place="Sallow Creek", lying="ashore",
        surveyor_name="P. Prober", methods="spike", not_reached="none",
        recorded_by=people["surveyor"],
    )  # fmt: skip


@pytest.fixture
def make_spec(people, woods):
    """A member of a survey's vessel, found failed and specified."""
    from restoration.models import Finding, Member, ReplacementSpec

    def make(survey, mark, kind="floor_timber", **sizes):
        member = Member.objects.create(
            vessel=survey.vessel, kind=kind, mark=mark, wood=woods["oak_white"],
            sided_mm=63.5, moulded_mm=127, length_mm=1100,
        )  # fmt: skip
        finding = Finding.objects.create(
            survey=survey, member=member, recorded_by=people["surveyor"], condition="3",
            urgency=3, measure=3,
        )  # fmt: skip
        wanted = {"sided_mm": 63.5, "moulded_mm": 127, "length_mm": 1100} | sizes
        return ReplacementSpec.objects.create(
            finding=finding, wood=woods["oak_white"], specified_by=people["yard"], **wanted
        )

    return make


@pytest.fixture
def other_vessel(owner):
    from restoration.models import Vessel

    return Vessel.objects.create(code="KIT", name="Kittiwake of Sallow", client=owner)


@pytest.fixture
def deep_log(woods):
    """L7: two flitches; one resawn to two boards; one of those resawn again to two."""
    from timber_stock.actions import Piece, resaw_board, saw_log
    from timber_stock.models import Board, Log, Supplier

    mill = Supplier.objects.create(name="Aldermoor Sawing", place="Aldermoor")
    log = Log.objects.create(
        tag="L7", species=woods["oak_white"], supplier=mill, felled_place="Hangar Wood",
        felled_on=FELLED, length_mm=3700, butt_diameter_mm=560, top_diameter_mm=480,
    )  # fmt: skip
    by = {"sawn_by": "J. Sawyer", "kerf_mm": 3}
    saw_log(
        log=log, sawn_on=SAWN, **by,
        pieces=[Piece("L7-1", 80, 300, 3600), Piece("L7-2", 160, 380, 3600)],
    )  # fmt: skip
    flitch = Board.objects.get(tag="L7-2")
    halves = [Piece("L7-2a", 76, 370, 3600, heart="clear"), Piece("L7-2b", 78, 370, 3500)]
    resaw_board(board=flitch, sawn_on=SAWN, pieces=halves, **by)
    half = Board.objects.get(tag="L7-2b")
    last = [Piece("L7-2b1", 78, 180, 3500, heart="clear"), Piece("L7-2b2", 78, 170, 3400)]
    resaw_board(board=half, sawn_on=RESAWN, pieces=last, **by)
    return Log.objects.get(pk=log.pk)


@pytest.fixture
def bought_board(woods):
    from timber_stock.models import Board, Supplier

    yard = Supplier.objects.create(name="Drayhithe Timber")
    return Board.objects.create(
        tag="Q3", species=woods["oak_white"], supplier=yard, thickness_mm=70, width_mm=240,
        length_mm=2500, heart="clear",
    )  # fmt: skip


@pytest.fixture
def promise(people):
    from restoration.actions.allotments import allot_board
    from timber_stock.models import Board

    def make(spec, tag, start, end):
        board = Board.objects.get(tag=tag)
        return allot_board(
            spec=spec, board_id=board.pk, from_mm=start, to_mm=end, by=people["yard"], on=ALLOTTED
        )

    return make
