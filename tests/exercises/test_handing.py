"""Setting, handing in and marking again, below the pages."""

import threading
from concurrent.futures import ThreadPoolExecutor
from datetime import date

import pytest
from django.db import IntegrityError, connection, transaction
from django.db.models import ProtectedError
from django.urls import reverse

from rigs.rules import rulebook
from tests.exercises.conftest import right_answer
from training.exercises import handing, kinds
from training.exercises.kinds.base import BadAnswer
from training.exercises.kinds.space_droppers import answer_at
from training.exercises.models import Assignment, Attempt

AT_ONCE = 4


def at_once(work):
    """Return what ``work`` returned in several threads that began together."""
    gate = threading.Barrier(AT_ONCE)

    def run(_):
        gate.wait()
        try:
            return work()
        finally:
            connection.close()

    with ThreadPoolExecutor(AT_ONCE) as pool:
        return list(pool.map(run, range(AT_ONCE)))


def pass_once(user, kind):
    assignment = handing.open_assignment(user, kind)
    return handing.hand_in(assignment, right_answer(handing.task_of(assignment)))


def test_the_open_task_stays_until_it_is_handed_in(user, kind, assignment):
    assert handing.open_assignment(user, kind) == assignment
    attempt = handing.hand_in(assignment, right_answer(handing.task_of(assignment)))
    assert attempt.passed
    assert attempt.marks == attempt.out_of
    assert handing.open_assignment(user, kind) != assignment


def test_the_database_holds_one_open_assignment_each(assignment):
    with pytest.raises(IntegrityError), transaction.atomic():
        Assignment.objects.create(
            user=assignment.user,
            kind=assignment.kind,
            seed=1,
            difficulty=1,
            rulebook_name="no-sweep",
            rulebook_version="1",
        )


def test_the_database_holds_one_attempt_an_assignment(assignment):
    attempt = handing.hand_in(assignment, right_answer(handing.task_of(assignment)))
    with pytest.raises(IntegrityError), transaction.atomic():
        Attempt.objects.create(
            assignment=assignment, answer={}, marks=0, out_of=1, passed=False, findings=[]
        )
    assert Attempt.objects.get() == attempt


def test_difficulty_rises_with_every_two_passes_of_that_kind_only(user, kind):
    for expected in (1, 1, 2, 2, 3, 3, 3):
        assert handing.open_assignment(user, kind).difficulty == expected
        assert pass_once(user, kind).passed
    other = next(each for each in kinds.KINDS.values() if each is not kind)
    assert handing.open_assignment(user, other).difficulty == 1


RIGHT, WRONG = True, False


@pytest.mark.parametrize(
    ("oldest_first", "expected"),
    [
        ([], 1),
        ([(1, RIGHT)], 1),
        ([(1, RIGHT), (1, RIGHT)], 2),
        ([(1, RIGHT), (1, WRONG), (1, RIGHT)], 1),
        # At the level above the count of two begins again.
        ([(1, RIGHT), (1, RIGHT), (2, RIGHT)], 2),
        ([(1, RIGHT), (1, RIGHT), (2, RIGHT), (2, RIGHT)], 3),
        ([(2, RIGHT), (3, WRONG)], 2),
        # Right where one fell back to: once is not twice running.
        ([(2, RIGHT), (2, RIGHT), (3, WRONG), (2, RIGHT)], 2),
        ([(1, WRONG)], 1),
        ([(3, RIGHT), (3, RIGHT)], 3),
    ],
)
def test_two_right_running_go_up_and_one_wrong_goes_down(oldest_first, expected):
    assert handing.staircase(oldest_first[::-1]) == expected


def test_a_failed_attempt_lowers_the_difficulty(user):
    kind = kinds.get("space-droppers")
    for _ in range(2):
        pass_once(user, kind)
    assignment = handing.open_assignment(user, kind)
    assert assignment.difficulty == 2
    assert not handing.hand_in(assignment, answer_at([0.0])).passed
    assert handing.open_assignment(user, kind).difficulty == 1


def test_tasks_come_from_the_rule_set_in_force(user, assignment):
    book = rulebook.in_force(assignment.rulebook_name, date.today())
    assert assignment.rulebook == book
    assert handing.task_of(assignment).rulebook == book


def test_the_first_answer_stands(user):
    assignment = handing.open_assignment(user, kinds.get("space-droppers"))
    first = handing.hand_in(assignment, answer_at([0.0]))
    again = handing.hand_in(assignment, right_answer(handing.task_of(assignment)))
    assert again == first
    assert again.answer == answer_at([0.0])


def test_an_answer_that_cannot_be_read_saves_nothing(user, kind, assignment):
    with pytest.raises(BadAnswer):
        handing.hand_in(assignment, {"port": "some way out"})
    assert not Attempt.objects.exists()
    assert handing.open_assignment(user, kind) == assignment


@pytest.mark.parametrize("part", [0.0, 0.5, 1.0])
def test_marking_again_from_the_raw_answer_gives_the_same(user, part):
    """The marks of years ago come out the same from what is stored."""
    for kind in kinds.KINDS.values():
        assignment = handing.open_assignment(user, kind)
        answer = right_answer(handing.task_of(assignment))
        if "port" in answer:
            answer["port"] = answer["port"][: int(len(answer["port"]) * part)].rpartition("\n")[0]
        handing.hand_in(assignment, answer)
    for attempt in Attempt.objects.all():
        marked = handing.remark(attempt)
        assert (marked.marks, marked.out_of, marked.passed) == (
            attempt.marks,
            attempt.out_of,
            attempt.passed,
        )
        assert [line.as_record() for line in marked.lines] == attempt.findings
        assert list(marked.remarks) == attempt.remarks


def test_what_is_on_record_cannot_be_deleted_with_its_person(user, assignment):
    handing.hand_in(assignment, right_answer(handing.task_of(assignment)))
    with pytest.raises(ProtectedError):
        user.delete()
    with pytest.raises(ProtectedError):
        assignment.delete()


@pytest.mark.django_db(transaction=True)
def test_windows_opened_at_once_get_one_task(user):
    kind = kinds.get("judge-rig")
    assert len(set(at_once(lambda: handing.open_assignment(user, kind).pk))) == 1
    assert Assignment.objects.count() == 1


@pytest.mark.django_db(transaction=True)
def test_handed_in_at_once_there_is_one_attempt(user):
    assignment = handing.open_assignment(user, kinds.get("space-droppers"))
    answer = right_answer(handing.task_of(assignment))
    assert len(set(at_once(lambda: handing.hand_in(assignment, answer).pk))) == 1
    assert Attempt.objects.get().passed


def test_administrators_see_records_in_the_admin_and_cannot_change_them(as_staff, staff, user):
    staff.is_superuser = True
    staff.save()
    as_staff.force_login(staff)  # another role ends what was signed in
    kind = kinds.get("space-droppers")
    assignment = handing.open_assignment(user, kind)
    attempt = handing.hand_in(assignment, answer_at(handing.task_of(assignment).fewest))
    page = as_staff.get(reverse("admin:exercises_attempt_change", args=[attempt.pk]))
    assert page.status_code == 200
    assert 'name="_save"' not in page.content.decode()
    gone = as_staff.post(reverse("admin:exercises_attempt_delete", args=[attempt.pk]))
    assert gone.status_code == 403
