"""The stations that the demo's words name are those of the members they are said of."""

import math
import re

import pytest

from restoration.models import Allotment, Pattern

pytestmark = pytest.mark.django_db


def test_a_demo_pattern_named_by_its_station_is_of_the_member_that_stands_there(demo_yard):
    named = {
        pattern.member.mark: (int(found[1]), pattern.member.station_from)
        for pattern in Pattern.objects.select_related("member")
        if (found := re.search(r"at station (\d+)", pattern.name))
    }
    assert {"F12", "F14"} <= named.keys()
    assert all(said == stands for said, stands in named.values()), named


def test_a_demo_pattern_goes_onto_the_board_that_its_replacement_is_cut_from(demo_yard):
    broad, boards = {}, {}
    for length in Allotment.objects.standing().select_related("board", "spec__finding__member"):
        member = length.spec.finding.member
        boards[member.mark] = min(length.board.width_mm, boards.get(member.mark, math.inf))
        for pattern in member.patterns.standing():
            across = [y for _, y in pattern.data["outline_mm"]]
            broad[member.mark] = max(across) - min(across)
    assert {"F12", "F14"} <= broad.keys()
    tight = {mark: (mm, boards[mark]) for mark, mm in broad.items() if mm > boards[mark]}
    assert not tight
