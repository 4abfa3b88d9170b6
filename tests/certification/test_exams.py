"""Exams below the pages: begun, saved, handed in and marked."""

import threading
import uuid
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
from django.db import connection
from django.utils import timezone

from tests.certification.candidates import answer, begin, make_requirements, make_strict
from tests.exercises.conftest import right_answer
from training.certification import audit, exams
from training.certification.exams import ExamClosed, MayNotBegin, StaleAnswer
from training.certification.models import Certificate, Exam, ExamTask

AT_ONCE = 50


@pytest.fixture
def requirements(db):
    return make_requirements()


@pytest.fixture
def exam(user, requirements):
    return begin(user, requirements)


@pytest.fixture
def task(exam):
    return exam.tasks.first()


def test_the_same_key_begins_one_exam(user, requirements):
    key = uuid.uuid4()
    assert exams.begin(user, requirements, key) == exams.begin(user, requirements, key)
    assert Exam.objects.count() == 1


def test_an_open_exam_is_gone_on_with(user, requirements, exam):
    assert begin(user, requirements) == exam


def test_a_key_does_not_open_another_persons_exam(officer, requirements, exam):
    with pytest.raises(MayNotBegin):
        exams.begin(officer, requirements, exam.key)


def test_a_requirements_of_the_other_track_is_refused(officer, requirements):
    with pytest.raises(MayNotBegin, match="This certificate is for (officers|fishermen)"):
        begin(officer, requirements)


def test_a_closed_requirements_is_refused(user, requirements):
    requirements.is_open = False
    with pytest.raises(MayNotBegin, match="not open"):
        begin(user, requirements)


def test_attempts_run_out(user):
    requirements = make_requirements(attempts_allowed=2)
    for _ in range(2):
        exams.hand_in(begin(user, requirements))
    with pytest.raises(MayNotBegin, match="all 2 attempts"):
        begin(user, requirements)


def test_a_pass_gives_all_attempts_back(user):
    requirements = make_requirements(attempts_allowed=2)
    exams.hand_in(begin(user, requirements))
    exam = begin(user, requirements)
    answer(exam)
    assert exams.hand_in(exam).passed
    assert begin(user, requirements) != exam


def test_the_wait_is_kept_to_the_minute(user):
    requirements = make_requirements(waiting_days=2)
    start = timezone.now()
    exams.hand_in(begin(user, requirements, start), start)
    with pytest.raises(MayNotBegin, match="try again from"):
        begin(user, requirements, start + timedelta(days=2, seconds=-1))
    assert begin(user, requirements, start + timedelta(days=2)).begun == start + timedelta(days=2)


def test_a_exam_keeps_the_terms_it_was_begun_on(user, requirements, exam):
    requirements.pass_percent, requirements.must_pass, requirements.must_slips = (
        100,
        ["legs_equal"],
        3,
    )
    requirements.save()
    answer(exam, but=[2])
    exam = exams.hand_in(Exam.objects.get(pk=exam.pk))
    assert (exam.pass_percent, exam.must_slips) == (80, 1)
    assert exam.must_pass == []


def test_what_was_saved_is_there_whatever_it_is(task):
    assert exams.save(task, {"port": "six and a", "starboard": ""}, 0) == 1
    task.refresh_from_db()
    assert task.answer == {"port": "six and a", "starboard": ""}
    assert "six and a" in exams.trouble(task)


def test_the_same_save_sent_again_is_one(task):
    assert exams.save(task, {"center": True}, 0) == 1
    assert exams.save(task, {"center": True}, 0) == 1


def test_a_save_that_did_not_see_the_last_one_is_refused(task):
    exams.save(task, {"port": "6 ft"}, 0)
    with pytest.raises(StaleAnswer, match="another window"):
        exams.save(task, {"port": "8 ft"}, 0)
    assert exams.save(task, {"port": "8 ft"}, 1) == 2


def test_nothing_is_saved_after_handing_in(exam, task):
    exams.hand_in(exam)
    with pytest.raises(ExamClosed, match="already turned in"):
        exams.save(task, {"center": True}, 0)
    task.refresh_from_db()
    assert task.answer is None


def test_when_the_time_is_up_what_was_saved_is_handed_in(user):
    exam = begin(user, make_requirements(minutes=30))
    answer(exam)
    task = ExamTask.objects.filter(exam=exam).first()
    late = exam.deadline + timedelta(seconds=1)
    with pytest.raises(ExamClosed, match="too late"):
        exams.save(task, {"center": True}, task.revision, late)
    exam.refresh_from_db()
    assert exam.handed_in == exam.deadline
    assert exam.passed
    assert "time was up" in exam.reasons[0]


def test_a_exam_whose_time_is_up_does_not_bar_the_next(user):
    requirements = make_requirements(minutes=30)
    first = begin(user, requirements)
    second = begin(user, requirements, first.deadline)
    assert second != first
    assert Exam.objects.get(pk=first.pk).handed_in == first.deadline


def test_all_right_passes_with_a_certificate(user):
    exam = begin(user, make_strict())
    answer(exam)
    exam = exams.hand_in(exam)
    assert exam.passed
    assert exam.marks == exam.out_of == 12
    assert "100 percent" in exam.reasons[0]
    assert exam.reasons[1:] == [
        f"“{title}”: 2 of 2 right. No slips are allowed in this rule."
        for title in ("Droppers along the wings", "Space between floats")
    ]
    assert Certificate.objects.get().exam == exam


