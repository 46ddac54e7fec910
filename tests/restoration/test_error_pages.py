"""What is said when a page is not there, not open, out of date or broken: ours, and what to do."""

import re
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.template.loader import render_to_string
from django.test import Client

pytestmark = pytest.mark.django_db
NOWHERE = "/vessels/987654/"


@pytest.mark.parametrize("who", ["yard", "surveyor"])
def test_a_page_that_is_not_there_leads_on_to_marks_and_tags(client, people, who):
    client.force_login(people[who])
    answer = client.get(NOWHERE)
    assert answer.status_code == 404
    assert 'href="/t/"' in answer.content.decode()


def test_a_client_is_led_only_to_what_is_open_to_them(client, people):
    client.force_login(people["client"])
    shown = client.get("/no/such/address/").content.decode()
    assert "There is nothing at this address" in shown
    assert 'href="/reports/"' in shown
    assert 'href="/t/"' not in shown


def test_whoever_is_not_signed_in_is_led_to_the_sign_in(client):
    answer = client.get("/no/such/address/")
    assert answer.status_code == 404
    assert 'href="/sign-in/"' in answer.content.decode()
    assert 'href="/reports/"' not in answer.content.decode()


def test_a_page_that_is_not_open_says_as_whom_one_is_signed_in(client, people):
    client.force_login(people["client"])
    answer = client.get("/timber/")
    assert answer.status_code == 403
    assert f"signed in as <b>{people['client'].full_name()}</b>" in answer.content.decode()


def test_a_form_from_a_page_that_is_out_of_date_is_refused_with_what_to_do():
    answer = Client(enforce_csrf_checks=True).post("/sign-in/", {"username": "wright"})
    assert answer.status_code == 403
    shown = answer.content.decode()
    assert "<h1>Not kept</h1>" in shown
    assert "load the page anew, and send it again" in shown
    assert 'href="/sign-in/"' in shown


def test_what_breaks_is_owned_up_to_in_plain_words(client, people, monkeypatch):
    from restoration.views import vessels

    def broken(*args, **kwargs):
        raise RuntimeError("a plank of the program is rotten")

    monkeypatch.setattr(vessels, "render", broken)
    client.force_login(people["yard"])
    client.raise_request_exception = False
    answer = client.get("/vessels/")
    assert answer.status_code == 500
    shown = answer.content.decode()
    assert "what you sent just now was not kept" in shown
    assert "rotten" not in shown


def test_the_page_for_what_breaks_needs_nothing_that_could_break_it_again():
    """Its styles are files that are always served, named without asking for anything."""
    shown = render_to_string("500.html")
    assert "{%" not in Path("templates/500.html").read_text("utf-8")
    styles = re.findall(r'href="/static/([^"]+)"', shown)
    assert styles
    assert all(finders.find(style) for style in styles)
