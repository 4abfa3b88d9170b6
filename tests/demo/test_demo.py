"""The invented fleet: what is in it, and that its marks were earned."""

import random
from collections import Counter
from datetime import date, datetime, time

import pytest
from django.core.management import CommandError, call_command
from django.db import transaction
from django.urls import reverse
from django.utils import timezone

from rigs.rules import rulebook
from training.certification.certificates import holding
from training.course.progress import progress_for
from training.demo import scenario
from training.demo.course import Learner, Records, take_lessons
from training.demo.load import RealPeople, load, seasons
from training.desk import sums
from training.desk.models import PersonTally
from training.desk.way import EARNED
from training.exercises.handing import remark
from training.exercises.kinds import KINDS
from training.exercises.models import Assignment, Attempt
from training.home import waiting
from training.lessons.loader import all_lessons
from training.lessons.models import LessonRead
from training.nets import shine_log
from training.people.models import Group, Membership, Role, User
from training.recall.memory import coming_back, rebuild
from training.recall.models import SetReading
from training.register import uptake
from training.register.models import AdoptionEvent, Crew, Vessel, VesselState
from training.register.stages import Known, Stage
from training.rulesets.models import Version

TODAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def loaded(django_db_setup, django_db_blocker):
    """The demo's data, made once for all tests of this module and then rolled back."""
    with django_db_blocker.unblock(), transaction.atomic():
        said = []
        assert load(today=TODAY, say=said.append)
        yield said
        transaction.set_rollback(True)


@pytest.fixture
def demo(loaded, db):
    return loaded


def counts():
    models = (User, Group, Membership, Vessel, LessonRead, Assignment, Attempt)
    return {model.__name__: model.objects.count() for model in models}


class TestScenario:
    def test_a_draft_waits_for_the_staff_who_sign_in_and_not_for_who_sent_it(self, demo):
        login = User.objects.get(email="staff@tern.example")
        (draft,) = Version.objects.filter(approved_at=None)
        assert draft.get_absolute_url() in [each.url for each in waiting.for_staff(login)]
        assert draft.get_absolute_url() not in [
            each.url for each in waiting.for_staff(draft.drafted_by)
        ]

    def test_people_and_vessels(self, demo):
        roles = Counter(User.objects.values_list("role", flat=True))
        assert roles == {Role.TRAINEE: 90, Role.OFFICER: 6, Role.STAFF: 3}
        assert Counter(Vessel.objects.values_list("harbor", flat=True)) == dict.fromkeys(
            scenario.HARBOURS, 10
        )
        assert set(Vessel.objects.values_list("name", flat=True)) == set(scenario.VESSELS)

    def test_everything_is_marked_as_demo_data(self, demo):
        assert not Group.objects.filter(is_demo=False).exists()
        assert not Vessel.objects.filter(is_demo=False).exists()
        assert not User.objects.exclude(memberships__group__is_demo=True).exists()

    def test_each_harbor_has_a_group(self, demo):
        groups = Group.objects.filter(role=Role.TRAINEE, is_open=True)
        assert {group.harbor for group in groups} == set(scenario.HARBOURS)
        for group in groups:
            assert group.memberships.count() in (22, 23)

    def test_the_pages_say_so(self, demo, client):
        client.force_login(User.objects.get(email=scenario.LOGINS["staff"].email))
        person = Attempt.objects.first().assignment.user
        group = person.memberships.get().group
        for address in (
            reverse("desk:trainees"),
            reverse("desk:trainee", args=[person.pk]),
            reverse("desk:groups"),
            reverse("desk:group", args=[group.pk]),
        ):
            assert "demo data" in client.get(address).content.decode()

    def test_the_code_for_signing_up_works(self, demo):
        harbor = scenario.HARBOURS[0]
        group = Group.objects.with_code(scenario.group_code(harbor))
        assert group.harbor == harbor

    @pytest.mark.parametrize("role", scenario.LOGINS)
    def test_the_logins_work(self, demo, client, role):
        email = scenario.LOGINS[role].email
        response = client.post(
            reverse("people:sign_in"), {"username": email, "password": scenario.PASSWORD}
        )
        assert response.status_code == 302
        assert client.session["_auth_user_id"] == str(User.objects.get(email=email).pk)
        assert User.objects.get(email=email).role == role

    def test_the_trainee_to_sign_in_as_has_something_done_and_something_to_do(self, demo):
        person = User.objects.get(email=scenario.LOGINS["trainee"].email)
        read = person.lessons_read.count()
        assert 0 < read < len(all_lessons())
        assert Attempt.objects.by(person).exists()

    def test_the_trainee_to_sign_in_as_finds_something_on_every_page(self, demo):
        person = User.objects.get(email=scenario.LOGINS["trainee"].email)
        net = person.nets.get()
        assert net.plan().steps
        assert net.rigged() is not None
        tows = list(net.tows.all())
        assert len(tows) == 3
        # All were made with the net as it hung, and the log can read them.
        assert {tow.net_was["day"] for tow in tows} == {net.rigged().was["day"]}
        assert shine_log.read(net).tuning is not None
        today = timezone.make_aware(datetime.combine(TODAY, time()))
        assert holding(today).filter(exam__user=person).exists()
        assert person.berths.filter(until=None).exists()
        assert any(each.missed for each in progress_for(person).lessons)

    def test_the_officer_to_sign_in_as_has_a_sheet_begun_and_a_round_open(self, demo):
        person = User.objects.get(email=scenario.LOGINS["officer"].email)
        assert person.check_sheets.filter(finished=None).exists()
        assert person.turns.filter(handed_in=None, round__closed=None).exists()


