"""Mails before a certificate runs out: once each, to those who need them."""

import smtplib
import uuid
from datetime import timedelta
from io import StringIO

import pytest
from django.core import mail
from django.core.management import CommandError, call_command
from django.utils import timezone

from tests.certification.certificate_factory import make_exam
from training.certification import certificates, reminders
from training.certification.fair import recheck
from training.certification.models import Certificate, Reminder, SeasonCheck
from training.letters import about_certificates
from training.people import wanting
from training.recall.models import ReadingSet

NOW = timezone.now()


@pytest.fixture
def certificate(user):
    """A certificate that runs out in 50 days."""
    return ending(user, 50)


def ending(user, days):
    certificate = certificates.issue(make_exam(user))
    certificate.expires = NOW + timedelta(days=days)
    certificate.save()
    return certificate


def run(*arguments):
    out = StringIO()
    call_command("certificate_reminders", *arguments, stdout=out, stderr=out)
    return out.getvalue()


def test_the_holder_is_told_once(certificate, user):
    assert "1 of 1" in run()
    run()
    (sent,) = mail.outbox
    assert sent.to == [user.email]
    assert certificate.exam.requirements.title in sent.subject
    assert f"/certificates/{certificate.code}/" in sent.body
    assert Reminder.objects.get().days == 60


def test_and_again_when_less_is_left(certificate):
    run()
    (due,) = reminders.due(now=NOW + timedelta(days=40))
    assert due == (certificate, 14)
    assert about_certificates.send(due, "https://training.example")
    assert reminders.due(now=NOW + timedelta(days=40)) == []


def test_nobody_gets_two_mails_at_once(user):
    ending(user, 10)
    run()
    run()
    assert len(mail.outbox) == 1


@pytest.mark.parametrize("days", [-1, 61])
def test_it_is_not_time(user, days):
    ending(user, days)
    assert reminders.due(now=NOW) == []


def test_the_days_can_be_chosen(user):
    ending(user, 85)
    run("--days", "90", "30")
    assert Reminder.objects.get().days == 90


def test_not_for_one_taken_back(certificate, staff):
    certificates.revoke(certificate, "The exam had a wrong key.", staff)
    assert reminders.due(now=NOW) == []


def test_not_for_one_renewed(certificate, user, staff):
    later = ending(user, 500)
    assert reminders.due(now=NOW) == []
    certificates.revoke(later, "The exam had a wrong key.", staff)
    assert [each.certificate for each in reminders.due(now=NOW)] == [certificate]


def test_the_page_leads_to_a_new_exam(certificate, user, as_user):
    path = f"/certificates/{certificate.code}/"
    assert "Take the exam again" in as_user.get(path).content.decode()
    ending(user, 500)
    assert "Take the exam again" not in as_user.get(path).content.decode()


def test_not_for_those_who_have_left(certificate, user):
    user.is_active = False
    user.save()
    assert reminders.due(now=NOW) == []


def test_not_for_those_who_want_no_mail(certificate, user):
    user.wants_mail = False
    user.save()
    assert reminders.due(now=NOW) == []


def test_of_two_at_once_one_sends(certificate):
    (due,) = reminders.due(now=NOW)
    assert about_certificates.send(due, "https://training.example")
    assert not about_certificates.send(due, "https://training.example")
    assert len(mail.outbox) == 1


@pytest.mark.parametrize(
    ("trouble", "said"),
    [
        (smtplib.SMTPServerDisconnected("gone"), "could not be sent"),
        (KeyboardInterrupt(), "Stopped"),
    ],
)
def test_what_was_not_sent_is_tried_again(certificate, monkeypatch, trouble, said):
    def fail(*args):
        raise trouble

    monkeypatch.setattr(wanting, "send", fail)
    with pytest.raises(CommandError, match=said):
        run()
    assert not Reminder.objects.exists()
    monkeypatch.undo()
    run()
    assert len(mail.outbox) == 1


def test_mails_must_lead_somewhere(certificate, settings):
    settings.LOCAL = False
    with pytest.raises(CommandError, match="SITE_ADDRESS"):
        run()
    settings.SITE_ADDRESS = "https://training.example"
    run()
    assert "https://training.example/certificates/" in mail.outbox[0].body


def test_no_days_are_refused(db):
    with pytest.raises(CommandError, match="1 or more"):
        run("--days", "0")


def test_the_mail_offers_the_short_check_only_where_it_can_be_taken(user):
    certificate = ending(user, 10)
    (due,) = reminders.due()
    about_certificates.send(due, "https://training.example")
    assert "take a short check before then" in mail.outbox[0].body
    certificate.reminders.all().delete()
    SeasonCheck.objects.bulk_create(
        SeasonCheck(
            certificate=certificate,
            set=ReadingSet.objects.create(
                user=user, purpose="season", key=uuid.uuid4(), finished=NOW
            ),
            settled=NOW,
            passed=True,
            was=NOW,
            until=NOW + timedelta(days=1),
        )
        for _ in range(recheck.MOST_RENEWALS)
    )
    due = due._replace(certificate=Certificate.objects.get())
    about_certificates.send(due, "https://training.example")
    assert "short check" not in mail.outbox[1].body
    assert "take the exam again before then" in mail.outbox[1].body
