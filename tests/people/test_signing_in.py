"""Signing in and out, guessing, and setting a new password."""

import re

import pytest
from django.core import mail
from django.urls import reverse

from tests.site import PASSWORD
from training.people.addresses import client_address
from training.people.models import User

pytestmark = pytest.mark.django_db

URL = "/account/sign-in/"


def try_password(client, email, password, **extra):
    return client.post(URL, {"username": email, "password": password}, **extra)


def signed_in(client):
    return "_auth_user_id" in client.session


def test_email_and_password_sign_in_whatever_the_emails_capitals(client, user):
    response = try_password(client, " Wren@EXAMPLE.com ", PASSWORD)
    assert response["Location"] == reverse("home")
    assert signed_in(client)


def test_a_wrong_password_keeps_the_email_and_says_so(client, user):
    page = try_password(client, user.email, "wrong")
    assert not signed_in(client)
    assert page.context["form"].non_field_errors()
    assert f'value="{user.email}"' in page.content.decode()


def test_an_unknown_email_gets_the_same_answer_as_a_wrong_password(client, user):
    known = try_password(client, user.email, "wrong").context["form"].errors
    unknown = try_password(client, "nobody@example.com", "wrong").context["form"].errors
    assert known == unknown


def test_a_closed_account_cannot_sign_in(client, user):
    user.is_active = False
    user.save()
    try_password(client, user.email, PASSWORD)
    assert not signed_in(client)


def test_signing_in_leads_to_the_page_asked_for_but_never_off_the_site(client, user):
    data = {"username": user.email, "password": PASSWORD}
    there = client.post(URL, data | {"next": "/account/"})
    assert there["Location"] == "/account/"
    client.logout()
    away = client.post(URL, data | {"next": "https://example.org/"})
    assert away["Location"] == reverse("home")


def test_sign_out_takes_a_post(as_user):
    assert as_user.get(reverse("people:sign_out")).status_code == 405
    assert signed_in(as_user)
    as_user.post(reverse("people:sign_out"))
    assert not signed_in(as_user)


def test_guessing_is_stopped_even_with_the_right_password_at_last(client, user, settings):
    for _ in range(settings.AXES_FAILURE_LIMIT - 1):
        assert try_password(client, user.email, "guess").status_code == 200
    assert try_password(client, user.email, "guess").status_code == 429
    page = try_password(client, user.email.upper(), PASSWORD)
    assert page.status_code == 429
    assert "15 minutes" in page.content.decode()
    assert not signed_in(client)


def test_a_neighbour_behind_the_same_address_can_still_sign_in(client, user, officer, settings):
    for _ in range(settings.AXES_FAILURE_LIMIT):
        try_password(client, user.email, "guess")
    assert try_password(client, officer.email, PASSWORD).status_code == 302


def test_a_stranger_cannot_shut_a_person_out_from_elsewhere(client, user, settings):
    for _ in range(settings.AXES_FAILURE_LIMIT):
        try_password(client, user.email, "guess", REMOTE_ADDR="192.0.2.7")
    assert try_password(client, user.email, PASSWORD).status_code == 302


def test_a_success_forgets_earlier_slips(client, user, settings):
    for _ in range(settings.AXES_FAILURE_LIMIT - 1):
        try_password(client, user.email, "slip")
    try_password(client, user.email, PASSWORD)
    client.logout()
    assert try_password(client, user.email, "slip").status_code == 200


def test_guessing_at_an_account_by_signing_up_is_counted_too(client, user, group, settings):
    form = {"name": "Wren", "email": user.email, "code": group.code, "password": "a wrong guess"}
    for _ in range(settings.AXES_FAILURE_LIMIT):
        client.post(reverse("people:sign_up"), form)
    response = client.post(reverse("people:sign_up"), form | {"password": PASSWORD})
    assert response.status_code == 429
    assert not signed_in(client)


@pytest.mark.parametrize(
    ("proxies", "header", "address"),
    [
        (0, "198.51.100.1", "192.0.2.1"),
        (1, "198.51.100.1", "198.51.100.1"),
        (1, "203.0.113.9, 198.51.100.1", "198.51.100.1"),
        (2, "203.0.113.9, 198.51.100.1, 10.0.0.1", "198.51.100.1"),
        (2, "198.51.100.1", "192.0.2.1"),
    ],
)
def test_only_what_our_own_proxies_say_of_an_address_counts(rf, settings, proxies, header, address):
    settings.SITE_PROXIES = proxies
    request = rf.get("/", REMOTE_ADDR="192.0.2.1", HTTP_X_FORWARDED_FOR=header)
    assert client_address(request) == address


def ask_for_link(client, email):
    response = client.post(reverse("people:reset"), {"email": email})
    assert response["Location"] == reverse("people:reset_sent")
    assert client.get(response["Location"]).status_code == 200


def test_a_new_password_by_mail(client, user):
    ask_for_link(client, user.email.upper())
    (message,) = mail.outbox
    assert message.to == [user.email]
    path = re.search(r"http://testserver(/\S+)", message.body)[1]

    form = client.get(path, follow=True)
    assert form.context["validlink"]
    here = form.redirect_chain[-1][0]
    weak = client.post(here, {"new_password": "short"})
    assert list(weak.context["form"].errors) == ["new_password"]
    done = client.post(here, {"new_password": "phalarope in the rain"}, follow=True)
    assert done.redirect_chain[-1][0] == reverse("people:reset_done")

    user.refresh_from_db()
    assert user.check_password("phalarope in the rain")
    again = client.get(path, follow=True)
    assert "no longer works" in again.content.decode()


def test_an_unknown_email_gets_no_mail_and_the_same_page(client, user):
    ask_for_link(client, "nobody@example.com")
    assert mail.outbox == []


def test_a_closed_account_gets_no_link(client, user):
    user.is_active = False
    user.save()
    ask_for_link(client, user.email)
    assert mail.outbox == []


def test_a_person_added_by_staff_gets_a_first_password_by_mail(client, db):
    person = User.objects.create_user("dunlin@example.com", None, name="Dunlin Marsh")
    ask_for_link(client, person.email)
    (message,) = mail.outbox
    path = re.search(r"http://testserver(/\S+)", message.body)[1]
    here = client.get(path, follow=True).redirect_chain[-1][0]
    client.post(here, {"new_password": "phalarope in the rain"})
    person.refresh_from_db()
    assert person.check_password("phalarope in the rain")


def test_no_link_for_an_account_that_was_closed(client, user):
    user.is_active = False
    user.save()
    ask_for_link(client, user.email)
    assert mail.outbox == []
