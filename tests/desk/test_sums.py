"""The sums kept beside the records are what a full recount of the records gives."""

import random
import threading
import uuid
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.db import connection, transaction
from django.utils import timezone

from rigs.rules import rulebook
from training.certification import certificates
from training.certification.models import Correction, Exam, Requirements
from training.course.progress import progress_for
from training.desk import sums
from training.desk.models import GroupRuleTally, PersonRuleTally, PersonTally
from training.desk.sums.counting import facts_of
from training.desk.way import EARNED, PASSED, how_far, way_of
from training.exercises import handing, kinds
from training.exercises.hands import answer, people
from training.exercises.kinds.space_droppers import answer_at
from training.exercises.models import Assignment, Attempt
from training.lessons import course
from training.lessons.loader import all_lessons
from training.lessons.models import LessonRead
from training.people.models import Group, Membership, Role, User
from training.recall import memory

pytestmark = pytest.mark.django_db


def practice_on(person, slug="space-droppers", skill=0.5, rng=None):
    """Hand in an answer of ``skill`` to the open task of a kind; return the Attempt."""
    assignment = handing.open_assignment(person, kinds.get(slug))
    mind = people.of_skill(person.email, skill) if skill else people.at_random(person.email)
    given = answer(slug, handing.task_of(assignment), mind, rng or random.Random(1))
    return handing.hand_in(assignment, given)


def sit(person, requirements, passed):
    """Begin an exam, hand it in with an outcome and, for a pass, issue the certificate."""
    exam = Exam.objects.create(
        requirements=requirements, user=person, key=uuid.uuid4(), seed=1, pass_percent=70
    )
    exam.handed_in = timezone.now()
    exam.marks, exam.out_of, exam.passed = (9 if passed else 1), 10, passed
    exam.save()
    if passed:
        certificates.issue(exam)
    return exam


RULES = [each for role in rulebook.COURSES for rule in course.rules(role) for each in rule.alike]


def wrong_sums():
    return list(sums.differences())


@pytest.fixture
def requirements(db):
    return Requirements.objects.create(
        slug="rigging",
        title="Rigging",
        track=Requirements.Track.FISHERMAN,
        rulebooks=["no-sweep"],
        pass_percent=70,
    )


class World:
    """Some people and groups to whom things happen by chance, as they do on the site."""

    def __init__(self, seed, requirements):
        self.rng, self.requirements = random.Random(seed), requirements
        self.groups = [
            Group.objects.create(name=f"Crews {number}", harbor="Eastlight") for number in range(3)
        ]
        roles = [Role.TRAINEE] * 4 + [Role.OFFICER, Role.STAFF]
        self.people = [
            User.objects.create_user(f"hand{number}@example.com", None, name="Hand", role=role)
            for number, role in enumerate(roles)
        ]
        self.deeds = (
            [self.practice_on] * 6
            + [self.read] * 5
            + [self.recall] * 6
            + [self.join] * 3
            + [self.leave, self.move, self.sit, self.correct, self.change_role]
        )

    def person(self):
        return self.rng.choice(self.people)

    def step(self):
        self.rng.choice(self.deeds)()

    def practice_on(self):
        practice_on(
            self.person(), self.rng.choice(sorted(kinds.KINDS)), self.rng.random(), self.rng
        )

    def read(self):
        LessonRead.objects.note(self.person(), self.rng.choice(all_lessons()).slug)

    def recall(self):
        name, key = self.rng.choice(RULES)
        memory.note(self.person(), name, key, right=self.rng.random() < 0.8)

    def join(self):
        Membership.objects.get_or_create(user=self.person(), group=self.rng.choice(self.groups))

    def membership(self):
        return self.rng.choice([None, *Membership.objects.order_by("pk")])

    def leave(self):
        if found := self.membership():
            found.delete()

    def move(self):
        found = self.membership()
        free = found and Group.objects.exclude(memberships__user=found.user).first()
        if free:
            found.group = free
            found.save()

    def sit(self):
        sit(self.person(), self.requirements, self.rng.random() < 0.5)

    def correct(self):
        if exam := Exam.objects.filter(corrections=None).first():
            Correction.objects.create(
                exam=exam, passed=not exam.passed, reason="Marked anew", by=self.people[-1]
            )

    def change_role(self):
        person = self.rng.choice(self.people[:-1])
        person.role = self.rng.choice([Role.TRAINEE, Role.OFFICER])
        person.save()