class TestRecords:
    def test_every_sum_is_what_a_recount_gives(self, demo):
        assert list(sums.differences()) == []
        assert PersonTally.objects.filter(step=EARNED).exists()
        assert PersonTally.objects.filter(certified_until__date__gt=TODAY).exists()

    def test_every_mark_is_what_the_grading_gives(self, demo):
        attempts = Attempt.objects.select_related("assignment")
        assert len(attempts) > 400
        for attempt in attempts:
            again = remark(attempt)
            assert (attempt.marks, attempt.out_of) == (again.marks, again.out_of)
            assert attempt.passed is again.passed
            assert attempt.findings == [line.as_record() for line in again.lines]
            assert attempt.remarks == list(again.remarks)

    def test_every_kind_has_been_passed_and_those_tried_often_failed_too(self, demo):
        told = Counter(Attempt.objects.values_list("assignment__kind", "passed"))
        # Some kinds are set in exams alone.
        taught = {slug for lesson in all_lessons() for slug in lesson.exercises}
        assert taught <= set(KINDS)
        assert {slug for slug, passed in told if passed} == taught
        # Kinds of the last lessons are tried by few, who have learned much by then.
        assert {slug for slug in taught if told[slug, True] > 30} <= {
            slug for slug, passed in told if not passed
        }

    def test_lie_in_two_seasons(self, demo):
        moments = list(Attempt.objects.values_list("handed_in", flat=True))
        moments += LessonRead.objects.values_list("read_at", flat=True)
        days = [timezone.localtime(moment).date() for moment in moments]
        inside = [[first <= day <= last for day in days] for first, last in seasons(TODAY)]
        assert all(map(any, zip(*inside, strict=True)))
        assert all(map(any, inside))

    def test_are_made_no_earlier_than_the_person_joined(self, demo):
        for assignment in Assignment.objects.select_related("user", "attempt"):
            assert assignment.user.joined < assignment.created < assignment.attempt.handed_in

    def test_are_judged_by_the_rule_set_of_their_day(self, demo):
        for assignment in Assignment.objects.all():
            day = timezone.localtime(assignment.created).date()
            assert assignment.rulebook == rulebook.in_force(assignment.rulebook_name, day)

    def test_leave_nothing_open(self, demo):
        assert not Assignment.objects.open().exists()


