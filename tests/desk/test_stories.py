"""A person's page and a vessel's page tell what happened, in order, and to whom it may be told."""

import uuid
from datetime import date, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from tests.desk.test_certified import certificate_of
from tests.register.events_factory import happen, make_vessel, new_key
from tests.register.test_deriving import hand_in_sheet, make_net
from training.certification import certificates
from training.checks.models import CheckPhoto
from training.deck import story
from training.deck.story import Kind, Telling, latest_first
from training.deck.story_page import TELLINGS_A_PAGE, story_page
from training.lessons.loader import all_lessons
from training.people.models import Attendance, Session
from training.people.sharing import Level, What, choose
from training.register import events
from training.register.models import Crew, Vessel
from training.register.removing import merge, put_back
from training.register.stages import Stage

pytestmark = pytest.mark.django_db


def told(about, staff, kind=None):
    """Return the sentences of the story of ``about``, the latest first."""
    which = story.VESSEL if isinstance(about, Vessel) else story.PERSON
    return [each.text for each in which.told(about, staff) if kind in (None, each.kind)]


def page_of(client, about, **asked):
    name = "register:vessel" if isinstance(about, Vessel) else "desk:trainee"
    return client.get(reverse(name, args=[about.pk]), asked).content.decode()


class TestOrder:
    def test_the_latest_is_first_and_what_has_no_hour_begins_its_day(self):
        noon = timezone.make_aware(timezone.datetime(2026, 7, 2, 12))
        night = timezone.make_aware(timezone.datetime(2026, 7, 1, 23, 59))
        whens = [date(2026, 7, 1), noon, date(2026, 7, 2), night, date(2026, 7, 3)]
        found = latest_first(Telling(when, Kind.CREW, str(when)) for when in whens)
        assert [each.when for each in found] == [
            date(2026, 7, 3),
            noon,
            date(2026, 7, 2),
            night,
            date(2026, 7, 1),
        ]

    def test_one_kind_alone_page_by_page(self):
        kinds = [Kind.CREW, Kind.CALL] * TELLINGS_A_PAGE
        tellings = [Telling(date(2026, 7, 1), kind, "") for kind in kinds]
        shown = story_page(tellings, {"kind": "calls", "page": "2"})
        assert shown.page.paginator.count == TELLINGS_A_PAGE
        counts = {each.title: (each.count, each.here) for each in shown.kinds}
        assert counts == {
            "": (2 * TELLINGS_A_PAGE, False),
            "Crew": (TELLINGS_A_PAGE, False),
            "Calls": (TELLINGS_A_PAGE, True),
        }
        assert story_page(tellings, {"kind": "weather"}).page.paginator.num_pages == 2
        assert story_page([], {}).page.paginator.count == 0


class TestPerson:
    def test_tells_groups_sessions_lessons_and_vessels(self, as_staff, user, group, staff):
        now = timezone.now()
        session = Session.objects.create(
            group=group, title="Dockside evening", starts=now, ends=now + timedelta(hours=2)
        )
        Attendance.objects.create(session=session, user=user, said_by="staff", noted_by=staff)
        first, second = all_lessons()[:2]
        user.lessons_read.create(slug=first.slug)
        user.lessons_read.create(slug=second.slug)
        user.lessons_read.create(slug="gone", read_at=now - timedelta(days=3))
        vessel = make_vessel(harbor=group.harbor)
        Crew.objects.create(vessel=vessel, user=user, part="captain", until=timezone.localdate())
        texts = told(user, staff)
        assert f"Joined the group {group.name}." in texts
        assert f"Came to “Dockside evening” of {group.name}." in texts
        assert f"Read 2 lessons: “{first.title}”, “{second.title}”." in texts
        assert "Read the lesson “gone”." in texts
        assert "Joined Sanderling as captain." in texts
        assert "Left Sanderling." in texts
        page = page_of(as_staff, user)
        assert f"Noted by {staff.name}." in page
        assert "no vessel that we know of" in page
        assert page.index("Came to") < page.index("Signed up here") < page.index("“gone”")

    def test_a_certificate_that_ran_out_or_was_taken_back_says_so(self, user, officer, staff):
        ran_out = certificate_of(user, -1)
        title = ran_out.exam.requirements.title
        assert told(user, staff, Kind.CERTIFICATE)[0] == f"The certificate “{title}” ran out."
        taken = certificate_of(officer, 400, "other")
        certificates.revoke(taken, "Somebody else took it.", staff)
        found = [each for each in story.PERSON.told(officer, staff) if each.kind == "certificates"]
        assert [each.is_void for each in found] == [False, True]
        assert found[0].note == "Somebody else took it."
        assert "was taken back" in found[0].text

    def test_one_that_counts_is_not_crossed_out(self, user, staff):
        certificate_of(user, 400)
        (telling,) = [each for each in story.PERSON.told(user, staff) if "Earned" in each.text]
        assert not telling.is_void

    @pytest.mark.parametrize(("level", "seen"), [("own", 0), ("sums", 0), ("staff", 1)])
    def test_a_net_is_told_if_its_owner_shows_it(self, user, staff, level, seen):
        vessel = make_vessel()
        Crew.objects.create(vessel=vessel, user=user)
        choose(user, What.NETS, Level(level))
        net = make_net(user)
        assert len(told(user, staff, Kind.NET)) == seen
        assert len(told(vessel, staff, Kind.NET)) == seen
        net.put_aside()
        assert told(user, staff, Kind.NET) == []

    def test_a_net_from_before_is_not_the_vessels(self, user, staff):
        vessel = make_vessel()
        choose(user, What.NETS, Level.STAFF)
        make_net(user)
        tomorrow = timezone.localdate() + timedelta(days=1)
        Crew.objects.create(vessel=vessel, user=user, since=tomorrow)
        assert told(vessel, staff, Kind.NET) == []

    def test_what_lies_elsewhere_is_no_link(self, as_staff, user, group, staff):
        vessel = make_vessel(harbor="Eastlight")
        Crew.objects.create(vessel=vessel, user=user)
        address = reverse("register:vessel", args=[vessel.pk])
        assert address in page_of(as_staff, user)
        staff.reaches.create(harbor=group.harbor)
        page = page_of(as_staff, user)
        assert "Sanderling" in page
        assert address not in page

    def test_the_phone_rings(self, as_staff, user):
        assert "No phone number." in page_of(as_staff, user)
        user.phone, user.reach_by = "508-555-0142", "text"
        user.save()
        page = page_of(as_staff, user)
        assert 'href="tel:5085550142"' in page
        assert "Best reached by" in page

    @pytest.mark.parametrize("number", [1, 12])
    def test_asks_the_database_little(
        self, as_staff, user, officer, number, django_assert_max_num_queries
    ):
        for index in range(number):
            Crew.objects.create(vessel=make_vessel(f"Vessel {index}"), user=user)
            user.lessons_read.create(slug=f"lesson-{index}")
            make_net(user)
            hand_in_sheet(officer, f"Vessel {index}")
        choose(user, What.NETS, Level.STAFF)
        for person in (user, officer):
            with django_assert_max_num_queries(30):
                page_of(as_staff, person)


