"""What nobody types in an exam is refused; what was saved before stays."""

import pytest
from django.urls import reverse
from django.utils import timezone

from tests.certification.candidates import begin, make_requirements
from tests.exercises.conftest import as_posted, right_answer
from training.certification import exams
from training.exercises import kinds
from training.exercises.kinds.base import MOST_LETTERS

JSON = {"Accept": "application/json"}


@pytest.fixture
def task(user):
    """A question of an exam with a text to type, answered once."""
    exam = begin(user, make_requirements(((kinds.get("order-conversion").slug, 1, 1),)))
    found = exam.tasks.get()
    exams.save(found, right_answer(exams.task_of(found)), 0)
    found.refresh_from_db()
    return found


def send(client, task, text, **more):
    posted = as_posted(task.answer)
    name = next(name for name, value in posted.items() if isinstance(value, str))
    address = reverse("certification:task", args=[task.exam_id, task.number])
    return client.post(address, posted | {name: text, "revision": task.revision}, **more)


@pytest.mark.parametrize(
    ("text", "status", "words"),
    [
        ("16 ft\0", 400, "could not read"),
        ("9" * (MOST_LETTERS + 1), 413, "too long"),
    ],
)
def test_is_refused_and_nothing_is_lost(as_user, task, text, status, words):
    before = task.answer
    for more in ({}, {"headers": JSON}):
        response = send(as_user, task, text, **more)
        assert response.status_code == status
        assert words in response.content.decode()
    task.refresh_from_db()
    assert task.answer == before


@pytest.mark.parametrize("text", ["9" * 5000, "1e999 ft", "5/0", "\N{FISHING POLE AND FISH}", "-1"])
def test_what_is_no_answer_is_kept_and_graded_as_wrong(as_user, task, text):
    assert send(as_user, task, text, headers=JSON).status_code == 200
    assert exams.hand_in(task.exam).handed_in
    page = reverse("certification:exam", args=[task.exam_id])
    assert as_user.get(page).status_code == 200


@pytest.mark.parametrize("kind", kinds.KINDS.values(), ids=lambda kind: kind.slug)
def test_no_answer_is_anywhere_near_too_long(kind):
    for seed in range(3):
        task = kind.generate(seed, kind.pick_rulebook(seed, 3, timezone.localdate()), 3)
        form = kind.form(task)(as_posted(kind.any_answer(task)))
        assert len(str(form.raw())) < MOST_LETTERS / 3
