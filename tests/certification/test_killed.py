"""A server killed outright in the middle of a sitting loses nothing that it acknowledged."""

import json
import os
import signal
import socket
import subprocess
import sys
import threading
import time
from contextlib import contextmanager
from http.client import HTTPException
from itertools import count
from pathlib import Path
from urllib.parse import urlencode
from urllib.request import Request, urlopen

import pytest

ROOT = Path(__file__).resolve().parents[2]
TOKEN = "a" * 32  # the cookie and the header only have to agree
ROUNDS = 2
ENOUGH = 12  # saves acknowledged before the server is killed
PATIENCE = 600  # seconds: only so that a test that hangs ends some day

PREPARE = """
import json, django; django.setup()
from django.core.management import call_command
call_command("migrate", verbosity=0)
from django.test import Client
from tests.certification.candidates import begin, make_requirements
from training.people.models import User
user = User.objects.create_user("wren@example.com", "sanderling over mud", name="Wren")
client = Client()
client.force_login(user)
print(json.dumps([begin(user, make_requirements()).pk, client.cookies["sessionid"].value]))
"""


@pytest.fixture
def environment(tmp_path):
    """What a server and its own database file need."""
    return {
        **os.environ,
        "DJANGO_SETTINGS_MODULE": "training.settings",
        "DATABASE_URL": f"sqlite:///{tmp_path / 'site.sqlite3'}",
        "SITE_DEMO": "1",
        "SECRET_KEY": "for this test only, and for nothing else",
    }


class Candidate:
    """Saves one answer after another, and remembers what was acknowledged."""

    def __init__(self, port, exam, session):
        self.url = f"http://127.0.0.1:{port}/exams/{exam}/task/1/"
        self.headers = {
            "Cookie": f"sessionid={session}; csrftoken={TOKEN}",
            "X-CSRFToken": TOKEN,
            "Accept": "application/json",
        }
        self.sent = self.acknowledged = self.revision = 0
        self.enough = threading.Event()

    def save(self, number):
        self.sent = number
        body = {"port": f"{number} in", "starboard": "", "revision": self.revision}
        request = Request(self.url, urlencode(body).encode(), self.headers)
        with urlopen(request, timeout=PATIENCE) as response:
            self.revision = json.load(response)["revision"]
        self.acknowledged = number

    def work(self, start):
        try:
            for number in count(start):
                self.save(number)
                if number - start >= ENOUGH:
                    self.enough.set()
        except (OSError, HTTPException, ValueError):
            pass  # the server is gone, perhaps half way through an answer

    def page(self):
        headers = {"Cookie": self.headers["Cookie"]}
        with urlopen(Request(self.url, headers=headers), timeout=PATIENCE) as response:
            return response.read().decode()


@contextmanager
def serving(environment, port):
    command = [sys.executable, "-m", "gunicorn", "training.wsgi", "-b", f"127.0.0.1:{port}"]
    server = subprocess.Popen(
        command, cwd=ROOT, env=environment, stderr=subprocess.DEVNULL, start_new_session=True
    )
    try:
        wait_for(port, server)
        yield server
    finally:
        kill(server)


def wait_for(port, server):
    while server.poll() is None:
        try:
            with urlopen(f"http://127.0.0.1:{port}/account/sign-in/", timeout=PATIENCE):
                return
        except OSError:
            time.sleep(0.05)
    pytest.fail("The server did not start.")


def kill(server):
    """Kill the server and its workers with a signal that cannot be caught."""
    if server.poll() is None:
        os.killpg(server.pid, signal.SIGKILL)
        server.wait()


def stored(page):
    """Return (revision, number saved last) as the page of the task shows them."""
    revision = page.split('name="revision" value="')[1].split('"')[0]
    text = page.split('<textarea name="port"')[1].split(">", 1)[1].split(" in</textarea>")[0]
    return int(revision), int(text)


def test_no_acknowledged_answer_is_lost(environment):
    told = subprocess.run(
        [sys.executable, "-c", PREPARE],
        cwd=ROOT,
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    exam, session = json.loads(told.stdout)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    candidate = Candidate(port, exam, session)
    for _ in range(ROUNDS):
        candidate.enough.clear()
        with serving(environment, port) as server:
            writer = threading.Thread(target=candidate.work, args=[candidate.sent + 1])
            writer.start()
            assert candidate.enough.wait(PATIENCE)
            kill(server)
            writer.join()
        with serving(environment, port):
            candidate.revision, number = stored(candidate.page())
        # What was on its way when the server died may have been saved as well.
        assert candidate.acknowledged >= ENOUGH
        assert number in (candidate.acknowledged, candidate.sent)
