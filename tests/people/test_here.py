"""A person says by the session's code that they are there, and sees when the group meets."""

from datetime import UTC, datetime, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from tests.site import PASSWORD
from training.people.meetings.upcoming import next_sessions
from training.people.models import Attendance, Group, Session, User

pytestmark = pytest.mark.django_db

HERE = reverse("people:here")


def meet(group, hours, **fields):
    """Return a session of two hours that begins so many ``hours`` from now."""
    starts = timezone.now() + timedelta(hours=hours)
    times = {"starts": starts, "ends": starts + timedelta(hours=2)}
    return Session.objects.create(group=group, **{"title": "Shed day", **times, **fields})


def test_a_visitor_signs_up_at_the_session_and_is_on_its_list(client, group):
    session = meet(group, -1)
    page = client.get(HERE, {"code": session.code.lower()})
    sign_up = page.context["sign_up"]
    entries = {
        "name": "Kit Larkham",
        "email": "kit@example.com",
        "password": PASSWORD,
        "code": group.code,
    }
    back = client.post(sign_up, entries)["Location"]
    assert back == f"{HERE}?code={session.code}"
    assert not Attendance.objects.exists()  # signing up alone does not say that one came
    for _ in range(2):
        client.post(HERE, {"code": session.code})
    attendance = Attendance.objects.get()
    assert (attendance.user.name, attendance.session) == ("Kit Larkham", session)
    assert attendance.said_by == Attendance.SaidBy.SELF
    assert "on the list since" in client.get(back).content.decode()


@pytest.mark.parametrize("onward", ["https://elsewhere.example/", "//elsewhere.example/", "x"])
def test_signing_up_leads_to_no_other_site(client, group, onward):
    entries = {"name": "Kit", "email": "k@example.com", "password": PASSWORD, "code": group.code}
    url = reverse("people:sign_up", query={"next": onward})
    assert "elsewhere" not in client.post(url, entries)["Location"]


@pytest.mark.parametrize(
    ("hours", "fields", "says"),
    [
        (3, {}, "not yet time"),
        (-5, {}, "is over"),
        (-1, {"called_off": datetime(2026, 1, 1, tzinfo=UTC)}, "called off"),
    ],
)
def test_nobody_is_at_a_session_that_is_not_on(as_user, group, hours, fields, says):
    session = meet(group, hours, **fields)
    page = as_user.post(HERE, {"code": session.code})
    assert page.status_code == 200
    assert says in page.content.decode()
    assert not Attendance.objects.exists()


def test_an_unknown_code_and_none_are_told_apart(as_user, client):
    assert "No session has this code" in as_user.get(HERE, {"code": "nosuch"}).content.decode()
    assert "No session" not in as_user.get(HERE).content.decode()


def test_who_has_no_account_yet_is_asked_to_sign_in_and_noted_only_then(client, group):
    session = meet(group, -1)
    answer = client.post(HERE, {"code": session.code})
    assert answer["Location"].startswith(reverse("people:sign_in"))
    assert not Attendance.objects.exists()


def test_a_guest_joins_the_group_unless_it_is_closed(client):
    guest = User.objects.create_user("guest@example.com", PASSWORD, name="Guest")
    client.force_login(guest)
    open_, closed = (
        Group.objects.create(name=name, is_open=name == "Open") for name in ("Open", "Closed")
    )
    for group in (open_, closed):
        session = meet(group, -1)
        client.post(HERE, {"code": session.code})
        assert session.attendances.get().user == guest
    assert [each.group for each in guest.memberships.all()] == [open_]


def test_the_next_session_and_what_was_called_off_before_it(user, group):
    off = meet(group, 5, called_off=timezone.now())
    following = meet(group, 30)
    meet(group, 60)
    meet(Group.objects.create(name="Others"), 1)
    assert next_sessions(user) == [off, following]
    assert not any(each.is_mine for each in next_sessions(user))
    Attendance.objects.create(session=following, user=user, said_by="self")
    assert [each.is_mine for each in next_sessions(user)] == [False, True]


def test_a_session_past_midnight_names_its_second_day(group):
    # 01:30 UTC on November 20, 2026 is 8:30 p.m. on the 19th in New York; 06:00 UTC is 1:00 a.m.
    session = Session(
        group=group,
        starts=datetime(2026, 11, 20, 1, 30, tzinfo=UTC),
        ends=datetime(2026, 11, 20, 6, 0, tzinfo=UTC),
    )
    assert session.when == "Thursday, November 19, 2026, 8:30 p.m. to 1:00 a.m. on Friday"
    session.ends = datetime(2026, 11, 20, 3, 0, tzinfo=UTC)  # another day in UTC, not at the quay
    assert session.when == "Thursday, November 19, 2026, 8:30 p.m. to 10:00 p.m."


@pytest.mark.parametrize(
    ("hours", "takes"), [(1.9, True), (2.1, False), (-3.9, True), (-4.1, False)]
)
def test_arrivals_are_taken_two_hours_before_and_after(group, hours, takes):
    assert meet(group, hours).takes_arrivals() is takes
