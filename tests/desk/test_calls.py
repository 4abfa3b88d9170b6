"""Who is to be called, why, and that a call noted silences its reason."""

import uuid
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from tests.register.events_factory import happen, make_vessel
from training.certification import certificates
from training.certification.models import Correction, Exam, Requirements
from training.desk.calls import numbers
from training.desk.calls.cards import urgent
from training.desk.calls.listing import to_call
from training.desk.calls.reasons import REASONS, reason_called
from training.desk.models import CallNote, PersonRuleTally, PersonTally
from training.desk.way import course_of
from training.people.models import Role, User
from training.register.stages import Stage

pytestmark = pytest.mark.django_db


def ago(days):
    return timezone.localdate() - timedelta(days=days)


def reasons_for(called, staff):
    """Return the keys of the reasons to call somebody."""
    return {
        reason.key
        for reason in REASONS
        if (reason.of == "person") == isinstance(called, User) and called in to_call(reason, staff)
    }


@pytest.fixture
def vessel(db):
    return make_vessel()


class TestVessels:
    @pytest.mark.parametrize(
        ("stage", "days", "reason"),
        [
            (Stage.TOLD, numbers.TOLD_DAYS, "only-told"),
            (Stage.CREWED, numbers.PLAN_DAYS, "no-plan"),
            (Stage.CONVERTED, numbers.CHECK_DAYS, "not-checked"),
        ],
    )
    def test_are_called_once_it_has_been_long(self, vessel, staff, stage, days, reason):
        happen(vessel, stage, ago(days))
        assert reasons_for(vessel, staff) == {reason}
        assert reasons_for(lately(stage, days - 1), staff) == set()

    def test_gone_back(self, vessel, staff):
        happen(vessel, Stage.CONVERTED, ago(90))
        happen(vessel, Stage.BACK, ago(numbers.BACK_DAYS - 50))
        assert reasons_for(vessel, staff) == {"gone-back"}

    def test_gone_back_long_ago(self, vessel, staff):
        happen(vessel, Stage.CONVERTED, ago(300))
        happen(vessel, Stage.BACK, ago(numbers.BACK_DAYS + 1))
        assert reasons_for(vessel, staff) == set()

    def test_a_rig_that_was_checked_needs_no_call(self, vessel, staff):
        happen(vessel, Stage.CHECKED, ago(50))
        happen(vessel, Stage.CONVERTED, ago(40))
        assert reasons_for(vessel, staff) == set()

    def test_those_that_no_longer_fish_need_none(self, staff):
        vessel = make_vessel(is_fishing=False)
        happen(vessel, Stage.TOLD, ago(numbers.TOLD_DAYS))
        assert reasons_for(vessel, staff) == set()


def lately(stage, days):
    vessel = make_vessel("Dovekie")
    happen(vessel, stage, ago(days))
    return vessel


def active(person, days, step="read:x", until=None):
    """Say when ``person`` was last active; ``until`` is in how many days certificates end."""
    now = timezone.now()
    told = {
        "last": now - timedelta(days=days),
        "step": step,
        "certified_until": until and now + timedelta(days=until),
    }
    PersonTally.objects.update_or_create(user=person, defaults=told)


class TestPeople:
    @pytest.mark.parametrize(
        ("days", "step", "until", "called"),
        [
            (numbers.QUIET_DAYS, "read:x", None, True),
            (numbers.QUIET_DAYS - 1, "read:x", None, False),
            (numbers.GIVEN_UP_DAYS + 1, "read:x", None, False),
            (numbers.QUIET_DAYS, "earned", 1, False),
            (numbers.QUIET_DAYS, "earned", -1, True),
            (numbers.QUIET_DAYS, "earned", None, True),
        ],
    )
    def test_began_and_stopped(self, user, staff, days, step, until, called):
        active(user, days, step, until)
        assert reasons_for(user, staff) == ({"stopped"} if called else set())

    @pytest.mark.parametrize("misses", [numbers.MISSES - 1, numbers.MISSES])
    def test_the_same_rule_again_and_again(self, user, staff, misses):
        active(user, 1)
        for rule, missed in (("dropper_spacing", misses), ("dropper_bare", 1)):
            PersonRuleTally.objects.create(user=user, rule=rule, asked=9, missed=missed)
        enough = misses >= numbers.MISSES
        assert reasons_for(user, staff) == ({"same-rule"} if enough else set())
        if enough:
            (why,) = urgent(staff)[0].whys
            assert f"{misses} times, and still trains" in why.words

    def test_whoever_may_not_sign_in_is_not_called(self, user, staff):
        active(user, numbers.QUIET_DAYS)
        User.objects.update(is_active=False)
        assert reasons_for(user, staff) == set()


@pytest.fixture
def requirements(db):
    return Requirements.objects.create(
        slug="rigging",
        title="Rigging",
        track=Requirements.Track.FISHERMAN,
        rulebooks=["no-sweep"],
        pass_percent=70,
        waiting_days=7,
        months_valid=12,
    )


