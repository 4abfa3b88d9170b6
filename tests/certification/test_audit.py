"""Every mark comes out the same again, and corrections edit nothing."""

from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from tests.exercises.conftest import right_answer
from training.certification import audit, papers
from training.certification.models import Paper, PaperTask
from training.exercises import handing, kinds
from training.exercises.models import Attempt

from .candidates import answer, begin, make_scheme


@pytest.fixture
def paper(user):
    paper = begin(user, make_scheme())
    answer(paper, but=[3])
    return papers.hand_in(paper)


@pytest.fixture
def attempt(user):
    assignment = handing.open_assignment(user, kinds.get("judge-rig"))
    return handing.hand_in(assignment, right_answer(handing.task_of(assignment)))


def remark():
    out = StringIO()
    call_command("remark", stdout=out)
    return out.getvalue()


def test_nothing_differs(paper, attempt):
    assert "All 2 records come out as they were given." in remark()


@pytest.mark.parametrize(
    ("model", "change", "words"),
    [
        (Attempt, {"marks": 0}, "marks was 0"),
        (Attempt, {"passed": False}, "passed was False"),
        (Attempt, {"findings": []}, "there were 0 lines"),
        (PaperTask, {"answer": {"port": "1 ft", "centre": True, "starboard": ""}}, "task 1"),
        (PaperTask, {"answer": None}, "task 1"),
        (Paper, {"passed": True}, "passed was True"),
    ],
)
def test_whatever_was_tampered_with_is_found(paper, attempt, model, change, words):
    found = model.objects.order_by("pk").first()
    model.objects.filter(pk=found.pk).update(**change)
    out = StringIO()
    with pytest.raises(CommandError, match="do not come out") as stopped:
        call_command("remark", stdout=out)
    assert stopped.value.returncode == 1
    assert words in out.getvalue()


def test_stopped_half_way_it_says_how_far_it_came(paper, attempt, monkeypatch):
    def interrupted(paper):
        raise KeyboardInterrupt

    monkeypatch.setattr(audit, "check_paper", interrupted)
    with pytest.raises(CommandError, match="Stopped after 1 of 2 .* Nothing was changed"):
        remark()
