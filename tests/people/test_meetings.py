"""Sessions, their calendar, joining by code, and the group watched while it signs up."""

import uuid
from datetime import UTC, date, datetime, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone
from icalendar import Calendar

from tests.site import PASSWORD
from training.lessons.models import LessonRead
from training.people.meetings.calendar import calendar
from training.people.models import Group, Membership, Reach, Role, Session, User

pytestmark = pytest.mark.django_db

SESSIONS = reverse("people:sessions")


def entries(**changes):
    return {
        "key": str(uuid.uuid4()),
        "title": "Dockside evening",
        "day": str(timezone.localdate() + timedelta(days=7)),
        "begins": "18:30",
        "finishes": "20:00",
        "place": "Net shed",
        "note": "Bring a tape; and a mate.",
        **changes,
    }


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


# The calendar


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


# Planning


def test_staff_plan_a_session_and_twice_is_once(as_staff, group):
    url, form = reverse("people:new_session", args=[group.pk]), entries()
    for _ in range(2):
        assert as_staff.post(url, form)["Location"] == SESSIONS
    session = Session.objects.get()
    begins = timezone.localtime(session.starts)
    assert (begins.hour, begins.minute) == (18, 30)
    assert session.ends - session.starts == timedelta(minutes=90)
    assert "Dockside evening" in as_staff.get(SESSIONS).content.decode()


@pytest.mark.parametrize(
    ("field", "text", "says"),
    [
        ("finishes", "18:30", "The end is before the start."),
        ("begins", "half six", "6:30 PM"),
        ("day", "next Tuesday", "7/1/2026"),
        ("title", "", "required"),
    ],
)
def test_a_mistake_is_told_beside_its_field_and_kept(as_staff, group, field, text, says):
    url = reverse("people:new_session", args=[group.pk])
    page = as_staff.post(url, entries(**{field: text}))
    assert page.status_code == 422
    assert says in str(page.context["form"].errors[field])
    if text:
        assert text in page.content.decode()
    assert not Session.objects.exists()


def test_a_session_is_changed_called_off_and_put_back(as_staff, session):
    url = reverse("people:change_session", args=[session.pk])
    form = as_staff.get(url).context["form"]
    assert str(form["begins"].value()) == "18:30:00"  # 23:30 UTC, in the site's own time
    as_staff.post(url, entries(title="Shed day", key=str(session.uid)))
    session.refresh_from_db()
    assert session.title == "Shed day"
    off = reverse("people:call_off", args=[session.pk])
    as_staff.post(off, {"off": "yes"})
    as_staff.post(off, {"off": "yes"})
    session.refresh_from_db()
    assert session.called_off
    assert "Called off" in as_staff.get(SESSIONS).content.decode()
    as_staff.post(off, {"off": "no"})
    session.refresh_from_db()
    assert session.called_off is None


def test_gone_sessions_are_kept_apart(as_staff, group):
    gone = timezone.now() - timedelta(days=2)
    Session.objects.create(
        group=group, title="Old evening", starts=gone, ends=gone + timedelta(hours=1)
    )
    assert "Old evening" not in as_staff.get(SESSIONS).content.decode()
    assert "Old evening" in as_staff.get(SESSIONS, {"gone": "yes"}).content.decode()


def test_only_staff_who_look_after_the_harbor(as_user, as_staff, staff, session, group):
    pages = [
        SESSIONS,
        reverse("people:new_session", args=[group.pk]),
        reverse("people:change_session", args=[session.pk]),
        reverse("people:group_live", args=[group.pk]),
    ]
    for page in pages:
        assert as_user.get(page).status_code == 403
    Reach.objects.create(user=staff, harbor="Eastlight")
    assert session.title not in as_staff.get(SESSIONS, {"gone": "yes"}).content.decode()
    for page in pages[1:]:
        assert as_staff.get(page).status_code == 404
    off = reverse("people:call_off", args=[session.pk])
    assert as_staff.post(off, {"off": "yes"}).status_code == 404


# Joining


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


# Watching


def test_the_latest_to_join_stand_first_with_what_they_did(as_staff, group, user):
    newer = User.objects.create_user("kit@example.com", PASSWORD, name="Kit Larkham")
    Membership.objects.create(group=group, user=newer, joined=timezone.now() + timedelta(seconds=1))
    LessonRead.objects.note(user, "why-fish-part")
    page = as_staff.get(reverse("people:group_live", args=[group.pk]), {"part": "1"})
    text = page.content.decode()
    assert text.index("Kit Larkham") < text.index(user.name)
    assert "1 lesson read" in text
    assert "<html" not in text


def test_watching_takes_as_many_questions_for_many_as_for_one(
    as_staff, group, user, django_assert_num_queries
):
    url = reverse("people:group_live", args=[group.pk])

    def questions():
        with django_assert_num_queries(6) as asked:
            as_staff.get(url)
        return len(asked)

    few = questions()
    people = User.objects.bulk_create(
        User(email=f"p{number}@example.com", name=f"Person {number}") for number in range(120)
    )
    Membership.objects.bulk_create(Membership(group=group, user=each) for each in people)
    assert questions() == few
    watched = as_staff.get(url).context["watch"]
    assert watched.members == watched.today == 121
    assert len(watched.latest) == 60


def test_today_begins_at_midnight_of_the_sites_own_time(group, user):
    from training.people.meetings.live import watch

    # 03:30 UTC on the 2nd is still the evening of the 1st where the site is.
    Membership.objects.update(joined=datetime(2026, 6, 2, 2, 0, tzinfo=UTC))
    assert watch(group, datetime(2026, 6, 2, 3, 30, tzinfo=UTC)).today == 1
    assert watch(group, datetime(2026, 6, 2, 5, 0, tzinfo=UTC)).today == 0
    assert timezone.localdate(datetime(2026, 6, 2, 3, 30, tzinfo=UTC)) == date(2026, 6, 1)
