"""The calendar of sessions, joining by code, and what members see of their meetings."""

from datetime import UTC, datetime, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone
from icalendar import Calendar

from tests.site import PASSWORD
from training.people.meetings.calendar import calendar
from training.people.models import Group, Role, Session, User

pytestmark = pytest.mark.django_db


@pytest.fixture
def session(group):
    return Session.objects.create(
        group=group,
        title="Dockside evening, with chain",
        place="Net shed; upstairs",
        starts=datetime(2026, 11, 1, 23, 30, tzinfo=UTC),
        ends=datetime(2026, 11, 2, 1, 0, tzinfo=UTC),
        note="Bring a tape.\nAnd a mate.",
    )


def lines_of(data):
    """Return the content lines of an iCalendar file, unfolded (RFC 5545, 3.1)."""
    return data.decode().replace("\r\n ", "").split("\r\n")


def test_the_calendar_is_as_the_standard_has_it(session):
    """RFC 5545, read here without the library that wrote it."""
    data = calendar("Marrow Point crews", [session], "training.example")
    assert data.endswith(b"END:VCALENDAR\r\n")
    # 3.1: lines of at most 75 octets, ended by CR LF, and no bare line feed.
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    assert data.count(b"\n") == data.count(b"\r\n")
    lines = lines_of(data)
    assert lines[0] == "BEGIN:VCALENDAR"
    assert "VERSION:2.0" in lines
    # 3.3.5: a time in UTC ends in Z. 3.3.11: commas, semicolons and line ends are escaped.
    assert "DTSTART:20261101T233000Z" in lines
    assert "DTEND:20261102T010000Z" in lines
    assert "SUMMARY:Dockside evening\\, with chain" in lines
    assert "LOCATION:Net shed\\; upstairs" in lines
    assert "DESCRIPTION:Bring a tape.\\nAnd a mate." in lines
    assert f"UID:{session.uid}@training.example" in lines
    assert "STATUS:CONFIRMED" in lines


def test_a_change_has_a_higher_number_and_calling_off_is_told(session):
    def sequence():
        (event,) = Calendar.from_ical(calendar("x", [session], "h")).walk("VEVENT")
        return event["sequence"], event["status"]

    before, status = sequence()
    assert status == "CONFIRMED"
    session.called_off = timezone.now()
    session.changed += timedelta(minutes=2)
    assert sequence() == (before + 2, "CANCELLED")


def test_whoever_has_the_code_can_follow_the_group(client, session, group):
    response = client.get(reverse("people:group_calendar", args=[group.code]))
    assert response["Content-Type"].startswith("text/calendar")
    (event,) = Calendar.from_ical(response.content).walk("VEVENT")
    assert event.decoded("dtstart") == session.starts
    assert client.get(reverse("people:group_calendar", args=["NOSUCH"])).status_code == 404
    one = client.get(reverse("people:session_calendar", args=[session.uid]))
    assert str(session.uid) in one.content.decode()


def test_a_person_with_an_account_joins_by_code_once(as_user, user):
    other = Group.objects.create(name="Net shed day", code="SHED22")
    sign_up = as_user.get(reverse("people:sign_up"), {"code": "SHED22"})
    assert sign_up["Location"] == "/account/join/?code=SHED22"
    assert 'value="SHED22"' in as_user.get(sign_up["Location"]).content.decode()
    for _ in range(2):
        as_user.post(reverse("people:join"), {"code": "shed-22"})
    assert user.memberships.filter(group=other).count() == 1
    assert user.memberships.count() == 2


def test_a_code_that_is_none_is_told_and_kept(as_user):
    page = as_user.post(reverse("people:join"), {"code": "nosuch"})
    assert "No group has this code" in page.content.decode()
    assert 'value="nosuch"' in page.content.decode()


@pytest.mark.parametrize(
    ("role", "group_role", "after"),
    [
        (Role.TRAINEE, Role.OFFICER, Role.OFFICER),
        (Role.OFFICER, Role.TRAINEE, Role.OFFICER),
        (Role.STAFF, Role.TRAINEE, Role.STAFF),
    ],
)
def test_joining_never_takes_a_role_away(client, role, group_role, after):
    Group.objects.create(name="Cutter", code="CUT222", role=group_role)
    person = User.objects.create_user("kit@example.com", PASSWORD, name="Kit", role=role)
    client.force_login(person)
    client.post(reverse("people:join"), {"code": "CUT222"})
    person.refresh_from_db()
    assert person.role == after


def test_members_see_when_their_group_meets(as_user, group, officer, client):
    soon = timezone.now() + timedelta(days=1)
    Session.objects.create(
        group=group, title="Shed day", starts=soon, ends=soon + timedelta(hours=2)
    )
    account = reverse("people:account")
    assert "Shed day" in as_user.get(account).content.decode()
    client.force_login(officer)
    assert "Shed day" not in client.get(account).content.decode()