class TestMemory:
    def test_rules_come_back_to_who_signs_in_as_a_trainee(self, demo):
        person = User.objects.get(email=scenario.LOGINS["trainee"].email)
        assert coming_back(person, TODAY)
        assert person.rule_memories.filter(due__gt=TODAY).exists()

    def test_it_follows_from_what_was_answered(self, demo):
        answered = SetReading.objects.filter(answered__isnull=False)
        assert answered.count() > 100
        assert timezone.localdate(answered.latest("answered").answered) <= TODAY
        some = answered.order_by("pk").first().set.user
        before = list(some.rule_memories.order_by("pk").values("key", "step", "asked", "due"))
        rebuild([some.pk])
        after = list(some.rule_memories.order_by("pk").values("key", "step", "asked", "due"))
        assert after == before


class TestLoading:
    def test_twice_adds_nothing(self, demo):
        before = counts()
        assert load(today=TODAY) is False
        call_command("demo_data", verbosity=0)
        assert counts() == before

    def test_tells_how_far_it_has_come(self, demo):
        assert len(demo) == 4

    def test_is_refused_beside_real_people(self, demo):
        Group.objects.update(is_demo=False)
        before = counts()
        with pytest.raises(RealPeople):
            load(today=TODAY)
        with pytest.raises(CommandError, match="holds people already"):
            call_command("demo_data")
        assert counts() == before

    def test_is_refused_on_a_site_that_is_no_demo(self, db, settings):
        settings.SITE_DEMO = False
        with pytest.raises(CommandError, match="SITE_DEMO=1"):
            call_command("demo_data")

    @pytest.mark.parametrize(
        ("today", "years"),
        [
            (date(2026, 11, 20), [2024, 2025]),
            (date(2026, 11, 21), [2025, 2026]),
            (date(2027, 2, 1), [2025, 2026]),
        ],
    )
    def test_takes_the_two_latest_seasons_that_are_over(self, today, years):
        assert [first.year for first, _ in seasons(today)] == years
        assert all(last < today for _, last in seasons(today))

    def test_one_seed_makes_one_story(self, db):
        stories = []
        for _ in range(2):
            learner, records = Learner(User(), skill=0.4, reach=99), Records()
            rng = random.Random(5)
            take_lessons(learner, all_lessons(), *seasons(TODAY)[0], rng, records)
            stories.append([(a.assignment.seed, a.answer, a.handed_in) for a in records.attempts])
        assert stories[0] == stories[1]
        assert stories[0]

    def test_a_season_ends_when_it_ends(self):
        learner, records = Learner(User(), skill=0.4, reach=99), Records()
        day = date(2026, 8, 1)
        take_lessons(learner, all_lessons(), day, day, random.Random(5), records)
        assert len(records.readings) == 1


def test_evenings_are_in_the_sites_own_time(demo):
    moment = Assignment.objects.order_by("created").first().created
    assert isinstance(moment, datetime)
    assert timezone.localtime(moment).hour >= 18


class TestVessels:
    """Each with people, and two seasons of taking up the rig."""

    def test_vessels_have_owners_captains_and_numbers(self, demo):
        assert not Vessel.objects.filter(owner="").exists()
        assert not Vessel.objects.filter(captain="").exists()
        assert Vessel.objects.values("registration").distinct().count() == 40

    def test_crews_fish_where_they_train(self, demo):
        crew = Crew.objects.select_related("vessel").prefetch_related("user__memberships__group")
        assert len(crew) > 60
        for each in crew:
            assert each.user.memberships.get().group.harbor == each.vessel.harbor

    def test_events_lie_in_the_two_seasons(self, demo):
        (first, _), (_, last) = seasons(TODAY)
        days = AdoptionEvent.objects.values_list("day", flat=True)
        assert first <= min(days)
        assert max(days) <= TODAY
        years = {day.year for day in days}
        assert years == {first.year, last.year}

    def test_every_stage_is_to_be_seen_and_some_derived(self, demo):
        stages = set(AdoptionEvent.objects.values_list("stage", flat=True))
        assert stages >= {Stage.TOLD, Stage.TRAINING, Stage.CREWED, Stage.CONVERTED, Stage.BACK}
        known = set(AdoptionEvent.objects.values_list("known", flat=True))
        assert known >= {Known.HAND, Known.CREW, Known.CERTIFICATE}
        assert VesselState.objects.filter(stage=Stage.CONVERTED).count() >= 5

    def test_the_sums_are_as_a_recount_has_them(self, demo):
        assert uptake.check() == []
