"""Who has read what, when a lesson is complete, and what comes next."""

from threading import Barrier, Thread

import pytest
from django.db import connection

from training.accounts.models import Role, User
from training.exercises.models import Assignment, Attempt
from training.lessons.loader import all_lessons
from training.lessons.models import LessonRead
from training.lessons.progress import progress_for, progress_for_many

DROPPERS = "droppers"


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


def test_nobody_begins_with_anything_done(user):
    progress = progress_for(user)
    assert progress.done == 0
    assert not progress.complete
    assert progress.next_step.lesson is all_lessons()[0]
    assert progress.next_step.url == "/lessons/why-fish-part/"
    assert progress.minutes_left == sum(each.lesson.minutes for each in progress.lessons)


def test_a_lesson_without_practice_is_complete_when_read(user):
    LessonRead.objects.note(user, "why-fish-part")
    progress = progress_for(user)
    assert progress.of("why-fish-part").complete
    assert progress.done == 1
    assert progress.next_step.lesson.slug == "what-a-sweep-costs"


def test_a_lesson_with_practice_is_complete_when_that_is_passed_too(user):
    LessonRead.objects.note(user, DROPPERS)
    state = progress_for(user).of(DROPPERS)
    assert (state.read, state.complete, state.state) == (True, False, "read; practice next")
    attempt(user, "space-droppers", passed=False)
    assert not progress_for(user).of(DROPPERS).complete
    attempt(user, "space-droppers", passed=True)
    attempt(user, "space-droppers", passed=False)
    assert progress_for(user).of(DROPPERS).complete


def test_practice_alone_does_not_complete_a_lesson(user):
    attempt(user, "space-droppers", passed=True)
    state = progress_for(user).of(DROPPERS)
    assert (state.complete, state.state, state.left) == (False, "not read yet", ())


def test_practice_left_undone_comes_before_the_next_lesson(user):
    for lesson in all_lessons()[:4]:
        LessonRead.objects.note(user, lesson.slug)
    step = progress_for(user).next_step
    assert (step.kind, step.url) == ("space-droppers", "/exercises/space-droppers/")
    assert step.label.startswith("Practice: ")


def test_there_is_no_next_step_once_all_is_done(user):
    read_all(user)
    for kind in {kind for lesson in all_lessons() for kind in lesson.exercises}:
        attempt(user, kind, passed=True)
    progress = progress_for(user)
    assert progress.complete
    assert progress.next_step is None
    assert progress.minutes_left == 0


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
        "from-wing-end-to-centre",
        "taking-each-measure",
        "what-goes-on-the-sheet",
        "being-fair",
        "where-when-and-what-is-kept",
    }
    assert courses["staff"] == courses["trainee"] | courses["officer"]


def test_many_people_take_as_few_queries_as_one(group, django_assert_num_queries):
    people = [
        User.objects.create_user(f"crew{i}@example.com", name=f"Crew {i}", role=Role.TRAINEE)
        for i in range(30)
    ]
    for person in people[:10]:
        LessonRead.objects.note(person, "why-fish-part")
        attempt(person, "judge-rig", passed=True)
    all_lessons()
    with django_assert_num_queries(2):
        found = progress_for_many(people)
    assert [found[person.pk].done for person in people] == [1] * 10 + [0] * 20
    assert found[people[0].pk] == progress_for(people[0])


def test_nobody_at_all(db):
    assert progress_for_many([]) == {}