@pytest.mark.parametrize("seed", range(6))
def test_whatever_happens_they_equal_a_full_recount(requirements, seed):
    world = World(seed, requirements)
    for _ in range(60):
        world.step()
    assert wrong_sums() == []
    assert PersonRuleTally.objects.exists()
    before = snapshot()
    sums.rebuild()
    assert snapshot() == before
    for person in world.people:
        progress = progress_for(person)
        tally = PersonTally.objects.get(user=person)
        assert tally.lessons_done == progress.done
        assert tally.lessons_read == sum(each.read for each in progress.lessons)
        own = Attempt.objects.by(person)
        assert (tally.attempts, tally.passed) == (own.count(), own.passes().count())


def snapshot():
    """Return every row of the sums that counts anything, without its key."""
    return [
        sorted(
            row
            for row in model.objects.filter(asked__gt=0).values_list(
                *(each.attname for each in model._meta.fields if each.name != "id")
            )
        )
        for model in (PersonRuleTally, GroupRuleTally)
    ] + [sorted(map(str, PersonTally.objects.values_list()))]


class TestPerson:
    def test_attempts_count_and_passes_count(self, user):
        practice_on(user, skill=1)
        handing.hand_in(
            handing.open_assignment(user, kinds.get("space-droppers")), answer_at([0.0])
        )
        tally = user.tally
        assert (tally.attempts, tally.passed) == (2, 1)
        assert tally.last == Attempt.objects.first().handed_in

    def test_a_rule_counts_once_an_attempt(self, user):
        assignment = handing.open_assignment(user, kinds.get("space-droppers"))
        handing.hand_in(assignment, answer_at([0.0]))
        # Both corners were bare: that is one attempt.
        tally = user.rule_tallies.get(rule="dropper_at_corners")
        assert (tally.asked, tally.missed) == (1, 1)
        tally = user.rule_tallies.get(rule="dropper_at_centre")
        assert (tally.asked, tally.missed) == (1, 0)

    def test_the_step_is_the_furthest(self, user, requirements):
        lessons = [lesson for lesson in all_lessons() if lesson.is_for(user.role)]
        practiced = next(lesson for lesson in lessons if lesson.exercises)
        LessonRead.objects.note(user, lessons[0].slug)
        assert PersonTally.objects.get(user=user).lessons_done == 0  # its rule is not right yet
        memory.note(user, "no-sweep", "off_bottom", right=True)
        assert PersonTally.objects.get(user=user).step == f"read:{lessons[0].slug}"
        for kind in practiced.exercises:
            practice_on(user, kind, skill=1)
        tally = PersonTally.objects.get(user=user)
        assert tally.step == f"practiced:{practiced.slug}"
        assert (tally.lessons_read, tally.lessons_done) == (1, 1)
        sit(user, requirements, passed=True)
        assert PersonTally.objects.get(user=user).step == EARNED

    def test_a_exam_corrected_to_a_pass_counts(self, user, staff, requirements):
        exam = sit(user, requirements, passed=False)
        assert user.tally.step == "exam-begun"
        Correction.objects.create(exam=exam, passed=True, reason="A slip", by=staff)
        assert PersonTally.objects.get(user=user).step == PASSED

    def test_sitting_is_something_done(self, user, requirements):
        exam = sit(user, requirements, passed=False)
        assert PersonTally.objects.get(user=user).last == exam.handed_in

    def test_every_step_has_its_own_key(self):
        for role in Role.values:
            keys = [step.key for step in way_of(role)]
            assert len(keys) == len(set(keys))
            assert all(len(key) <= PersonTally._meta.get_field("step").max_length for key in keys)

    def test_a_kind_counts_as_often_as_it_was_passed(self, officer):
        for __ in range(3):
            practice_on(officer, skill=1)
        passes = Attempt.objects.by(officer).passes().count()
        assert passes > 1
        assert facts_of([officer.pk])[officer.pk].passed == {"space-droppers": passes}

    def test_nothing_done_is_signed_up(self, user):
        assert how_far(facts_of([user.pk])[user.pk]) == (0, 0, "")