def sit(person, requirements, days, passed=False):
    at = timezone.now() - timedelta(days=days)
    exam = Exam.objects.create(
        requirements=requirements,
        user=person,
        key=uuid.uuid4(),
        seed=1,
        pass_percent=70,
        begun=at - timedelta(minutes=40),
        handed_in=at,
        marks=9 if passed else 1,
        out_of=10,
        passed=passed,
    )
    return certificates.issue(exam) if passed else exam


class TestExams:
    @pytest.mark.parametrize(("days", "called"), [(6, False), (8, True), (61, False)])
    def test_the_wait_is_over(self, user, staff, requirements, days, called):
        sit(user, requirements, days)
        assert ("exam-missed" in reasons_for(user, staff)) is called

    def test_another_begun(self, user, staff, requirements):
        sit(user, requirements, 20)
        Exam.objects.create(
            requirements=requirements, user=user, key=uuid.uuid4(), seed=1, pass_percent=70
        )
        assert reasons_for(user, staff) == set()

    def test_a_certificate_that_runs_out(self, user, staff, requirements):
        sit(user, requirements, 365 - numbers.EXPIRY_DAYS + 2, passed=True)
        assert reasons_for(user, staff) == {"runs-out"}
        sit(user, requirements, 1, passed=True)
        assert reasons_for(user, staff) == set()

    def test_one_that_was_taken_back_does_not_run_out(self, user, staff, requirements):
        certificate = sit(user, requirements, 365 - numbers.EXPIRY_DAYS + 2, passed=True)
        Correction.objects.create(exam=certificate.exam, passed=False, reason="Slip", by=staff)
        assert "runs-out" not in reasons_for(user, staff)


class TestLessonsFinished:
    @pytest.fixture(autouse=True)
    def through(self, user):
        PersonTally.objects.update_or_create(
            user=user,
            defaults={"last": timezone.now(), "lessons_done": len(course_of(user.role))},
        )

    def test_and_no_exam_ever_started(self, user, staff, requirements):
        assert reasons_for(user, staff) == {"no-exam"}
        (why,) = urgent(staff)[0].whys
        assert f"all {len(course_of(user.role))} lessons" in why.words
        # One that runs still is an exam started; one long ago is none that was never taken.
        exam = Exam.objects.create(
            requirements=requirements, user=user, key=uuid.uuid4(), seed=1, pass_percent=70
        )
        assert reasons_for(user, staff) == set()
        Exam.objects.filter(pk=exam.pk).update(
            begun=timezone.now() - timedelta(days=700), handed_in=timezone.now(), passed=False
        )
        assert "no-exam" not in reasons_for(user, staff)

    def test_with_one_lesson_to_go(self, user, staff, requirements):
        PersonTally.objects.update(lessons_done=len(course_of(user.role)) - 1)
        assert reasons_for(user, staff) == set()

    def test_where_no_exam_can_be_taken(self, user, staff, requirements):
        Requirements.objects.update(is_open=False)
        assert reasons_for(user, staff) == set()
        Requirements.objects.update(is_open=True, track=Requirements.Track.OFFICER)
        assert reasons_for(user, staff) == set()

    def test_through_is_each_by_the_course_of_their_own_role(self, requirements):
        Requirements.objects.create(
            slug="officers", title="Officers", track=Requirements.Track.OFFICER, pass_percent=70
        )
        lengths = {role: len(course_of(role)) for role in (Role.TRAINEE, Role.OFFICER)}
        done = range(min(lengths.values()) - 1, max(lengths.values()) + 1)
        expected = set()
        for role, length in lengths.items():
            for number in done:
                email = f"{role}{number}@example.com"
                person = User.objects.create_user(email, None, name="Hand", role=role)
                PersonTally.objects.update_or_create(
                    user=person, defaults={"last": timezone.now(), "lessons_done": number}
                )
                if number >= length:
                    expected.add(email)
        assert 0 < len(expected) < 2 * len(done)
        found = reason_called("no-exam").found(timezone.now())
        assert {each.email for each in found if each.name == "Hand"} == expected


def test_the_stopped_are_told_by_what_became_of_their_certificate(user, staff):
    for until, words in ((None, "certificate taken back"), (-3, "certificate ran out on ")):
        active(user, numbers.QUIET_DAYS, "earned", until)
        called = to_call(reason_called("stopped"), staff).get()
        assert words in reason_called("stopped").why(called)


@pytest.mark.parametrize("name", ["calls", "calls_csv", "calls_print", "rules", "way"])
def test_only_staff(client, as_user, as_officer, name):
    address = reverse(f"desk:{name}")
    assert as_user.get(address).status_code == 403
    assert as_officer.get(address).status_code == 403
    assert client.get(address).url.startswith(reverse("people:sign_in"))


def test_only_staff_note_calls(client, as_user, user):
    address = reverse("desk:called", args=["person", user.pk])
    told = {"key": uuid.uuid4(), "outcome": "spoke"}
    assert as_user.post(address, told).status_code == 403
    assert client.post(address, told).status_code == 302
    assert not CallNote.objects.exists()
