"""Who came to a session: names tapped by the staff, guests, and those without an account."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from training.desk.meetings.soon import sessions_soon
from training.people.models import Attendance, Group, Membership, Reach, Session, User
from training.privacy.erasure import erase
from training.privacy.takeout import collect

pytestmark = pytest.mark.django_db


def meet(group, hours=-1, **fields):
    starts = timezone.now() + timedelta(hours=hours)
    times = {"starts": starts, "ends": starts + timedelta(hours=2)}
    return Session.objects.create(group=group, **{"title": "Shed day", **times, **fields})


def page_of(session, view="session", **query):
    return reverse(f"desk:{view}", args=[session.pk], query=query)


def text_of(response):
    return " ".join(response.content.decode().split())


def test_a_tapped_name_is_on_the_list_and_off_again(as_staff, group, user, staff):
    session = meet(group)
    assert "Nobody is on the list yet" in text_of(as_staff.get(page_of(session)))
    for _ in range(2):
        answer = as_staff.post(page_of(session, "mark_came"), {"came": user.pk})
    assert answer["Location"].endswith("#names")
    attendance = session.attendances.get()
    assert (attendance.user, attendance.noted_by) == (user, staff)
    page = text_of(as_staff.get(page_of(session)))
    assert "1 person on the list" in page
    assert 'aria-pressed="true"' in page
    for _ in range(2):
        as_staff.post(page_of(session, "mark_came"), {"gone": user.pk})
    assert not session.attendances.exists()


def test_a_tap_after_their_own_phone_changes_nothing_of_it(as_staff, group, user):
    session = meet(group)
    Attendance.objects.create(session=session, user=user, said_by="self")
    as_staff.post(page_of(session, "mark_came"), {"came": user.pk})
    assert session.attendances.get().said_by == Attendance.SaidBy.SELF


@pytest.mark.parametrize("person", ["", "x", "-1", "999999", "٣x"])
def test_who_is_nobody_of_the_group_cannot_be_tapped(as_staff, group, person):
    session = meet(group)
    assert as_staff.post(page_of(session, "mark_came"), {"came": person}).status_code == 404


def test_a_guest_stands_among_the_names_and_says_so(as_staff, group, officer):
    session = meet(group)
    url = page_of(session, "mark_came")
    assert as_staff.post(url, {"came": officer.pk}).status_code == 404
    Attendance.objects.create(session=session, user=officer, said_by="self")
    assert "(not in the group)" in text_of(as_staff.get(page_of(session)))


def test_those_without_an_account_are_counted_and_nobody_counted_is_not_none(as_staff, group):
    session = meet(group, -5)
    assert "more without an account" not in text_of(as_staff.get(page_of(session)))
    for entered, others, says in (
        ("0", 0, "0 more"),
        ("3", 3, "3 more without an account"),
        ("", None, ""),
    ):
        as_staff.post(page_of(session, "count_others"), {"others": entered})
        session.refresh_from_db()
        assert session.others == others
        assert says in text_of(as_staff.get(page_of(session)))
    as_staff.post(page_of(session, "count_others"), {"others": "many"})
    assert session.others is None


def test_the_list_is_newest_first_and_the_part_is_the_list_alone(as_staff, group, user, officer):
    session = meet(group)
    for minutes, person in ((5, user), (2, officer)):
        noted = timezone.now() - timedelta(minutes=minutes)
        Attendance.objects.create(session=session, user=person, said_by="self", noted=noted)
    part = text_of(as_staff.get(page_of(session, part="1")))
    assert part.index(officer.name) < part.index(user.name)
    assert "<html" not in part
    assert "2 people on the list" in part


def test_names_are_found_and_queries_do_not_grow(as_staff, group, user):
    session = meet(group)

    def asked(**query):
        with CaptureQueriesContext(connection) as captured:
            page = text_of(as_staff.get(page_of(session, **query)))
        return len(captured), page

    asked()
    few, __ = asked()
    hands = User.objects.bulk_create(
        User(email=f"h{number}@example.com", name=f"Hand {number:03}") for number in range(230)
    )
    Membership.objects.bulk_create(Membership(group=group, user=each) for each in hands)
    Attendance.objects.bulk_create(
        Attendance(session=session, user=each, said_by="self") for each in hands
    )
    many, page = asked()
    assert many == few
    assert "230 people on the list" in page
    assert "The latest 60 are shown" in page
    assert "Hand 199" in asked(name="199")[1]
    assert f'person-{user.pk}"' not in asked(name="199")[1]


def test_before_a_session_the_poster_stands_first_and_after_it_the_names(as_staff, group, user):
    before = text_of(as_staff.get(page_of(meet(group, 30))))
    assert 'id="poster"' in before
    assert 'id="names"' not in before
    during = text_of(as_staff.get(page_of(meet(group))))
    assert during.index('id="names"') < during.index('id="poster"')
    after = text_of(as_staff.get(page_of(meet(group, -30))))
    assert 'id="names"' in after
    assert 'id="poster"' not in after


def test_sessions_soon_are_told_by_the_sites_own_days(group, user, staff):
    noon = timezone.localtime().replace(hour=12, minute=0, second=0, microsecond=0)
    made = {
        hours: meet(group, starts=noon + timedelta(hours=hours), ends=noon + timedelta(hours=end))
        for hours, end in (
            (-13, -12.5),  # ended last night
            (-12.5, 1),  # began last night, is still on
            (-11.5, -11),  # over, but today
            (11.5, 13),
            (12.5, 13),
            (7 * 24 + 11, 7 * 24 + 12),
            (8 * 24, 8 * 24 + 1),
        )
    }
    Attendance.objects.create(session=made[11.5], user=user, said_by="self")
    soon = sessions_soon(staff, noon)
    assert soon.today == [made[-12.5], made[-11.5], made[11.5]]
    assert [each.came for each in soon.today] == [0, 0, 1]
    assert soon.week == [made[12.5], made[7 * 24 + 11]]
    assert soon.more == 0
    Reach.objects.create(user=staff, harbor="Eastlight")
    held = User.objects.get(pk=staff.pk)
    assert sessions_soon(held, noon).today == []


def test_more_sessions_than_are_shown_are_counted(staff):
    group = Group.objects.create(name="Many")
    for hours in range(1, 36):
        meet(group, hours)
    soon = sessions_soon(staff)
    assert len(soon.today) + len(soon.week) == 30
    assert soon.more == 5


def test_what_came_is_taken_out_and_erased_with_the_person(group, user):
    session = meet(group)
    Attendance.objects.create(session=session, user=user, said_by="self")
    assert collect(user)[0]["attendances"]
    erase(user)
    assert not Attendance.objects.exists()
