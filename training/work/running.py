"""
A run of a job: step by step, so that it can be stopped, killed and gone on with.

Each step is a transaction in which the job's row is held: a run that lost its claim, because
it was taken for dead, finds out before it writes and not after. So nothing is done twice.
"""

import threading
import time
from contextlib import contextmanager
from datetime import timedelta

from django.db import connection, transaction
from django.utils import timezone

from .models import Job

KEPT_FOR = timedelta(days=7)  # a file that a job made
# SQLite has no queue of writers: who waits looks again up to 100 ms later. So long a pause
# lets everybody else write between two steps.
PAUSE = 0.11
A_STEP = 0.3  # seconds that a step is to take; what waits for it waits somewhat longer
FEWEST = 1 / 4  # of the parts that a step may take: what each step costs is not to be most of it

leaving = threading.Event()
"""Set when the worker of this process is to stop: its job goes back into the queue."""


class Halt(Exception):
    """The run ends here: somebody stopped the job, or it is another's now."""


class Leave(Halt):
    """The run ends here because its worker stops: the job goes back into the queue."""


class Run:
    """One run of a ``job``; ``claim`` is the key by which it has it."""

    def __init__(self, job, claim):
        self.job, self.claim = job, claim
        self.held = 0  # seconds for which others could not write since the last pause
        self._fits = 0  # parts that a step has time for

    def room(self, most):
        """Return how many parts the next step is to take, ``most`` or fewer, to be a short one."""
        return max(int(most * FEWEST), min(most, self._fits))

    @contextmanager
    def step(self, done=0):
        """
        Write one part of the work in a transaction, and how far it came: ``done`` parts more.

        The block may change ``job.at``, ``job.total`` and ``job.result``. Raise Halt instead
        of entering it if the work is not to go on.
        """
        if self.held > PAUSE / 2 and connection.vendor == "sqlite":
            time.sleep(PAUSE)
            self.held = 0
        with transaction.atomic():
            begun = time.monotonic()
            row = held(self.job.pk, self.claim)
            if row.stop_asked:
                raise Halt
            if leaving.is_set():
                raise Leave
            yield
            self.job.done += done
            self.job.beat = timezone.now()
            self.job.save(update_fields=["at", "total", "done", "result", "beat"])
        took = time.monotonic() - begun
        self.held += took
        if done:
            # At most twice as many as before: the next parts may take longer than these.
            self._fits = int(done * min(2, A_STEP / max(took, 0.001)))

    def keep(self, name, content_type, file):
        """
        Keep ``file``, a File, as what the job made, for its owner alone.

        It is the job's once all of it is there; of a run that is killed before, it is nobody's,
        and goes with the job.
        """
        storage = self.job.file.storage
        place = storage.save(self.job.file.field.generate_filename(self.job, name), file)
        try:
            with transaction.atomic():
                before = held(self.job.pk, self.claim).file
                self.job.file = place
                self.job.file_type = content_type
                self.job.kept_until = timezone.now() + KEPT_FOR
                self.job.save(update_fields=["file", "file_type", "kept_until"])
        except BaseException:
            storage.delete(place)
            raise
        if before:
            storage.delete(before.name)


def held(pk, claim, may_be_lost=False):
    """
    Return the job ``pk``, locked, which the run with ``claim`` has.

    If another has it or none, raise Halt, or return None if it ``may_be_lost``.
    """
    job = Job.objects.select_for_update().filter(pk=pk, claim=claim).first()
    if job is None and not may_be_lost:
        raise Halt
    return job
