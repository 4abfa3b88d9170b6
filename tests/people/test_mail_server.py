"""While the mail server takes nothing, that is known; one wrong address is another thing."""

import smtplib

import pytest
from django.core.mail import EmailMessage
from django.db import DatabaseError

from training.deck.readiness import Well
from training.people import mail_server
from training.people.models import Tries

pytestmark = pytest.mark.django_db


@pytest.fixture
def server(settings, monkeypatch):
    """A mail server that does what is set: it raises ``server.error``, or takes all."""
    settings.EMAIL_BACKEND = "training.people.mail_server.MailServer"
    settings.EMAIL_HOST = "mail.tern.example"

    class Server:
        error = None

        def __init__(self, *args, **options):
            if self.error:
                raise self.error

        def __getattr__(self, name):
            return lambda *args, **options: None

    monkeypatch.setattr(smtplib, "SMTP", Server)
    monkeypatch.setattr(smtplib.ssl, "create_default_context", lambda: None)
    return Server


def send():
    EmailMessage("Hello", "there", to=["wren@tern.example"]).send()


def test_failures_are_told_until_a_mail_goes_out(server):
    assert isinstance(mail_server.mail_goes_out(), Well)
    for error in (ConnectionRefusedError(), smtplib.SMTPAuthenticationError(535, b"no")):
        server.error = error
        with pytest.raises(type(error)):
            send()
    assert mail_server.mail_goes_out().startswith("2 mails could not be sent")
    server.error = None
    send()
    assert isinstance(mail_server.mail_goes_out(), Well)


def test_one_address_that_is_refused_is_no_trouble_of_the_server(server):
    server.error = smtplib.SMTPRecipientsRefused({})
    with pytest.raises(smtplib.SMTPRecipientsRefused):
        send()
    assert isinstance(mail_server.mail_goes_out(), Well)


def test_a_database_that_is_away_stops_no_mail(server, monkeypatch):
    def away(**asked):
        raise DatabaseError

    monkeypatch.setattr(Tries.objects, "filter", away)
    send()


def test_without_a_server_it_is_said_that_mail_is_only_printed(settings):
    settings.EMAIL_HOST = ""
    assert "printed, not sent" in mail_server.mail_goes_out()
