"""The administration pages, which use Django's own filters beside ours."""

import pytest


@pytest.mark.parametrize("model", ["client", "user"])
def test_the_administration_lists_and_counts_what_is_there(client, people, model):
    people["yard"].is_staff = people["yard"].is_superuser = True
    people["yard"].save()
    client.force_login(people["yard"])
    page = client.get(f"/admin/restoration/{model}/")
    assert page.status_code == 200
    assert ("Ottoline Verhaag" if model == "client" else "prober") in page.content.decode()
