"""A potential read on a hull is held against the metal's own, on the page of the member."""

import pytest

from restoration.models import Joint, Member

pytestmark = pytest.mark.django_db


@pytest.fixture
def keel(client, people, vessel):
    """Copper and iron meet in her ballast keel."""
    client.force_login(people["surveyor"])
    keel, ballast = (
        Member.objects.create(vessel=vessel, kind=kind, mark=mark, material=material)
        for kind, mark, material in (("keel", "K1", ""), ("ballast_keel", "BK1", "cast iron"))
    )
    joint = Joint.objects.create(one=keel, other=ballast)
    joint.fastenings.create(kind="bolt", metal="copper", diameter_mm=16, length_mm=400, count=5)
    return ballast


def asked(client, member, **said):
    return client.get(member.get_absolute_url(), {"reading_of": "copper", **said})


def test_a_reading_far_below_the_metal_is_more_than_it_needs_and_the_wood_is_at_risk(client, keel):
    text = asked(client, keel, reading_v="-0.9").content.decode()
    assert "more than 0.4 V below its own potential" in text
    assert "wood turns to pulp beside bright metal" in text
    assert "Sources differ" in text


def test_a_reading_at_the_metals_own_potential_protects_nothing(client, keel):
    text = asked(client, keel, reading_v="-0.1").content.decode()
    assert "nothing protects it" in text
    assert "Sources differ" not in text


def test_millivolts_are_refused_and_stay_as_typed(client, keel):
    answer = asked(client, keel, reading_v="-620")
    assert answer.status_code == 422
    assert 'value="-620"' in answer.content.decode()


def test_a_standards_band_needs_both_its_ends_and_is_judged_where_it_was_typed(client, keel):
    assert asked(client, keel, reading_v="-0.5", band_from_v="-0.6").status_code == 422
    text = asked(client, keel, reading_v="-0.5", band_from_v="-0.45", band_to_v="-0.6")
    assert "It lies inside the band you gave." in text.content.decode()


def test_where_no_metals_meet_no_reading_is_asked_for(client, people, vessel):
    client.force_login(people["surveyor"])
    floor = Member.objects.create(vessel=vessel, kind="floor_timber", mark="F3")
    text = client.get(floor.get_absolute_url()).content.decode()
    assert "A potential read with a reference cell" not in text
