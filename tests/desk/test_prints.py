"""A session's poster and the sheet to sign in on: what stands on them, and where."""

from datetime import UTC, datetime

import pytest
from django.urls import reverse

from tests.rigs.papers import Recorder, assert_apart, assert_within
from training.desk.meetings import posters, sign_in
from training.people.models import Membership, Session, User

pytestmark = pytest.mark.django_db

TO_SCAN = posters.ToScan("https://training.example/here/?code=X", "training.example/here")


@pytest.fixture
def session(group):
    return Session.objects.create(
        group=group,
        title="Dockside evening",
        place="Net shed",
        starts=datetime(2026, 11, 20, 1, 30, tzinfo=UTC),
        ends=datetime(2026, 11, 20, 6, 0, tzinfo=UTC),
        note="Bring a tape.\nAnd a mate.",
    )


def poster(session):
    paper = Recorder()
    posters.set_on(paper, session, TO_SCAN)
    assert_within(paper)
    assert_apart(paper)
    return " ".join(paper.on(1))


def test_a_poster_says_what_when_where_and_how(session):
    said = poster(session)
    for words in (
        "Dockside evening",
        "Thursday, November 19, 2026",
        "8:30 p.m. to 1:00 a.m. on Friday",
        "Net shed",
        "Bring a tape. And a mate.",
        session.code,
        "training.example/here",
        "Sign up now",
    ):
        assert words in said
    assert "Called off" not in said


def test_a_poster_holds_long_words_and_says_what_is_off(session):
    session.title = "Dockside evening with chain, droppers and a whole net laid flat " * 2
    session.place = (
        "The large net shed behind the ice house, upstairs, second door on the left " * 2
    )
    session.note = "Bring a tape and a mate. " * 80
    session.called_off = session.starts
    session.group.is_open = False
    said = poster(session)
    assert "Called off" in said
    assert session.code not in said
    assert "…" in said
    session.called_off = None
    said = poster(session)
    assert session.code in said
    assert "Sign up" not in said  # the group is closed


def test_a_sign_in_sheet_has_all_members_and_room_for_others(session, group, user):
    hands = User.objects.bulk_create(
        User(email=f"h{number}@example.com", name=f"Hand {number:02}") for number in range(40)
    )
    Membership.objects.bulk_create(Membership(group=group, user=each) for each in hands)
    paper = Recorder()
    sign_in.set_on(paper, session)
    assert_within(paper)
    said = [words for page in range(1, paper.page + 1) for words in paper.on(page)]
    assert sum(words.startswith("Hand ") for words in said) == 40
    assert user.name in said
    # A line under each row: 41 names, 14 empty ones, and what else is ruled.
    assert len(paper.ruled) >= 41 + 14
    assert not any("example.com" in words for words in said)  # it goes round the room


def test_prints_are_sent_as_what_they_are(as_staff, session):
    for name, kind, begins in (
        ("poster_pdf", "application/pdf", b"%PDF"),
        ("poster_png", "image/png", b"\x89PNG"),
        ("sign_in_sheet", "application/pdf", b"%PDF"),
    ):
        response = as_staff.get(reverse(f"desk:{name}", args=[session.pk]))
        assert response["Content-Type"] == kind
        assert response.content.startswith(begins)
