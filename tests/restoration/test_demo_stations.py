"""The stations that the demo's words name are those of the members they are said of."""

import re

import pytest

from restoration.models import Pattern

pytestmark = pytest.mark.django_db


def test_a_demo_pattern_named_by_its_station_is_of_the_member_that_stands_there(demo_yard):
    named = {
        pattern.member.mark: (int(found[1]), pattern.member.station_from)
        for pattern in Pattern.objects.select_related("member")
        if (found := re.search(r"at station (\d+)", pattern.name))
    }
    assert {"F12", "F14"} <= named.keys()
    assert all(said == stands for said, stands in named.values()), named