def test_every_question_is_one_point_right_or_not(exam):
    answer(exam, but=[3])
    exams.hand_in(exam)
    assert [each.marks for each in exam.tasks.all()] == [1, 1, 0, 1]
    assert {each.out_of for each in exam.tasks.all()} == {1}
    assert (exam.marks, exam.out_of) == (3, 4)


def of_rule(exam, key):
    """Return the numbers of the readings that ask ``key``."""
    return [each.number for each in exam.tasks.all() if each.focus and each.focus[0] == key]


@pytest.mark.parametrize(
    ("slips", "wrong", "passes", "words"),
    [
        (0, 1, False, "1 of 2 right. That is too many slips: no slips are allowed in this rule."),
        (1, 0, True, "2 of 2 right. 1 slip is allowed in this rule."),
        (1, 1, True, "1 of 2 right. 1 slip is allowed in this rule."),
        (1, 2, False, "0 of 2 right. That is too many slips: 1 slip is allowed in this rule."),
    ],
)
def test_more_slips_than_allowed_fail_a_exam_of_enough_points(user, slips, wrong, passes, words):
    exam = begin(user, make_strict(pass_percent=10, must_slips=slips))
    answer(exam, but=of_rule(exam, "dropper_spacing")[:wrong])
    exam = exams.hand_in(exam)
    assert exam.marks == exam.out_of - wrong
    assert exam.passed is passes
    assert f"“Droppers along the wings”: {words}" in exam.reasons
    assert Certificate.objects.exists() is passes


def test_slips_in_one_rule_do_not_count_in_another(user):
    exam = begin(user, make_strict(pass_percent=10, must_slips=1))
    first, second = (of_rule(exam, key) for key in exam.must_pass)
    answer(exam, but=[first[0], second[1]])
    assert exams.hand_in(exam).passed


def test_what_is_wrong_elsewhere_is_no_slip(user):
    """The whole rig has a line on each rule; it is one question, and none of the readings."""
    exam = begin(user, make_strict(pass_percent=10))
    whole = exam.tasks.get(kind="judge-rig")
    others = [each.number for each in exam.tasks.all() if each.focus[:1] == ["top_leg_wire"]]
    answer(exam, but=[whole.number, *others])
    exam = exams.hand_in(exam)
    assert exam.marks == exam.out_of - 2
    assert exam.passed


def test_a_exam_from_before_slips_is_graded_as_on_its_day(user):
    """Then each line gave its marks, and any wrong line on a rule failed the exam."""
    exam = begin(user, make_requirements(pass_percent=10))
    Exam.objects.filter(pk=exam.pk).update(
        must_slips=None, must_asked=None, must_pass=["dropper_spacing"]
    )
    spacing = exam.tasks.get(kind="space-droppers")
    answer(exam, but=[spacing.number])
    exam = exams.hand_in(Exam.objects.get(pk=exam.pk))
    assert exam.out_of > 4
    assert not exam.passed
    assert any("must be right, and was wrong in question 1." in each for each in exam.reasons)
    assert audit.check_exam(Exam.objects.get(pk=exam.pk)) == []


def test_too_few_marks_fail_a_exam(user):
    exam = exams.hand_in(begin(user, make_requirements()))
    assert not exam.passed
    assert exam.marks == 0
    assert "0 percent, which does not reach the 80 percent to pass" in exam.reasons[0]


def test_an_answer_nobody_can_read_counts_as_none(exam, task):
    exams.save(task, {"port": "?"}, 0)
    exams.hand_in(exam)
    task.refresh_from_db()
    assert task.marks == 0
    assert task.out_of > 0


def test_a_sound_exam_marks_the_same_again(exam):
    answer(exam, but=[3])
    exams.hand_in(exam)
    assert audit.check_exam(Exam.objects.get(pk=exam.pk)) == []


@pytest.mark.django_db(transaction=True)
def test_fifty_hand_ins_at_once_give_one_result(user):
    exam = begin(user, make_requirements())
    answer(exam)
    gate = threading.Barrier(AT_ONCE)

    def run(_):
        gate.wait()
        try:
            handed = exams.hand_in(Exam.objects.get(pk=exam.pk))
            return handed.handed_in, handed.marks, handed.out_of, handed.passed
        finally:
            connection.close()

    with ThreadPoolExecutor(AT_ONCE) as pool:
        results = set(pool.map(run, range(AT_ONCE)))
    exam.refresh_from_db()
    assert results == {(exam.handed_in, exam.marks, exam.out_of, True)}
    assert Certificate.objects.count() == 1


@pytest.mark.django_db(transaction=True)
def test_many_begins_at_once_begin_one_exam(user):
    requirements = make_requirements()
    gate = threading.Barrier(8)

    def run(_):
        gate.wait()
        try:
            return begin(user, requirements).pk
        finally:
            connection.close()

    with ThreadPoolExecutor(8) as pool:
        assert len(set(pool.map(run, range(8)))) == 1


def test_the_right_answer_is_right_in_every_task(exam):
    for task in exam.tasks.all():
        task.answer = right_answer(exams.task_of(task))
        assert exams.marked(task).passed


def test_every_part_of_an_answer_that_cannot_be_read_is_told(task):
    task.kind = "space-droppers"
    task.answer = {"port": "six and a bit", "center": "on", "starboard": "far out"}
    told = exams.trouble(task)
    assert "six and a" in told
    assert "far out" in told
