"""Sessions planned by staff, and a group watched while it signs up."""

import uuid
from datetime import UTC, date, datetime, time, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from tests.site import PASSWORD
from training.desk.meetings.forms import SessionForm
from training.desk.meetings.starting import like_the_last
from training.lessons.models import LessonRead
from training.people.models import Group, Membership, Reach, Session, User

pytestmark = pytest.mark.django_db

SESSIONS = reverse("desk:sessions")
OF_A_SESSION = ("session", "session_code", "sign_in_sheet", "poster_pdf", "poster_png")


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


def test_staff_plan_a_session_and_twice_is_once(as_staff, group):
    url, form = reverse("desk:new_session", args=[group.pk]), entries()
    pages = {as_staff.post(url, form)["Location"] for _ in range(2)}
    session = Session.objects.get()
    assert pages == {reverse("desk:session", args=[session.pk])}
    begins = timezone.localtime(session.starts)
    assert (begins.hour, begins.minute) == (18, 30)
    assert session.ends - session.starts == timedelta(minutes=90)
    assert "Dockside evening" in as_staff.get(SESSIONS).content.decode()


@pytest.mark.parametrize(
    ("field", "text", "says"),
    [
        ("finishes", "18:30", "The end is the same as the start."),
        ("begins", "half six", "6:30 PM"),
        ("day", "next Tuesday", "7/1/2026"),
        ("title", "", "required"),
        ("finishes", "18:00", "longer than 12 hours"),  # 23 1/2 hours: PM was meant before
    ],
)
def test_a_mistake_is_told_beside_its_field_and_kept(as_staff, group, field, text, says):
    url = reverse("desk:new_session", args=[group.pk])
    page = as_staff.post(url, entries(**{field: text}))
    assert page.status_code == 422
    assert says in str(page.context["form"].errors[field])
    if text:
        assert text in page.content.decode()
    assert not Session.objects.exists()


def test_a_session_is_changed_called_off_and_put_back(as_staff, session):
    url = reverse("desk:change_session", args=[session.pk])
    form = as_staff.get(url).context["form"]
    assert str(form["begins"].value()) == "18:30:00"  # 23:30 UTC, in the site's own time
    as_staff.post(url, entries(title="Shed day", key=str(session.uid)))
    session.refresh_from_db()
    assert session.title == "Shed day"
    off = reverse("desk:call_off", args=[session.pk])
    as_staff.post(off, {"off": "yes"})
    as_staff.post(off, {"off": "yes"})
    session.refresh_from_db()
    assert session.called_off
    assert "Called off" in as_staff.get(SESSIONS).content.decode()
    as_staff.post(off, {"off": "no"})
    session.refresh_from_db()
    assert session.called_off is None


@pytest.mark.parametrize(
    ("day", "finishes", "hours"),
    [
        ("2026-12-03", "01:00", 6.5),  # past midnight
        ("2026-10-31", "02:00", 8.5),  # the clock is put back at 2 a.m. on November 1, 2026
        ("2027-03-13", "03:00", 7.5),  # and forward on March 14, 2027
    ],
)
def test_an_end_after_midnight_is_on_the_next_day(group, day, finishes, hours):
    form = SessionForm(entries(day=day, finishes=finishes, gone="on"), group=group)
    assert form.is_valid(), form.errors
    session = form.save()
    assert (session.ends - session.starts) == timedelta(hours=hours)
    assert timezone.localtime(session.ends).date() == date.fromisoformat(day) + timedelta(days=1)


def test_an_hour_that_the_clock_skips_is_no_session(group):
    # 2:30 a.m. on March 14, 2027 is 3:30 a.m. where the site is.
    skipped = entries(day="2027-03-14", begins="02:30", finishes="03:15")
    assert "finishes" in SessionForm(skipped, group=group).errors


