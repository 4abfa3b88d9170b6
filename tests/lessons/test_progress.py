"""Who has read what, when a lesson is complete, and what comes next."""

from datetime import timedelta
from threading import Barrier, Thread

import pytest
from django.db import connection
from django.utils import timezone

from rigs.rules import rulebook
from tests.lessons.helpers import law_of
from training.course import progress as progress_module
from training.course.progress import progress_for, progress_for_many
from training.exercises.kinds import KINDS
from training.exercises.models import Assignment, Attempt
from training.lessons.loader import all_lessons
from training.lessons.models import LessonRead
from training.people.models import Role, User
from training.recall import memory, remembered, sets
from training.recall.models import RuleMemory

DROPPERS = "droppers"
LEGS = "legs-and-ground-cables"
SHINE = "shine-and-tuning"


def attempt(user, kind, passed):
    assignment = Assignment.objects.create(
        user=user,
        kind=kind,
        seed=1,
        difficulty=1,
        rulebook_name="no-sweep",
        rulebook_version="1",
        is_open=False,
    )
    return Attempt.objects.create(
        assignment=assignment, answer={}, marks=int(passed), out_of=1, passed=passed, findings=[]
    )


def read_all(user):
    for lesson in all_lessons():
        LessonRead.objects.note(user, lesson.slug)


def test_reading_is_noted_once(user):
    first = LessonRead.objects.note(user, DROPPERS)
    assert LessonRead.objects.note(user, DROPPERS) == first
    assert LessonRead.objects.note(user, DROPPERS).read_at == first.read_at
    assert LessonRead.objects.count() == 1


