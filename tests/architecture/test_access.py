"""Every address x every role, from the one table in `restoration/access/table.py`."""

import pytest
from django.urls import URLPattern, get_resolver

from restoration import access

ROLES = ("nobody", "yard", "surveyor", "client")


def named_patterns():
    """Every address of ours, by its full name; the admin has its own sign-in and stays out."""
    found = {}

    def walk(patterns, namespace):
        for pattern in patterns:
            if isinstance(pattern, URLPattern):
                found[f"{namespace}{pattern.name}"] = pattern
            elif pattern.namespace != "admin":
                inner = f"{pattern.namespace}:" if pattern.namespace else ""
                walk(pattern.url_patterns, namespace + inner)

    walk(get_resolver().url_patterns, "")
    return found


def address(name):
    """An address of that name, with things that do not exist: access is decided before they are."""
    from django.urls import reverse

    kwargs = {
        key: "full" if key == "size" else "L07" if key == "tag" else 999_999
        for key in named_patterns()[name].pattern.converters
    }
    return reverse(name, kwargs=kwargs)


def test_every_address_stands_in_the_table_and_every_row_has_an_address():
    names = set(named_patterns())
    assert names - access.PUBLIC == set(access.ACCESS)


@pytest.mark.django_db
@pytest.mark.parametrize("role", ROLES)
@pytest.mark.parametrize("name", sorted(access.ACCESS))
def test_an_address_opens_for_whom_the_table_says(name, role, client, people):
    if role != "nobody":
        client.force_login(people[role])
    response = client.get(address(name))
    if role == "nobody":
        assert response.status_code == 302
        assert response["Location"].startswith("/sign-in/")
    elif role in access.ACCESS[name]:
        assert response.status_code in (200, 302, 404, 405), response.status_code
    else:
        assert response.status_code == 403


@pytest.mark.django_db
def test_a_client_sees_their_own_vessel_and_no_other(client, people, vessel):
    from restoration.models import Client, Vessel

    stranger = Client.objects.create(name="Rafe Undershaw")
    other = Vessel.objects.create(code="ZZT", name="Quiet Ferret", client=stranger)
    client.force_login(people["client"])
    assert client.get(vessel.get_absolute_url()).status_code == 200
    assert client.get(other.get_absolute_url()).status_code == 404
    listed = client.get("/vessels/").content.decode()
    assert vessel.name in listed
    assert other.name not in listed


@pytest.mark.django_db
def test_an_address_missing_from_the_table_opens_for_nobody(people):
    from django.core.exceptions import PermissionDenied

    for role in ("yard", "surveyor", "client"):
        with pytest.raises(PermissionDenied):
            access.check(people[role], "restoration:forgotten", {})
