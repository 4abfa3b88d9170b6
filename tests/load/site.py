"""The site that the crowd comes to: the demo, with more people, served by gunicorn."""

import json
import os
import secrets
import signal
import subprocess
import sys
import time
import urllib.error
import urllib.request
from contextlib import contextmanager
from pathlib import Path

HERE = Path(__file__).resolve().parents[2]
OF_A_HUNDRED = {"trainee": 84, "candidate": 8, "officer": 4, "staff": 4}
STAFF_PAGES = (
    *("home", "desk:calls", "desk:trainees", "desk:groups", "desk:sessions", "desk:rules"),
    *("desk:way", "register:vessels", "register:uptake", "checks:checks", "evidence:evidence"),
)
WAIT = 60  # seconds for the site to answer


def manage(*arguments):
    """Run a command of the site in this environment."""
    subprocess.run([sys.executable, "manage.py", *arguments], cwd=HERE, check=True)


def make(folder):
    """Make the demo in ``DATABASE_URL``, or else in ``folder``, and set this process up for it."""
    import django

    os.environ |= {
        "SITE_DEMO": "1",
        "SITE_PROXIES": "1",
        "LOG_FAILURES_ONLY": "1",
        "DJANGO_SETTINGS_MODULE": "training.settings",
    }
    os.environ.setdefault("DATABASE_URL", f"sqlite:///{folder / 'demo.sqlite3'}")
    manage("migrate", "--verbosity", "0")
    manage("demo_data", "--verbosity", "0")
    django.setup()


def crowd(people):
    """Add so many ``people`` of all sorts; return what ``people.py`` has to know, for JSON."""
    from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
    from django.contrib.sessions.backends.db import SessionStore
    from django.urls import reverse

    from tests.checks.conftest import content
    from training.certification.exams import TRACKS
    from training.certification.models import Requirements
    from training.exercises import kinds
    from training.lessons.loader import all_lessons
    from training.people.models import Group, Membership, Role, User

    requirements = Requirements.objects.filter(track=TRACKS[Role.TRAINEE], is_open=True)[0]
    run = secrets.token_hex(3)  # a crowd may come again
    groups = list(Group.objects.order_by("pk"))

    def somebody(sort, number):
        role = Role.TRAINEE if sort == "candidate" else Role(sort)
        user = User.objects.create_user(
            f"{sort}{number}.{run}@crowd.example",
            None,
            name=f"{sort.capitalize()} {number}",
            role=role,
            whole_fleet=role == Role.STAFF,
        )
        if role != Role.STAFF:
            Membership.objects.create(group=groups[number % len(groups)], user=user)
        session = SessionStore()
        session[SESSION_KEY] = str(user.pk)
        session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
        session[HASH_SESSION_KEY] = user.get_session_auth_hash()
        session.create()
        # Everyone is called from an address of their own, as on the way there by a proxy.
        address = f"10.{user.pk >> 16 & 255}.{user.pk >> 8 & 255}.{user.pk & 255}"
        return {"pk": user.pk, "session": session.session_key, "address": address}

    return {
        "people": {
            sort: [somebody(sort, number) for number in range(max(1, people * share // 100))]
            for sort, share in OF_A_HUNDRED.items()
        },
        "lessons": [f"/lessons/{each.slug}/" for each in all_lessons() if each.is_for("trainee")],
        "kinds": list(kinds.KINDS),
        "requirements": requirements.slug,
        "sheet": content() | {"day": time.strftime("%Y-%m-%d"), "photo_keys": []},
        "staff_pages": [reverse(name) for name in STAFF_PAGES],
    }


@contextmanager
def served(port, workers=2):
    """Serve the site by gunicorn at ``port`` of this machine; gives the process."""
    command = [
        *(sys.executable, "-m", "gunicorn", "--config", "python:training.serving"),
        *("--bind", f"127.0.0.1:{port}", "--workers", str(workers)),
    ]
    process = subprocess.Popen(command, cwd=HERE)
    try:
        _wait(port)
        yield process
    finally:
        process.send_signal(signal.SIGTERM)
        process.wait(WAIT)


def _wait(port):
    for __ in range(WAIT * 5):
        try:
            urllib.request.urlopen(f"http://127.0.0.1:{port}/health/", timeout=5)
            return
        except (urllib.error.URLError, OSError):
            time.sleep(0.2)
    raise TimeoutError("The site did not answer.")


def memory(process):
    """
    Return a pair for each worker of ``process``, in MB, by /proc of Linux.

    The first is its own memory and its share of what several share, the second all it sees.
    """
    children = Path(f"/proc/{process.pid}/task/{process.pid}/children").read_text().split()
    return [(_sizes(pid)["Pss"], _sizes(pid)["Rss"]) for pid in children]


def _sizes(pid):
    lines = Path(f"/proc/{pid}/smaps_rollup").read_text().splitlines()[1:]
    sizes = (line.split() for line in lines)
    return {name.rstrip(":"): int(size) / 1024 for name, size, *__ in sizes}


def write(path, told):
    """Write ``told`` as JSON for those alone who run this: it lets one in."""
    with open(os.open(path, os.O_CREAT | os.O_WRONLY | os.O_TRUNC, 0o600), "w") as file:
        json.dump(told, file)
