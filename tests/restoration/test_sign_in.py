"""Signing in: guessing is made slow, and nobody is shut out for good."""

from datetime import timedelta

import pytest
from django.utils import timezone

from restoration.actions import sign_in
from restoration.models import SignInFailure

PAGE, ADMIN = "/sign-in/", "/admin/login/"


def try_in(client, name, password, page=PAGE, **where):
    return client.post(page, {"username": name, "password": password, "next": "/"}, **where)


def fail(client, times, name="wright", **where):
    for _ in range(times):
        try_in(client, name, "guess", **where)


def waits(answer):
    return sign_in.WAIT in answer.content.decode()


def test_the_right_password_after_too_many_wrong_ones_has_to_wait(client, people):
    fail(client, sign_in.MOST_HERE)
    assert waits(try_in(client, "wright", "oak-and-larch"))
    assert "_auth_user_id" not in client.session


def test_one_try_fewer_and_the_right_password_opens(client, people):
    fail(client, sign_in.MOST_HERE - 1)
    assert try_in(client, "wright", "oak-and-larch").status_code == 302


def test_capitals_in_a_name_do_not_begin_the_count_anew(client, people):
    fail(client, 5)
    fail(client, sign_in.MOST_HERE - 5, name="Wright")
    assert waits(try_in(client, "wright", "oak-and-larch"))


def test_the_wait_is_over_after_a_quarter_of_an_hour(client, people):
    fail(client, sign_in.MOST_HERE)
    SignInFailure.objects.update(at=timezone.now() - sign_in.COUNTS_FOR - timedelta(seconds=1))
    assert try_in(client, "wright", "oak-and-larch").status_code == 302


def test_a_try_that_had_to_wait_makes_the_wait_no_longer(client, people):
    fail(client, sign_in.MOST_HERE + 4)
    assert SignInFailure.objects.count() == sign_in.MOST_HERE


def test_who_signed_in_begins_anew(client, people):
    fail(client, sign_in.MOST_HERE - 1)
    try_in(client, "wright", "oak-and-larch")
    assert not SignInFailure.objects.exists()


def test_a_stranger_elsewhere_does_not_shut_the_owner_of_a_name_out(client, people):
    fail(client, sign_in.MOST_HERE, REMOTE_ADDR="192.0.2.7")
    assert try_in(client, "wright", "oak-and-larch").status_code == 302


def test_one_name_guessed_at_from_many_places_waits_everywhere(client, people):
    for place in range(sign_in.MOST_OF_A_NAME):
        fail(client, 1, REMOTE_ADDR=f"192.0.2.{place}")
    assert waits(try_in(client, "wright", "oak-and-larch", REMOTE_ADDR="198.51.100.1"))


def test_many_names_tried_from_one_place_have_to_wait(client, people):
    for number in range(sign_in.MOST_FROM_A_PLACE):
        fail(client, 1, name=f"nobody{number}")
    assert waits(try_in(client, "wright", "oak-and-larch"))


def test_the_administration_counts_with_the_register(client, people):
    fail(client, sign_in.MOST_HERE - 1)
    try_in(client, "wright", "guess", page=ADMIN)
    assert waits(try_in(client, "wright", "oak-and-larch", page=ADMIN))


@pytest.mark.parametrize(
    ("behind", "opens"), [(("HTTP_X_FORWARDED_PROTO", "https"), True), (None, False)]
)
def test_behind_a_proxy_its_own_word_says_where_a_try_comes_from(
    client, people, settings, behind, opens
):
    """What a browser sent along stands before it and counts for nothing."""
    settings.SECURE_PROXY_SSL_HEADER = behind
    for number in range(sign_in.MOST_HERE):
        fail(client, 1, HTTP_X_FORWARDED_FOR=f"10.0.0.{number}, 192.0.2.7")
    here = try_in(client, "wright", "oak-and-larch", HTTP_X_FORWARDED_FOR="198.51.100.1")
    assert (here.status_code == 302) is opens
    if opens:
        client.logout()
        there = try_in(client, "wright", "oak-and-larch", HTTP_X_FORWARDED_FOR="1.1.1.1, 192.0.2.7")
        assert waits(there)


def test_neither_name_nor_place_of_a_failure_is_kept_readable(client, people):
    try_in(client, "my-secret-password", "wright", REMOTE_ADDR="192.0.2.7")
    kept = SignInFailure.objects.values_list("name_key", "place_key").get()
    assert all(len(key) == 64 and "secret" not in key and "192" not in key for key in kept)


def test_failures_that_no_longer_count_are_thrown_away(client, people):
    fail(client, 3)
    SignInFailure.objects.update(at=timezone.now() - timedelta(hours=1))
    fail(client, 1)
    assert SignInFailure.objects.count() == 1