class TestGroup:
    def tally(self, group):
        tally = GroupRuleTally.objects.get(group=group, rule="dropper_at_corners")
        return tally.asked, tally.missed, tally.people, tally.people_missed

    def test_people_count_once(self, user, group):
        other = User.objects.create_user("hand@example.com", None, name="Hand")
        Membership.objects.create(group=group, user=other)
        for person, places in ((user, [0.0]), (user, [0.0]), (other, None)):
            assignment = handing.open_assignment(person, kinds.get("space-droppers"))
            right = handing.task_of(assignment).fewest
            handing.hand_in(assignment, answer_at(places or right))
        assert self.tally(group) == (3, 2, 2, 1)

    def test_who_joins_later_brings_what_he_did(self, user, group):
        handing.hand_in(
            handing.open_assignment(user, kinds.get("space-droppers")), answer_at([0.0])
        )
        other = Group.objects.create(name="Eastlight crews", harbor="Eastlight")
        membership = Membership.objects.create(group=other, user=user)
        assert self.tally(other) == self.tally(group) == (1, 1, 1, 1)
        membership.delete()
        assert self.tally(other) == (0, 0, 0, 0)
        assert self.tally(group) == (1, 1, 1, 1)

    def test_memberships_deleted_in_bulk_are_taken_out(self, user, group):
        practice_on(user)
        Membership.objects.all().delete()
        assert self.tally(group)[:1] == (0,)
        assert wrong_sums() == []

    def test_a_person_without_records_can_be_deleted(self, user, group):
        user.delete()
        assert not PersonTally.objects.exists()
        assert wrong_sums() == []

    def test_a_sum_that_is_wrong_keeps_nobody_from_leaving(self, user, group):
        practice_on(user)
        GroupRuleTally.objects.update(asked=0, people=0)
        user.memberships.get().delete()
        assert self.tally(group)[0] == 0


class TestCommand:
    def run(self, *options):
        out = StringIO()
        call_command("sums", *options, stdout=out)
        return out.getvalue()

    def spoil(self, person):
        Attempt.objects.bulk_create([copy_of(practice_on(person))])

    def test_says_that_all_is_well(self, user):
        practice_on(user)
        assert "as a full recount has them" in self.run("--check")

    def test_names_what_differs_and_fails(self, user, group):
        practice_on(user)
        PersonTally.objects.update(attempts=7)
        GroupRuleTally.objects.filter(rule="dropper_at_corners").update(people=0)
        out = StringIO()
        with pytest.raises(CommandError, match="^2 differences"):
            call_command("sums", "--check", stdout=out)
        assert f"Person {user.pk}: attempts is 7, counted 1." in out.getvalue()
        assert "dropper_at_corners: people is 0, counted 1." in out.getvalue()
        assert PersonTally.objects.get().attempts == 7

    def test_counts_what_went_by_the_signals(self, user):
        self.spoil(user)
        assert wrong_sums()
        self.run()
        assert wrong_sums() == []
        assert PersonTally.objects.get(user=user).attempts == 2

    def test_mends_what_is_wrong_with_a_group_alone(self, user):
        practice_on(user)
        GroupRuleTally.objects.update(missed=40)
        GroupRuleTally.objects.create(group=user.memberships.get().group, rule="gone", asked=3)
        self.run()
        assert wrong_sums() == []

    def test_stopped_half_way_it_leaves_sums_that_agree(self, user, officer, group, monkeypatch):
        Membership.objects.create(group=group, user=officer)
        for person in (user, officer):
            self.spoil(person)
        monkeypatch.setattr("training.desk.sums.recounting.PEOPLE_AT_ONCE", 1)
        real, seen = sums.recount, []

        def stop_at_second(pks):
            if seen:
                raise KeyboardInterrupt
            seen.append(pks)
            real(pks)

        monkeypatch.setattr("training.desk.sums.recounting.recount", stop_at_second)
        with pytest.raises(CommandError, match="Stopped"):
            self.run()
        # The second person is as wrong as before; the group agrees with both.
        left = wrong_sums()
        assert left
        assert not [each for each in left if each.startswith("Group")]
        assert {each.split()[1].rstrip(":") for each in left if "rule" not in each} == {
            str(max(user.pk, officer.pk))
        }

    def test_some_people_alone(self, user, officer):
        for person in (user, officer):
            self.spoil(person)
        sums.recount([user.pk])
        assert PersonTally.objects.get(user=user).attempts == 2
        assert PersonTally.objects.get(user=officer).attempts == 1


