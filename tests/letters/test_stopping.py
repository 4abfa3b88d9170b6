"""Stopping mails by the link in one of them: without signing in, and not by opening it."""

import re

import pytest
from django.core import mail
from django.test import Client
from django.urls import reverse

from training.people import wanting
from training.privacy import erasure
from training.privacy.takeout import collect

pytestmark = pytest.mark.django_db


@pytest.fixture
def link(user):
    wanting.send(user, "A\nsubject", "Hello", "https://training.example")
    (sent,) = mail.outbox
    assert sent.subject == "A subject"
    found = re.search(r"https://training\.example(/\S+)", sent.body)
    assert sent.extra_headers["List-Unsubscribe"] == f"<{found[0]}>"
    return found[1]


def wants(user):
    user.refresh_from_db()
    return user.wants_mail


def test_opening_the_link_asks_and_the_button_stops(client, user, link):
    assert "Stop these emails" in client.get(link).content.decode()
    assert wants(user)
    assert "You get no such emails" in client.post(link).content.decode()
    assert not wants(user)


def test_a_program_for_mail_stops_them_by_itself(user, link):
    # RFC 8058, section 3.2: a POST with this one pair, no cookies and no token of a form.
    post = Client(enforce_csrf_checks=True).post(link, {"List-Unsubscribe": "One-Click"})
    assert post.status_code == 204
    assert not wants(user)


def test_no_other_link_does(client, user, link):
    for token in ("x", link.rstrip("/").rpartition("/")[2] + "x"):
        page = client.post(reverse("people:stop_mail", args=[token]))
        assert page.status_code == 404
    assert wants(user)


def test_they_can_be_had_again(as_user, user):
    contact = reverse("people:contact")
    as_user.post(contact, {"phone": "", "reach_by": ""})
    assert not wants(user)
    as_user.post(contact, {"phone": "", "reach_by": "", "wants_mail": "on"})
    assert wants(user)


def test_what_was_written_is_taken_out_and_goes_with_the_account(as_staff, user, group):
    for query in (f"person={user.pk}", f"group={group.pk}"):
        as_staff.post(
            f"{reverse('letters:write')}?{query}",
            {"step": "send", "key": f"{len(query):032}", "subject": "Boots", "body": "For {name}"},
        )
    tables, _ = collect(user)
    assert [row["text"] for row in tables["letters received"]] == ["For Wren", "For Wren"]
    user.phone = "508-555-0142"
    user.save()
    erasure.erase(user)
    tables, _ = collect(user)
    assert "letters received" not in tables
    assert "letters" not in tables
    user.refresh_from_db()
    assert user.phone == ""