@pytest.mark.django_db(transaction=True)
def test_reading_said_twice_at_once_is_noted_once(user):
    gate = Barrier(4)
    failures = []

    def say():
        try:
            gate.wait()
            LessonRead.objects.note(user, DROPPERS)
        except Exception as error:
            failures.append(error)
        finally:
            connection.close()

    threads = [Thread(target=say) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    assert LessonRead.objects.count() == 1


def right_about(user, *keys, right=True, when=None):
    """Have ``user`` answer about ``keys`` by the first of the crews' rule sets that asks each."""
    names = {key: name for name, key in reversed(law_of("trainee"))}
    for key in keys:
        memory.note(user, names[key], key, right, when)


def know_all(user):
    """Have ``user`` be right about every rule of the course once."""
    right_about(user, *dict(reversed(each) for each in law_of("trainee")))


def pass_all(user):
    for lesson in all_lessons():
        for kind in lesson.exercises:
            attempt(user, kind, passed=True)


def test_nobody_begins_with_anything_done(user):
    progress = progress_for(user)
    assert progress.done == 0
    assert not progress.complete
    assert progress.next_step.lesson is all_lessons()[0]
    assert progress.next_step.url == "/lessons/why-fish-part/"
    assert progress.next_step.minutes == progress.lessons[0].minutes
    assert (
        progress.minutes_left == progress.minutes == sum(each.minutes for each in progress.lessons)
    )


def test_every_lesson_of_a_course_is_done_by_doing(user, officer):
    for person in (user, officer):
        for state in progress_for(person).lessons:
            LessonRead.objects.note(person, state.lesson.slug)
        assert [each.lesson.slug for each in progress_for(person).lessons if each.complete] == []


def test_a_lesson_with_rules_is_complete_when_each_was_right_once(user):
    LessonRead.objects.note(user, LEGS)
    state = progress_for(user).of(LEGS)
    assert (state.read, state.complete, state.state) == (True, False, "read; readings next")
    keys = [each.key for each in state.rules_left]
    assert "legs_equal" in keys
    right_about(user, *keys[1:])
    right_about(user, keys[0], right=False)
    state = progress_for(user).of(LEGS)
    assert [each.key for each in state.rules_left] == keys[:1]
    assert not state.complete
    right_about(user, keys[0])
    assert progress_for(user).of(LEGS).complete
    right_about(user, keys[0], right=False)  # what is forgotten comes back, but was done
    assert progress_for(user).of(LEGS).complete


def test_rules_of_gear_that_the_course_is_not_about_are_not_asked(user, officer):
    keys = {
        person.role: [each.rule.key for each in progress_for(person).of("what-a-sweep-costs").rules]
        for person in (user, officer)
    }
    assert keys["trainee"] == ["no_sweep"]
    assert {"no_sweep", "sweep_stock"} <= set(keys["officer"])


def test_an_officer_is_asked_for_both_sizes_of_chain(officer):
    rules = [each.rule for each in progress_for(officer).of("chain-stock").rules]
    books = [each.rulebook_name for each in rules if each.key == "dropper_stock"]
    assert {"chain-sweep", "no-sweep"} <= set(books)
    limits = {rulebook.load(name).requirement("dropper_stock").limit for name in books}
    assert len(limits) == len(books)
    # What the rule sets ask alike is asked once.
    assert [each.key for each in rules].count("dropper_bare") == 1


def test_a_lesson_with_practice_is_complete_when_that_is_passed_too(user):
    LessonRead.objects.note(user, SHINE)
    state = progress_for(user).of(SHINE)
    assert (state.read, state.complete, state.state) == (True, False, "read; practice next")
    attempt(user, "read-shine", passed=False)
    assert not progress_for(user).of(SHINE).complete
    attempt(user, "read-shine", passed=True)
    attempt(user, "read-shine", passed=False)
    assert progress_for(user).of(SHINE).complete


def test_a_kind_that_several_lessons_have_is_passed_once_for_each(officer):
    lessons = [each for each in all_lessons() if each.is_for("officer")]
    slugs = [each.slug for each in lessons if "judge-rig" in each.exercises]
    assert len(slugs) > 2

    def passed():
        states = map(progress_for(officer).of, slugs)
        return [
            each.passed for state in states for each in state.practice if each.slug == "judge-rig"
        ]

    for count in range(len(slugs)):
        assert passed() == [True] * count + [False] * (len(slugs) - count)
        attempt(officer, "judge-rig", passed=True)


def test_practice_alone_does_not_complete_a_lesson(user):
    attempt(user, "read-shine", passed=True)
    state = progress_for(user).of(SHINE)
    assert (state.complete, state.state, state.left) == (False, "not read yet", ())


def test_practice_beyond_the_lesson_is_not_needed(user):
    state = progress_for(user).of("what-an-officer-checks")
    assert [each.slug for each in state.more] == ["measure-drawing"]
    LessonRead.objects.note(user, "what-an-officer-checks")
    attempt(user, "judge-rig", passed=True)
    right_about(user, *(each.key for each in state.rules_left))
    assert progress_for(user).of("what-an-officer-checks").complete


def test_what_was_begun_comes_before_the_next_lesson(user):
    LessonRead.objects.note(user, DROPPERS)
    step = progress_for(user).next_step
    assert step.kind == "one-reading"
    assert step.url == "/lessons/droppers/#readings"
    right_about(user, *(each.key for each in progress_for(user).of(DROPPERS).rules_left))
    step = progress_for(user).next_step
    assert (step.kind, step.url) == ("space-droppers", "/exercises/space-droppers/")
    assert step.label.startswith("Practice: ")


def test_what_was_missed_leads_and_what_is_known_comes_last(user):
    know_all(user)
    progress = progress_for(user)
    # Lessons without rules, since nothing shows yet that they are known.
    assert progress.next_step.lesson.slug == SHINE
    assert progress.of(LEGS).knows_rules
    assert not progress.of(LEGS).known  # right once can be luck
    right_about(user, "legs_equal", right=False)
    progress = progress_for(user)
    assert progress.next_step.lesson.slug == LEGS
    assert progress.next_step.why == "You missed a rule of this lesson."
    assert progress.of(LEGS).missed == 1


def test_rules_right_on_several_days_are_known(user):
    keys = [each.rule.key for each in progress_for(user).of(LEGS).rules]
    now = timezone.now()
    for days in (30, 20, 5):
        right_about(user, *keys, when=now - timedelta(days=days))
    assert progress_for(user).of(LEGS).known


def test_a_course_follows_its_lessons(user, monkeypatch):
    whole = progress_for(user)
    first, *others = all_lessons()
    monkeypatch.setattr(progress_module, "all_lessons", lambda: tuple(others))
    shorter = progress_for(user)
    assert [each.lesson for each in shorter.lessons] == [each.lesson for each in whole.lessons[1:]]
    assert [each.number for each in shorter.lessons] == list(range(1, shorter.total + 1))
    monkeypatch.undo()
    assert progress_for(user) == whole


def test_what_is_remembered_is_the_same_asked_for_one_and_for_many(user):
    know_all(user)
    other = User.objects.create_user("two@example.com", None, name="Two")
    right_about(other, "legs_equal", right=False, when=timezone.now() - timedelta(days=9))
    plain = {person.pk: {} for person in (user, other)}
    for row in RuleMemory.objects.all():
        plain[row.user_id][row.rulebook_name, row.key] = row
    fields = [field.attname for field in RuleMemory._meta.concrete_fields]

    def told(found):
        return {
            pk: {rule: [getattr(row, name) for name in fields] for rule, row in rows.items()}
            for pk, rows in found.items()
        }

    assert all(plain.values())
    assert told(remembered.by_rule([user, other])) == told(plain)
    for person in (user, other):  # one after the other: what is written once keeps nobody
        assert told(remembered.by_rule([person])) == {person.pk: told(plain)[person.pk]}
    assert not remembered.by_rule([])


def open_known(user, slug):
    state = progress_for(user).of(slug)
    return sets.open_set(
        user,
        "lesson",
        [(each.rule.rulebook_name, each.rule.key) for each in state.rules],
        subject=f"{slug}/known",
        each=state.each_to_pass,
    )


def answer_all(reading_set, miss=0):
    for number, reading in enumerate(reading_set.readings.all()):
        right = sets.task_of(reading).right
        wrong = {"met": "broken", "broken": "met"}[right]
        sets.answer(reading, {"said": wrong if number < miss else right})


def test_a_lesson_is_passed_unread_by_two_readings_a_rule_all_right(user):
    reading_set = open_known(user, LEGS)
    state = progress_for(user).of(LEGS)
    assert reading_set.readings.count() == state.readings_to_pass == 2 * len(state.rules)
    answer_all(reading_set)
    state = progress_for(user).of(LEGS)
    assert (state.complete, state.read) == (True, False)
    assert state.state == "passed by its readings"


def test_one_miss_and_a_lesson_is_not_passed_unread(user):
    answer_all(open_known(user, LEGS), miss=1)
    assert not progress_for(user).of(LEGS).complete
    # Other readings may be tried, and those that were right count as readings.
    answer_all(open_known(user, LEGS))
    assert progress_for(user).of(LEGS).complete


def test_a_lesson_of_one_rule_takes_more_than_two_readings_to_pass(user):
    state = progress_for(user).of("what-a-sweep-costs")
    assert len(state.rules) == 1
    assert state.readings_to_pass == 6


def test_a_set_at_the_end_of_a_lesson_does_not_pass_it_unread(user):
    state = progress_for(user).of(LEGS)
    rules = [(each.rule.rulebook_name, each.rule.key) for each in state.rules]
    answer_all(sets.open_set(user, "lesson", rules, subject=LEGS))
    assert not progress_for(user).of(LEGS).complete
    LessonRead.objects.note(user, LEGS)
    assert progress_for(user).of(LEGS).complete


def test_there_is_no_next_step_once_all_is_done(user):
    read_all(user)
    pass_all(user)
    know_all(user)
    progress = progress_for(user)
    assert progress.complete
    assert progress.next_step is None
    assert progress.minutes_left == 0


def test_each_kind_an_exam_may_ask_is_met_in_a_lesson_of_the_course():
    # Staff compose exams of any kind. Officers do not convert nets: theirs is told of no steps.
    for role, not_taught in (("trainee", set()), ("officer", {"order-conversion"})):
        own = [each for each in all_lessons() if each.is_for(role)]
        met = {slug for slug, kind in KINDS.items() if any(map(kind.is_met_in, own))}
        assert set(KINDS) - met == not_taught


def test_somebody_elses_work_does_not_count(user, officer):
    read_all(officer)
    attempt(officer, "space-droppers", passed=True)
    assert progress_for(user).done == 0


def test_each_role_has_its_own_course(user, officer, staff):
    courses = {
        role: {each.lesson.slug for each in progress_for(person).lessons}
        for role, person in (("trainee", user), ("officer", officer), ("staff", staff))
    }
    assert courses["trainee"] - courses["officer"] == {"converting-step-by-step"}
    assert courses["officer"] - courses["trainee"] == {
        "measuring-alike",
        "from-wing-end-to-center",
        "taking-each-measure",
        "what-goes-on-the-sheet",
        "being-fair",
        "where-when-and-what-is-kept",
        "what-may-be-kept",
    }
    assert courses["staff"] == courses["trainee"] | courses["officer"]


def test_many_people_take_as_few_queries_as_one(group, django_assert_num_queries):
    people = [
        User.objects.create_user(f"crew{i}@example.com", name=f"Crew {i}", role=Role.TRAINEE)
        for i in range(30)
    ]
    for person in people[:10]:
        LessonRead.objects.note(person, SHINE)
        attempt(person, "read-shine", passed=True)
    all_lessons()
    with django_assert_num_queries(2):
        found = progress_for_many(people)
    assert [found[person.pk].done for person in people] == [1] * 10 + [0] * 20
    assert found[people[0].pk] == progress_for(people[0])


def test_nobody_at_all(db):
    assert progress_for_many([]) == {}
