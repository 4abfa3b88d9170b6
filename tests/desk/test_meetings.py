"""Sessions planned by staff, and a group watched while it signs up."""

import uuid
from datetime import UTC, date, datetime, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from tests.site import PASSWORD
from training.lessons.models import LessonRead
from training.people.models import Membership, Reach, Session, User

pytestmark = pytest.mark.django_db

SESSIONS = reverse("desk:sessions")


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
        reverse("desk:change_session", args=[session.pk]),
        reverse("desk:group_live", args=[group.pk]),
    ]
    for page in pages:
        assert as_user.get(page).status_code == 403
    Reach.objects.create(user=staff, harbor="Eastlight")
    assert session.title not in as_staff.get(SESSIONS, {"gone": "yes"}).content.decode()
    for page in pages[1:]:
        assert as_staff.get(page).status_code == 404
    off = reverse("desk:call_off", args=[session.pk])
    assert as_staff.post(off, {"off": "yes"}).status_code == 404


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
    from training.desk.meetings.live import watch

    # 03:30 UTC on the 2nd is still the evening of the 1st where the site is.
    Membership.objects.update(joined=datetime(2026, 6, 2, 2, 0, tzinfo=UTC))
    assert watch(group, datetime(2026, 6, 2, 3, 30, tzinfo=UTC)).today == 1
    assert watch(group, datetime(2026, 6, 2, 5, 0, tzinfo=UTC)).today == 0
    assert timezone.localdate(datetime(2026, 6, 2, 3, 30, tzinfo=UTC)) == date(2026, 6, 1)