class TestVessel:
    def test_tells_crew_stages_sheets_and_the_register(self, as_staff, user, officer, staff):
        vessel = make_vessel(registration="TS 1041")
        Crew.objects.create(vessel=vessel, user=user, part="captain")
        one = happen(vessel, Stage.TOLD, "2026-07-01", by=staff, note="On the dock")
        later = events.correct(one, key=new_key(), by=staff, day=date(2026, 7, 5))
        sheet = hand_in_sheet(officer, "TS-1041", harbor="Elsewhere")
        photo = CheckPhoto.objects.create(sheet=sheet, key=uuid.uuid4(), image="x.jpg")
        sheet.photo_keys = [str(photo.key)]
        sheet.save()
        vessel.harbor, vessel.is_fishing = "Eastlight", False
        vessel.save()
        found = story.VESSEL.told(vessel, staff)
        texts = [each.text for each in found]
        assert f"{user.name} joined the crew as captain." in texts
        assert "Harbor changed from Kettle Harbor to Eastlight." in texts
        assert "No longer fishing." in texts
        assert texts.count("Talked to.") == 2
        void = [each for each in found if each.is_void]
        assert [each.day for each in void] == [one.day]
        assert f"Corrected by {staff.name}." in void[0].note
        assert void[0].ways == ()
        (checked,) = [each for each in found if each.kind == Kind.SHEET]
        assert f"{officer.name} checked the rig. Outside: 0." in checked.text
        assert f"Not measured: {sheet.not_measured}." in checked.text
        page = page_of(as_staff, vessel)
        assert reverse("checks:check_photo", args=[photo.key]) in page
        assert reverse("register:event_withdraw", args=[later.pk]) in page
        assert page.index("Talked to") < page.index("counts no more")

    def test_a_sheet_not_turned_in_or_of_another_is_not_told(self, officer, staff):
        vessel = make_vessel()
        sheet = hand_in_sheet(officer, "Sanderling", harbor="Eastlight")
        assert told(vessel, staff, Kind.SHEET) == []
        sheet.harbor, sheet.finished = "Kettle Harbor", None
        sheet.save()
        assert told(vessel, staff, Kind.SHEET) == []

    def test_who_left_is_in_the_story_and_not_aboard(self, as_staff, user, staff):
        vessel = make_vessel()
        Crew.objects.create(vessel=vessel, user=user, until=timezone.localdate())
        page = page_of(as_staff, vessel)
        assert "None yet. Add somebody who has an account." in page
        assert f"{user.name} left the crew." in page

    def test_tells_of_merging_and_its_undoing(self, as_staff, staff):
        vessel, twin = make_vessel(), make_vessel("Sandarling")
        removal = merge(twin, vessel, staff, uuid.uuid4())
        assert "Sandarling of Kettle Harbor was merged into it." in told(vessel, staff)
        response = as_staff.get(reverse("register:vessel", args=[twin.pk]), follow=True)
        assert response.redirect_chain[-1][0] == reverse("register:vessel", args=[vessel.pk])
        assert "Sandarling was merged into Sanderling." in response.content.decode()
        put_back(removal, staff)
        assert told(vessel, staff)[0] == "Sandarling is a vessel of its own again."
        assert told(twin, staff)[0] == "Put back on the register."