def copy_of(attempt):
    """Return another Attempt like ``attempt``, not saved, with an assignment that is."""
    assignment = attempt.assignment
    twin = Assignment.objects.create(
        user=assignment.user,
        kind=assignment.kind,
        seed=assignment.seed,
        difficulty=assignment.difficulty,
        rulebook_name=assignment.rulebook_name,
        rulebook_version=assignment.rulebook_version,
        is_open=False,
    )
    return Attempt(
        assignment=twin,
        answer=attempt.answer,
        marks=attempt.marks,
        out_of=attempt.out_of,
        passed=attempt.passed,
        findings=attempt.findings,
    )


@pytest.mark.django_db(transaction=True)
class TestAtOnce:
    """Threads with connections of their own, as requests have."""

    THREADS, ROUNDS = 4, 5

    def run(self, work):
        gate = threading.Barrier(self.THREADS)

        def begin(number):
            gate.wait()
            try:
                for turn in range(self.ROUNDS):
                    work(number, turn)
            finally:
                connection.close()

        with ThreadPoolExecutor(self.THREADS) as pool:
            list(pool.map(begin, range(self.THREADS)))

    def test_hand_ins_of_a_group(self, group):
        people = []
        for number in range(2):
            person = User.objects.create_user(f"hand{number}@example.com", None, name="Hand")
            Membership.objects.create(group=group, user=person)
            people.append(person)

        def work(number, turn):
            # Two threads a person: both sums are added to from several sides.
            rng = random.Random(10 * number + turn)
            slug = ["space-droppers", "judge-rig"][number // 2]
            practice_on(people[number % 2], slug, rng.random(), rng)

        self.run(work)
        assert sum(tally.attempts for tally in PersonTally.objects.all()) == 20
        assert wrong_sums() == []

    def test_hand_ins_while_people_come_and_go_and_all_is_counted_anew(self, user, group):
        def work(number, turn):
            if number == 0:
                sums.rebuild()
            elif number == 1:
                with transaction.atomic():
                    Membership.objects.filter(user=user).delete()
                    Membership.objects.create(user=user, group=group)
            else:
                rng = random.Random(10 * number + turn)
                practice_on(user, ["space-droppers", "judge-rig"][number - 2], rng.random(), rng)

        self.run(work)
        assert user.tally.attempts == 10
        assert wrong_sums() == []

    def test_one_membership_taken_away_twice(self, user, group):
        practice_on(user)
        practice_on(other := User.objects.create_user("o@example.com", None, name="O"))
        Membership.objects.create(user=other, group=group)

        def work(number, turn):
            Membership.objects.filter(user=user).delete()

        self.run(work)
        assert wrong_sums() == []


def test_a_hand_in_that_is_refused_counts_nothing(user):
    practice_and_stop = transaction.atomic(lambda: (practice_on(user), 1 / 0))
    with pytest.raises(ZeroDivisionError):
        practice_and_stop()
    assert not PersonTally.objects.filter(attempts__gt=0).exists()
    assert not GroupRuleTally.objects.filter(asked__gt=0).exists()


def test_the_second_answer_of_a_double_tap_counts_nothing(user):
    attempt = practice_on(user)
    handing.hand_in(attempt.assignment, answer_at([0.0]))
    assert PersonTally.objects.get(user=user).attempts == 1


def test_the_latest_is_the_latest_whatever_the_order(user):
    now = timezone.now()
    for days in (3, 1, 2):
        LessonRead.objects.create(
            user=user, slug=f"lesson-{days}", read_at=now - timedelta(days=days)
        )
    assert PersonTally.objects.get(user=user).last == now - timedelta(days=1)


def test_the_exact_number_of_queries(user, django_assert_num_queries):
    """Three for an attempt not passed, however many rules and groups it counts for."""
    for number in range(3):
        other = Group.objects.create(name=f"Crews {number}")
        Membership.objects.create(group=other, user=user)
    failed, passed = (
        practice_on(user, "judge-rig", skill=skill, rng=random.Random(3)) for skill in (0, 1)
    )
    assert not failed.passed
    assert passed.passed
    with django_assert_num_queries(3):
        sums.attempt_made(failed)
    with django_assert_num_queries(5):
        sums.attempt_made(passed)
