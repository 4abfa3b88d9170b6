"""Long work of the tests' own, and a worker that does what waits."""

from unittest import mock

import pytest
from django.core.files.base import ContentFile
from django_tasks_db.management.commands import db_worker

from training.work import kinds
from training.work.worker import Hands

PARTS = 6


class Counting(kinds.Kind):
    """Counts up to PARTS, one a step; ``before`` is called before each step with its number."""

    slug = "tests-counting"

    def __init__(self):
        self.counted, self.before = [], lambda number: None

    def title(self, job):
        return "Counting"

    def work(self, run):
        while (number := run.job.at.get("next", 0)) < PARTS:
            self.before(number)
            with run.step(done=1):
                run.job.at["next"] = number + 1
                self.counted.append(number)
        run.keep("counted.txt", "text/plain", ContentFile(b"all of it"))

    def said(self, job):
        return f"Counted to {job.done}."


@pytest.fixture
def counting(monkeypatch):
    """The kind of work that counts, known for the time of a test."""
    kind = Counting()
    monkeypatch.setitem(kinds._kinds, kind.slug, kind)
    return kind


def work_off():
    """Have a worker do what waits, on the connection and in the transaction of the test."""
    with mock.patch.object(db_worker, "close_old_connections"):
        Hands(with_daily=False, batch=True).run()
