"""The worker as its own process: killed with a register half taken in, and told to stop."""

import os
import signal
import subprocess
import sys
import uuid
from pathlib import Path

import pytest
from django.utils import timezone

from tests.register.tables_factory import HEADER, csv_file
from tests.servers import address
from tests.waiting import wait_for
from training.register import uptake
from training.register.models import AdoptionEvent, ImportDraft, Vessel
from training.register.table import importing, steps
from training.work.models import SILENT, Hand, Job

ROOT = Path(__file__).resolve().parents[2]
NUMBER = 3000
STAGES = [*HEADER, "stage", "stage since"]


def worker(*words):
    """Start a worker; return the process."""
    command = [sys.executable, "manage.py", "work", "--no-daily", *words]
    return subprocess.Popen(command, cwd=ROOT, env=os.environ | {"DATABASE_URL": address()})


def written():
    return Vessel.objects.count()


def compared(draft):
    """Return whether ``draft`` can be confirmed: compared, by a job that is at its end."""
    found = ImportDraft.objects.select_related("job").get(pk=draft.pk)
    return found.outcomes and not found.is_busy


@pytest.mark.django_db(transaction=True)
def test_killed_and_stopped_it_goes_on_and_nothing_is_doubled(staff):
    rows = [
        [f"Vessel {number}", "Kettle Harbor", "50 ft", "", "Ida", "", "told", "2026-07-01"]
        for number in range(NUMBER)
    ]
    draft = steps.take_in(csv_file(*rows, header=STAGES), staff, uuid.uuid4())
    first = worker()
    try:
        wait_for(lambda: compared(draft))
        job = importing.confirm(draft.key, staff)[0].job
        assert job.kind == importing.ImportWork.slug
        wait_for(written)
    finally:
        first.kill()
        first.wait()
    assert 0 < written() < NUMBER
    assert Job.objects.get(pk=job.pk).state == Job.State.WORKING
    # A minute goes by, and another is started.
    past = timezone.now() - 2 * SILENT
    Hand.objects.update(beat=past)
    Job.objects.filter(pk=job.pk).update(beat=past)
    before = written()
    second = worker()
    try:
        wait_for(lambda: written() > before)
        second.send_signal(signal.SIGTERM)
        assert second.wait(timeout=60) == 0
    finally:
        second.kill()
        second.wait()
    assert before < written() < NUMBER
    assert Job.objects.get(pk=job.pk).state == Job.State.WAITING
    assert not Hand.objects.filter(beat__gt=past).exists()
    assert worker("--batch").wait(timeout=300) == 0
    assert Job.objects.get(pk=job.pk).state == Job.State.DONE
    assert (written(), Vessel.objects.filter(owner="Ida").count()) == (NUMBER, NUMBER)
    assert AdoptionEvent.objects.count() == NUMBER
    assert uptake.check() == []
