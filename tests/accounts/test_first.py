"""The first administrator: invited by a command, once, and by nobody else's account."""

import re
import smtplib
from io import StringIO

import pytest
from django.core import mail
from django.core.management import CommandError, call_command
from django.urls import reverse

from training.accounts import keeping
from training.people import wanting
from training.people.models import User

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def address(settings):
    settings.SITE_ADDRESS = "https://training.example"


def invite(email="Tamsin@Example.com", **options):
    out = StringIO()
    call_command("first_staff", email, "Tamsin Rudd", stdout=out, **options)
    return out.getvalue()


def set_password(client):
    """Open the link of the last mail and set a password there."""
    path = re.search(r"https://training\.example(/accounts/welcome/\S+)", mail.outbox[-1].body)[1]
    form = client.get(path, follow=True).redirect_chain[-1][0]
    return client.post(form, {"new_password": "dunlin over gravel"})


def test_the_first_sets_a_password_by_the_link_and_may_do_everything(client):
    assert "14 days" in invite()
    person = User.objects.get()
    assert (person.email, person.name) == ("tamsin@example.com", "Tamsin Rudd")
    assert not person.has_usable_password()
    assert mail.outbox[0].to == [person.email]
    assert set_password(client)["Location"] == reverse("home")
    assert client.get(reverse("admin:index")).status_code == 200
    assert client.get(reverse("accounts:invite")).status_code == 200
    assert "by a command" in keeping.log_of(person)[0].change_message


def test_another_link_is_sent_until_there_is_a_password(client):
    invite()
    invite()
    assert (User.objects.count(), len(mail.outbox)) == (1, 2)
    set_password(client)
    with pytest.raises(CommandError, match="sign-in page mails a link"):
        invite()
    with pytest.raises(CommandError, match=r"tamsin@example\.com is an administrator already"):
        invite("robin@example.com")
    assert (User.objects.count(), len(mail.outbox)) == (1, 2)


def test_the_link_to_a_wrong_address_ends_with_the_next(client):
    invite("tamsyn@example.com")
    invite()
    assert User.objects.get(email="tamsyn@example.com").is_active is False
    body = mail.outbox[0].body
    path = re.search(r"https://training\.example(/accounts/welcome/\S+)", body)[1]
    assert "no longer works" in client.get(path, follow=True).content.decode()
    assert set_password(client)["Location"] == reverse("home")


def test_another_is_made_when_one_says_so(client):
    invite()
    set_password(client)
    invite("robin@example.com", another=True)
    assert User.objects.filter(is_superuser=True).count() == 2


def test_nobody_is_made_an_administrator_who_has_an_account(user):
    with pytest.raises(CommandError, match="has an account already"):
        invite(user.email)
    user.refresh_from_db()
    assert (user.is_superuser, mail.outbox) == (False, [])


def test_one_that_was_closed_gets_no_link():
    invite()
    User.objects.update(is_active=False)
    with pytest.raises(CommandError, match="has an account already"):
        invite()


def test_what_is_no_address_is_refused():
    with pytest.raises(CommandError, match="valid email"):
        invite("the office")
    assert not User.objects.exists()


def test_a_site_without_an_address_invites_nobody(settings):
    settings.SITE_ADDRESS = ""
    with pytest.raises(CommandError, match="SITE_ADDRESS"):
        invite()
    assert not User.objects.exists()


@pytest.mark.parametrize("error", [OSError("no route"), smtplib.SMTPServerDisconnected("gone")])
def test_a_mail_that_fails_is_said_and_sent_by_the_next_run(monkeypatch, error):
    def fails(*args):
        raise error

    with monkeypatch.context() as at:
        at.setattr(wanting, "send_of_account", fails)
        with pytest.raises(CommandError, match="run this again"):
            invite()
    invite()
    assert (User.objects.count(), len(mail.outbox)) == (1, 1)