def test_a_day_gone_by_is_asked_about_and_saved_when_it_took_place(as_staff, group):
    url = reverse("desk:new_session", args=[group.pk])
    assert "took place already" not in as_staff.get(url).content.decode()
    gone = entries(day=str(timezone.localdate() - timedelta(days=1)), finishes="19:00")
    page = as_staff.post(url, gone)
    assert page.status_code == 422
    assert "This has gone by" in page.content.decode()
    assert "took place already" in page.content.decode()
    assert not Session.objects.exists()
    as_staff.post(url, gone | {"gone": "on"})
    session = Session.objects.get()
    # Its note can be changed later without being asked again; its day cannot.
    change = reverse("desk:change_session", args=[session.pk])
    assert as_staff.post(change, gone | {"note": "Nobody had a tape."}).status_code == 302
    earlier = gone | {"day": str(timezone.localdate() - timedelta(days=2))}
    assert as_staff.post(change, earlier).status_code == 422


def test_a_new_session_begins_like_the_last_one(as_staff, group, session):
    now, every = datetime(2026, 11, 20, 12, tzinfo=UTC), Session.objects.all()
    # The last was on Sunday, November 1, 2026; the next Sunday after November 20 is the 22nd.
    assert like_the_last(group, every, now) == {
        "title": session.title,
        "place": session.place,
        "day": date(2026, 11, 22),
        "begins": time(18, 30),
        "finishes": time(20, 0),
    }
    assert like_the_last(group, every, datetime(2026, 10, 1, tzinfo=UTC))["day"] == date(
        2026, 11, 8
    )
    assert like_the_last(group, every, datetime(2026, 11, 8, 15, tzinfo=UTC))["day"] == date(
        2026, 11, 8
    )
    page = as_staff.get(reverse("desk:new_session", args=[group.pk])).content.decode()
    assert "Filled in like the group's last session" in page
    assert "And a mate" not in page
    first = Group.objects.create(name="Eastlight crews")
    assert like_the_last(first, every, now) == {
        "title": session.title,
        "begins": time(18, 30),
        "finishes": time(20, 0),
    }
    session.called_off = now
    session.save()
    assert like_the_last(first, every, now) == {}
    assert like_the_last(group, every, now) == {}


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
        reverse("desk:new_session", args=[group.pk]),
        *(reverse(f"desk:{name}", args=[session.pk]) for name in OF_A_SESSION),
        reverse("desk:group_code", args=[group.pk]),
        reverse("desk:change_session", args=[session.pk]),
        reverse("desk:group_live", args=[group.pk]),
    ]
    for page in pages:
        assert as_user.get(page).status_code == 403
    Reach.objects.create(user=staff, harbor="Eastlight")
    assert session.title not in as_staff.get(SESSIONS, {"gone": "yes"}).content.decode()
    for page in pages[1:]:
        assert as_staff.get(page).status_code == 404
    for name in ("call_off", "mark_came", "count_others"):
        form = {"off": "yes", "came": str(staff.pk), "others": "3"}
        assert as_staff.post(reverse(f"desk:{name}", args=[session.pk]), form).status_code == 404


def test_the_latest_to_join_stand_first_with_what_they_did(as_staff, group, user):
    newer = User.objects.create_user("kit@example.com", PASSWORD, name="Kit Larkham")
    Membership.objects.create(group=group, user=newer, joined=timezone.now() + timedelta(seconds=1))
    LessonRead.objects.note(user, "why-fish-part")
    page = as_staff.get(reverse("desk:group_live", args=[group.pk]), {"part": "1"})
    text = page.content.decode()
    assert text.index("Kit Larkham") < text.index(user.name)
    assert "1 lesson read" in text
    assert "<html" not in text


def test_watching_takes_as_many_questions_for_many_as_for_one(
    as_staff, group, user, django_assert_num_queries
):
    url = reverse("desk:group_live", args=[group.pk])

    def questions():
        with django_assert_num_queries(5) as asked:
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
    from training.desk.meetings.live import watch

    # 03:30 UTC on the 2nd is still the evening of the 1st where the site is.
    Membership.objects.update(joined=datetime(2026, 6, 2, 2, 0, tzinfo=UTC))
    assert watch(group, datetime(2026, 6, 2, 3, 30, tzinfo=UTC)).today == 1
    assert watch(group, datetime(2026, 6, 2, 5, 0, tzinfo=UTC)).today == 0
    assert timezone.localdate(datetime(2026, 6, 2, 3, 30, tzinfo=UTC)) == date(2026, 6, 1)
