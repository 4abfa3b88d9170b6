"""What waits too long, and what the clock does not get done, is told; what is over is not."""

import uuid
from datetime import timedelta

import pytest
from django.utils import timezone
from django_tasks_db.models import DBTaskResult

from tests.work.conftest import PARTS
from training.deck.readiness import Well
from training.work import asking, keeping, well
from training.work.models import Job

pytestmark = pytest.mark.django_db


def test_a_worker_and_none():
    assert "No worker runs" in well.somebody_works()
    keeping.begin("tern-1")
    assert well.somebody_works() == "1 worker runs."


@pytest.mark.django_db(transaction=True)
def test_only_what_waits_for_more_than_an_hour_is_told(counting, staff):
    assert well.nothing_waits_long() == "Nothing waits for a worker."
    asking.ask(asking.Order(counting.slug, {}, PARTS), staff, uuid.uuid4())
    assert isinstance(said := well.nothing_waits_long(), Well)
    assert said.startswith("1 piece of work waits")
    DBTaskResult.objects.update(enqueued_at=timezone.now() - timedelta(minutes=61))
    assert not isinstance(said := well.nothing_waits_long(), Well)
    assert said.startswith("Work has waited since")


def run(command, state, hours):
    """A run of ``command`` by the clock, begun so many hours ago."""
    moment = timezone.now() - timedelta(hours=hours)
    about = {"command": command}
    told = {"kind": "repeated", "about": about, "state": state, "made": moment}
    return Job.objects.create(key=uuid.uuid4(), **told)


def test_of_each_command_the_last_run_that_is_over_counts():
    assert "the site is new" in well.what_is_due_gets_done()
    run("send_letters", Job.State.FAILED, 3)
    run("send_letters", Job.State.DONE, 2)
    assert isinstance(well.what_is_due_gets_done(), Well)
    run("forget_expired", Job.State.FAILED, 20)
    run("forget_expired", Job.State.WAITING, 0)
    assert not isinstance(said := well.what_is_due_gets_done(), Well)
    assert "forget_expired" in said
    assert "send_letters" not in said
    Job.objects.update(made=timezone.now() - timedelta(days=3))
    assert isinstance(well.what_is_due_gets_done(), Well)
