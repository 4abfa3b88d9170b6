"""Every mark comes out the same again."""

import uuid
from datetime import timedelta
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.utils import timezone

from tests.certification.candidates import answer, begin, make_requirements
from tests.exercises.conftest import right_answer
from tests.recall.conftest import answer_all
from training.certification import audit, exams
from training.certification.fair import recheck
from training.certification.models import Exam, ExamTask
from training.exercises import handing, kinds
from training.exercises.models import Attempt
from training.recall.models import ReadingSet, SetReading


@pytest.fixture
def exam(user):
    exam = begin(user, make_requirements())
    answer(exam, but=[3])
    return exams.hand_in(exam)


@pytest.fixture
def attempt(user):
    assignment = handing.open_assignment(user, kinds.get("judge-rig"))
    return handing.hand_in(assignment, right_answer(handing.task_of(assignment)))


def remark():
    out = StringIO()
    call_command("remark", stdout=out)
    return out.getvalue()


def test_nothing_differs(exam, attempt):
    assert "All 2 records come out as they were given." in remark()


@pytest.mark.parametrize(
    ("model", "change", "words"),
    [
        (Attempt, {"marks": 0}, "marks was 0"),
        (Attempt, {"passed": False}, "passed was False"),
        (Attempt, {"findings": []}, "there were 0 lines"),
        (ExamTask, {"answer": {"port": "1 ft", "center": True, "starboard": ""}}, "task 1"),
        (ExamTask, {"answer": None}, "task 1"),
        (Exam, {"passed": True}, "passed was True"),
    ],
)
def test_whatever_was_tampered_with_is_found(exam, attempt, model, change, words):
    found = model.objects.order_by("pk").first()
    model.objects.filter(pk=found.pk).update(**change)
    out = StringIO()
    with pytest.raises(CommandError, match="do not come out") as stopped:
        call_command("remark", stdout=out)
    assert stopped.value.returncode == 1
    assert words in out.getvalue()


def test_stopped_half_way_it_says_how_far_it_came(exam, attempt, monkeypatch):
    def interrupted(exam):
        raise KeyboardInterrupt

    monkeypatch.setattr(audit, "check_exam", interrupted)
    with pytest.raises(CommandError, match="Stopped after 1 of 2 .* Nothing was changed"):
        remark()


def test_readings_and_the_check_that_rests_on_them_come_out_too(user):
    exam = begin(user, make_requirements())
    answer(exam)
    certificate = exams.hand_in(exam).certificate
    certificate.expires = timezone.now() + timedelta(days=20)
    certificate.save()
    check = recheck.begin(certificate, uuid.uuid4())
    answer_all(check.set)
    assert audit.check_set(check.set) == []
    reading = check.set.readings.first()
    other = {"said": "met" if reading.answer["said"] == "broken" else "broken"}
    SetReading.objects.filter(pk=reading.pk).update(answer=other)
    (first, *_) = audit.check_set(ReadingSet.objects.get())
    assert first.what == "passed was True, comes out as False"
    SetReading.objects.filter(pk=reading.pk).update(passed=False)
    differences = audit.check_set(ReadingSet.objects.get())
    assert "slips was 0, comes out as 1" in [each.what for each in differences]
    _, checks = audit.everything()
    assert [each.where for found in checks for each in found if "check" in each.where]
