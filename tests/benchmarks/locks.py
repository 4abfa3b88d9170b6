"""
How long others wait while a register is taken in: ``python -m tests.benchmarks.locks``.

It makes a database of its own, a file, or one on the server of ``DATABASE_URL``, and throws it
away. In it a worker takes in a register of ROWS lines, while another process hands in an
answer every PERIOD seconds.
"""

import multiprocessing
import os
import random
import resource
import secrets
import statistics
import time
import uuid
from collections.abc import Callable
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from urllib.parse import urlsplit

ROWS = 20_000
PERIOD = 0.05  # seconds between two answers
AIM = 1.0  # seconds: how long nothing may be locked
HEADER = (
    *("name", "harbor", "length", "registration number", "owner", "captain"),
    *("stage", "stage since"),
)


def run():
    """Print waits, transactions, memory and time of each part of taking in a register."""
    with TemporaryDirectory() as folder, _own_database(Path(folder)) as kind:
        _set_up()
        _migrated()
        print(f"{kind}: a register of {ROWS:,} lines, an answer every {PERIOD} s (aim: {AIM} s)")
        print(f"  {'':30} waited most, median; longest transaction; memory; time")
        owner, key = _somebody("staff"), uuid.uuid4()
        _measured("reading the file, in a request", _read, owner.pk, key)
        _measured("comparing, by the worker", _work)
        _measured("writing, by the worker", _confirm_and_work, owner.pk, key)
        _measured("going back, by the worker", _undo_and_work, owner.pk, key)
        _told(key)


@contextmanager
def _own_database(folder):
    """Have ``DATABASE_URL`` name a new database for as long as the block runs; gives its kind."""
    asked = os.environ.get("DATABASE_URL", "")
    if not asked.startswith("postgres"):
        os.environ["DATABASE_URL"] = f"sqlite:///{folder / 'locks.sqlite3'}"
        yield "SQLite"
        return
    import psycopg

    name = f"locks_{secrets.token_hex(6)}"
    with psycopg.connect(asked, autocommit=True) as server:
        server.execute(f"CREATE DATABASE {name}")
        os.environ["DATABASE_URL"] = urlsplit(asked)._replace(path=f"/{name}").geturl()
        try:
            yield "PostgreSQL"
        finally:
            server.execute(f"DROP DATABASE {name} WITH (FORCE)")


def _set_up():
    import django

    os.environ |= {"SITE_DEMO": "1", "DJANGO_SETTINGS_MODULE": "training.settings"}
    django.setup()


def _migrated():
    from django.core.management import call_command

    call_command("migrate", verbosity=0)


def _somebody(role):
    from training.people.models import User

    return User.objects.create_user(
        f"{role}@locks.example", None, name=role.capitalize(), role=role, whole_fleet=True
    )


def _measured(title, part: Callable, *told):
    """Have a process do ``part(*told)`` while another writes; print what came of both."""
    spawn = multiprocessing.get_context("spawn")
    over, ready = spawn.Event(), spawn.Event()
    waits, done = spawn.Queue(), spawn.Queue()
    writer = spawn.Process(target=_write, args=(ready, over, waits))
    writer.start()
    ready.wait()
    worker = spawn.Process(target=_timed, args=(done, part, *told))
    worker.start()
    longest, memory, seconds = done.get()
    worker.join()
    over.set()
    waited = waits.get()
    writer.join()
    print(
        f"  {title:30} {max(waited):6.2f} s, {statistics.median(waited):.3f} s of {len(waited)};"
        f" {longest:5.2f} s; {memory:4.0f} MB; {seconds:6.1f} s"
    )


def _write(ready, over, waits):
    """Hand in answers until it is ``over``; put how long each took."""
    _set_up()
    from training.exercises import handing, kinds
    from training.exercises.hands import answer, people

    who, mind, rng = _somebody_new(), people.of_skill(1, 0.7), random.Random(1)
    kind = next(iter(kinds.KINDS.values()))
    waited = []
    while not over.is_set():
        assignment = handing.open_assignment(who, kind)
        given = answer(kind.slug, handing.task_of(assignment), mind, rng)
        start = time.perf_counter()
        handing.hand_in(assignment, given)
        waited.append(time.perf_counter() - start)
        ready.set()
        time.sleep(max(0.0, PERIOD - waited[-1]))
    waits.put(waited)


def _somebody_new():
    from training.people.models import User

    return User.objects.create_user(f"{uuid.uuid4()}@locks.example", None, name="Trainee")


def _timed(done, part, *told):
    """Do ``part``; put its longest transaction, its peak of memory in MB, and its seconds."""
    _set_up()
    longest = _watched()
    start = time.perf_counter()
    part(*told)
    seconds = time.perf_counter() - start
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    done.put((max(longest, default=0.0), memory, seconds))


def _watched():
    """Return a list to which each outermost transaction adds for how long it was open."""
    from django.db import connection
    from django.db.transaction import Atomic

    enter, leave, found, opened = Atomic.__enter__, Atomic.__exit__, [], []

    def entered(self):
        outermost = not connection.in_atomic_block
        enter(self)
        if outermost:
            opened.append(time.perf_counter())

    def left(self, *error):
        leave(self, *error)
        if not connection.in_atomic_block:
            found.append(time.perf_counter() - opened.pop())

    Atomic.__enter__, Atomic.__exit__ = entered, left
    return found


def _read(owner, key):
    """Take the file in, as the page does that it is sent to."""
    from django.core.files.uploadedfile import SimpleUploadedFile

    from training.people.models import User
    from training.register.table import steps

    lines = [HEADER, *(_line(number) for number in range(ROWS))]
    text = "\r\n".join(",".join(line) for line in lines)
    file = SimpleUploadedFile("fleet.csv", text.encode())
    steps.take_in(file, User.objects.get(pk=owner), key)


def _line(number):
    return (
        *(f"Vessel {number}", f"Harbor {number % 40}", f"{30 + number % 60} ft", f"TN-{number}"),
        *(f"Owner {number % 5000}", f"Captain {number % 7000}", "told", "2026-07-01"),
    )


def _work():
    """Do what waits, as ``manage.py work --batch`` does."""
    from training.work.worker import Hands

    Hands(with_daily=False, batch=True).work()


def _confirm_and_work(owner, key):
    from training.people.models import User
    from training.register.table import importing

    importing.confirm(key, User.objects.get(pk=owner))
    _work()


def _undo_and_work(owner, key):
    from training.people.models import User
    from training.register.table import undoing

    undoing.undo(key, User.objects.get(pk=owner))
    _work()


def _told(key):
    """Print what came of it, so that nothing is timed that was not done."""
    from training.exercises.models import Attempt
    from training.register.models import ImportDraft, Vessel
    from training.work.models import Job

    draft = ImportDraft.objects.get(key=key)
    states = sorted(Job.objects.values_list("kind", "state"))
    print(f"  {draft.added:,} vessels came, {Vessel.objects.count():,} are left; jobs: {states}")
    print(f"  {Attempt.objects.count():,} answers were handed in meanwhile")


if __name__ == "__main__":
    run()
