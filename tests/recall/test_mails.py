"""Mails when rules come back: to those who asked, once a week at most."""

import smtplib
from datetime import timedelta
from io import StringIO

import pytest
from django.core import mail
from django.core.management import CommandError, call_command
from django.utils import timezone

from tests.recall.conftest import RULES
from training.recall import mails, memory
from training.recall.models import PracticeMail

pytestmark = pytest.mark.django_db

NOW = timezone.now()


@pytest.fixture
def wanting(user):
    """A person who wants the mails, and to whom rules come back."""
    PracticeMail.objects.create(user=user, wanted=True)
    for rule in RULES:
        memory.note(user, *rule, False, NOW - timedelta(days=3))
    return user


def run():
    out = StringIO()
    call_command("remind_practice", stdout=out, stderr=out)
    return out.getvalue()


def test_who_asked_is_told_once(wanting):
    assert "1 sent, 0 not." in run()
    run()
    (sent,) = mail.outbox
    assert sent.to == [wanting.email]
    assert "3 short readings, about 2 minutes" in sent.body
    assert "/practice/review/" in sent.body
    assert "/account/#practice-mail" in sent.body


def test_the_next_comes_after_a_week_by_local_days(wanting):
    (due,) = mails.due(NOW)
    assert mails.send(due, "https://training.example", NOW)
    assert mails.due(NOW + timedelta(days=6)) == []
    again = NOW + timedelta(days=7)
    assert mails.due(again)
    assert not mails.send(due, "https://training.example", NOW + timedelta(days=1))
    assert len(mail.outbox) == 1


@pytest.mark.parametrize("change", ["unwanted", "closed", "nothing due"])
def test_nobody_else_is_told(wanting, change):
    if change == "unwanted":
        PracticeMail.objects.update(wanted=False)
    elif change == "closed":
        wanting.is_active = False
        wanting.save()
    else:
        wanting.rule_memories.all().delete()
    assert mails.due(NOW) == []


def test_who_said_nothing_gets_no_mail(user):
    memory.note(user, *RULES[0], False, NOW - timedelta(days=3))
    assert mails.due(NOW) == []


def test_a_mail_that_fails_is_tried_again(wanting, monkeypatch):
    def refuse(*args):
        raise smtplib.SMTPException("no")

    with monkeypatch.context() as patch:
        patch.setattr(mails, "_mail", refuse)
        with pytest.raises(CommandError):
            run()
    assert PracticeMail.objects.get().last_sent is None
    run()
    assert len(mail.outbox) == 1
