"""What the site writes of sessions: once each, again when it changed, and never of the past."""

from datetime import UTC, datetime, timedelta

import pytest
from django.core import mail

from training.letters import about_sessions
from training.letters.models import Letter, LetterTo
from training.people.models import Membership, Session, User

pytestmark = pytest.mark.django_db

# 11:30 p.m. and past midnight in New York.
STARTS = datetime(2027, 3, 2, 4, 30, tzinfo=UTC)
SOON = STARTS - timedelta(days=1)


@pytest.fixture
def session(group, crew):
    return Session.objects.create(
        group=group, title="Evening", starts=STARTS, ends=STARTS + timedelta(hours=1), place="Shed"
    )


def tell(now=SOON):
    """Send what is due at ``now``; return the subjects that went out."""
    before = len(mail.outbox)
    for each in about_sessions.due(now):
        about_sessions.send(each, "https://training.example")
    return [each.subject for each in mail.outbox[before:]]


def test_members_who_want_it_are_told_once_from_two_days_before(session, user):
    assert tell(STARTS - timedelta(days=2, minutes=1)) == []
    assert tell(STARTS - timedelta(days=2)) == ["Marrow Point crews meets on Monday, March 1, 2027"]
    assert tell() == []
    (sent,) = mail.outbox
    assert sent.to == [user.email]
    assert "Time: 11:30 p.m. to 12:30 a.m. on Tuesday, March 2" in sent.body
    assert "Where: Shed" in sent.body
    assert f"https://training.example/sessions/{session.uid}.ics" in sent.body


def test_a_session_that_has_begun_or_is_off_is_not_announced(session):
    assert tell(STARTS) == []
    Session.objects.update(called_off=SOON)
    assert tell() == []


def test_who_was_told_hears_of_each_change_and_of_going_back(session):
    tell()
    changes = (
        ({"place": "Pier"}, "Changed"),
        ({"place": "Shed"}, "Changed"),  # as it was at first, which is no repeat
        ({"called_off": SOON}, "Called off"),
        ({"place": "Barn"}, None),  # where it does not take place
        ({"called_off": None}, "Changed"),
        ({"note": "Bring boots", "title": "Late evening"}, None),
    )
    for change, said in changes:
        Session.objects.update(**change)
        found = tell()
        assert [each.partition(":")[0] for each in found] == ([said] if said else [])
        assert tell() == []


def test_who_joins_later_hears_of_it_as_new(session, group):
    tell()
    Session.objects.update(place="Pier")
    hand = User.objects.create_user("hand@example.com", name="Hand")
    Membership.objects.create(group=group, user=hand)
    tell()
    assert {each.to[0]: each.subject.partition(":")[0] for each in mail.outbox[1:]} == {
        "wren@example.com": "Changed",
        "hand@example.com": "Marrow Point crews meets on Monday, March 1, 2027",
    }


def test_what_could_not_be_sent_is_due_again(session, monkeypatch):
    def down(*args):
        raise OSError

    monkeypatch.setattr("training.people.wanting.send", down)
    with pytest.raises(OSError):  # noqa: PT011  (any)
        tell()
    assert not LetterTo.objects.exists()
    monkeypatch.undo()
    assert len(tell()) == 1
    assert Letter.objects.get().by is None
