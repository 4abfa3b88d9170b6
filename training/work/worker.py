"""
The worker: takes jobs out of the queue and does them, one after the other.

Beside it a second thread gives signs of life, has jobs of workers that died wait again, and
asks for what is to be done each day.
"""

import logging
import os
import socket
import threading
import time

from django.db import DatabaseError, close_old_connections, connection
from django.utils import timezone
from django.utils.crypto import get_random_string
from django_tasks_db.management.commands.db_worker import Worker

from . import daily, keeping, running

EVERY = 1.0  # seconds between two looks into an empty queue
BEAT = 10  # seconds between two signs of life; a worker is dead after SILENT

log = logging.getLogger("training.work")


def own_name():
    """Return a name that no other worker has: machine, process and something by chance."""
    return f"{socket.gethostname()[:30]}-{os.getpid()}-{get_random_string(8)}"


class Hands(Worker):
    """A worker of the queue that outlives a database that is away for a while."""

    def __init__(self, with_daily, batch=False):
        super().__init__(
            queue_names=["default"],
            interval=EVERY,
            batch=batch,
            backend_name="default",
            startup_delay=False,
            max_tasks=None,
            worker_id=own_name(),
            excluded_queue_names=[],
        )
        self.with_daily = with_daily
        self.over = threading.Event()

    def shutdown(self, signum, frame):
        """Stop before the next step of the job at hand; a second signal stops at once."""
        running.leaving.set()
        super().shutdown(signum, frame)

    def leave(self):
        """Do the same where there are no signals: in a thread."""
        running.leaving.set()
        self.running = False

    def work(self):
        """Work until somebody says to stop, or, as a batch, until the queue is empty."""
        keeper = threading.Thread(target=self._keep, name="keeper", daemon=True)
        keeping.begin(self.worker_id)
        keeper.start()
        try:
            self._run()
        finally:
            self.over.set()
            keeper.join(timeout=5)
            keeping.end(self.worker_id)
            connection.close()

    def _run(self):
        while self.running:
            try:
                self.run()
            except DatabaseError:
                log.exception("The worker waits: the database is away.")
                connection.close()
                time.sleep(5)
            if self.batch:
                return

    def _keep(self):
        try:
            while not self.over.is_set():
                close_old_connections()
                try:
                    keeping.beat(self.worker_id)
                    keeping.take_back_lost(self.worker_id)
                    if self.with_daily:
                        daily.ask(timezone.now())
                except DatabaseError:
                    log.exception("The worker gave no sign of life: the database is away.")
                    connection.close()
                self.over.wait(BEAT)
        finally:
            connection.close()
