"""Mixed practice: what comes next, what is passed over, and what comes back."""

import threading
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from django.db import connection
from django.urls import reverse
from django.utils import timezone

from tests.exercises.conftest import right_answer
from tests.lessons.helpers import law_of
from training.course import mixing
from training.exercises import handing, kinds
from training.exercises.models import Assignment, Attempt
from training.lessons import course
from training.recall import memory

pytestmark = pytest.mark.django_db

NEXT = reverse("exercises:next")
AT_ONCE = 4


def know(user, *keys, right=True, days_ago=1):
    for key in keys:
        memory.note(user, "no-sweep", key, right, timezone.now() - timedelta(days=days_ago))


def know_everything(user):
    """Have ``user`` know every rule of the course, none of them due."""
    keys = [key for _, key in law_of("trainee")]
    for days_ago in (12, 9, 1):
        know(user, *keys, days_ago=days_ago)


def turn_in(assignment):
    return handing.hand_in(assignment, right_answer(handing.task_of(assignment)))


def test_what_is_open_stays_until_it_is_turned_in(user):
    first = mixing.next_assignment(user)
    assert first.is_mixed
    assert mixing.next_assignment(user) == first
    turn_in(first)
    assert mixing.next_assignment(user) != first


def test_no_kind_and_no_rule_comes_twice_running(user):
    before = None
    for _ in range(len(kinds.KINDS) + 4):
        assignment = mixing.next_assignment(user)
        if before:
            assert assignment.kind != before.kind
            assert not set(assignment.focus) & set(before.focus)
        turn_in(assignment)
        before = assignment


def test_kinds_are_mixed(user):
    for _ in range(len(kinds.KINDS)):
        turn_in(mixing.next_assignment(user))
    done = Attempt.objects.by(user).values_list("assignment__kind", flat=True)
    # What was missed comes before what is new, by chance; eight kinds were the fewest of 40 tries.
    assert len(set(done)) > len(kinds.KINDS) / 2


def test_what_was_missed_comes_first(user):
    know_everything(user)
    know(user, "float_spacing", right=False, days_ago=0)
    assignment = mixing.next_assignment(user)
    kind = kinds.get(assignment.kind)
    assert assignment.focus == ["float_spacing"] or kind.covers_all
    task = handing.task_of(assignment)
    again = kind.generate(task.seed, task.rulebook, task.difficulty, tuple(assignment.focus))
    assert kind.shown(again) == kind.shown(task)


def test_what_is_due_comes_before_what_was_never_asked(user):
    know(user, "legs_equal", days_ago=30)
    assert mixing.next_assignment(user).focus == ["legs_equal"]


def test_need_is_told_by_what_is_remembered(user):
    today = timezone.localdate()
    know_everything(user)
    know(user, "no_sweep", right=False, days_ago=0)
    rows = {row.key: row for row in user.rule_memories.filter(rulebook_name="no-sweep")}
    assert mixing.of_rule(None, today) == mixing.NOT_ASKED
    assert mixing.of_rule(rows["no_sweep"], today) == mixing.DUE
    assert mixing.of_rule(rows["legs_equal"], today) == mixing.KNOWN
    assert mixing.of_kind(None) == mixing.NOT_ASKED
    assert mixing.of_kind((1, False)) == mixing.DUE
    assert mixing.of_kind((1, True)) == mixing.SHAKY
    assert mixing.of_kind((3, True)) == mixing.KNOWN


def test_rules_are_those_of_the_course(user, officer):
    for person in (user, officer):
        allowed = course.rule_sets(person.role)
        for _ in range(6):
            assignment = mixing.next_assignment(person)
            assert assignment.rulebook_name in allowed
            turn_in(assignment)


def test_what_is_passed_over_comes_back_as_the_same_task(user):
    first = mixing.next_assignment(user)
    assert mixing.pass_over(first)
    second = mixing.next_assignment(user)
    assert second.kind != first.kind
    assert not set(second.focus) & set(first.focus)
    turn_in(second)
    back = mixing.next_assignment(user)
    assert (back.pk, back.seed, back.passed_over) == (first.pk, first.seed, None)
    assert not Attempt.objects.filter(assignment=first).exists()  # nothing lost


def test_passing_over_never_gives_another_task_of_a_kind(user):
    seen = {}
    for _ in range(3 * len(kinds.KINDS)):
        assignment = mixing.next_assignment(user)
        assert seen.setdefault(assignment.kind, assignment.seed) == assignment.seed
        mixing.pass_over(assignment)
    assert Assignment.objects.count() == len(seen)


def test_what_is_turned_in_cannot_be_passed_over(user):
    assignment = mixing.next_assignment(user)
    turn_in(assignment)
    assert not mixing.pass_over(assignment)


def test_a_task_that_was_open_already_is_taken_up(user):
    assignments = {kind.slug: handing.open_assignment(user, kind) for kind in kinds.KINDS.values()}
    found = mixing.next_assignment(user)
    assert found == assignments[found.kind]
    assert Assignment.objects.filter(is_mixed=True).get() == found


@pytest.mark.django_db(transaction=True)
def test_asked_for_at_once_there_is_one_task(user):
    gate = threading.Barrier(AT_ONCE)

    def ask(_):
        gate.wait()
        try:
            return mixing.next_assignment(user).pk
        finally:
            connection.close()

    with ThreadPoolExecutor(AT_ONCE) as pool:
        assert len(set(pool.map(ask, range(AT_ONCE)))) == 1
    assert Assignment.objects.count() == 1


# The pages ------------------------------------------------------------------------------


def test_one_button_gives_the_next_task(as_user, user):
    page = as_user.get(reverse("exercises:list")).content.decode()
    assert "Give me a task" in page
    response = as_user.post(NEXT)
    assignment = Assignment.objects.get()
    assert response.url == reverse("exercises:do", args=[assignment.kind])
    page = as_user.get(response.url).content.decode()
    assert reverse("exercises:pass_over", args=[assignment.pk]) in page
    assert "Go on with my task" in as_user.get(reverse("exercises:list")).content.decode()
    attempt = turn_in(assignment)
    page = as_user.get(reverse("exercises:marked", args=[attempt.pk])).content.decode()
    assert "Next task" in page
    assert "Try another" not in page


def test_a_task_is_passed_over_by_a_button(as_user, user):
    as_user.post(NEXT)
    first = Assignment.objects.get()
    url = reverse("exercises:pass_over", args=[first.pk])
    response = as_user.post(url, follow=True)
    assert "Passed over." in response.content.decode()
    assert response.context["assignment"] != first
    as_user.post(url)  # twice: nothing more happens
    assert Assignment.objects.count() == 2
    assert as_user.get(url).status_code == 405


def test_nobody_passes_over_anothers_task(as_user, as_officer, user):
    as_user.post(NEXT)
    assignment = Assignment.objects.get()
    url = reverse("exercises:pass_over", args=[assignment.pk])
    assert as_officer.post(url).status_code == 404
    assignment.refresh_from_db()
    assert assignment.passed_over is None


def test_a_task_outside_mixed_practice_is_not_passed_over(as_user, user):
    assignment = handing.open_assignment(user, kinds.get("pick-chain"))
    page = as_user.get(reverse("exercises:do", args=["pick-chain"])).content.decode()
    assert "Pass over" not in page
    assert not mixing.pass_over(assignment)


def test_practice_takes_a_person(client):
    assert client.get(reverse("exercises:list")).status_code == 302
    assert client.post(NEXT).status_code == 302
