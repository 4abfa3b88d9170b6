"""The one command that sets up the demo and serves it."""

import os
import re
import signal
import socket
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest
from django.core.management import call_command
from django.urls import reverse

from training.demo import scenario
from training.people.models import Group, User

ROOT = Path(__file__).parents[2]


def free_port():
    with socket.socket() as sock:
        sock.bind(("127.0.0.1", 0))
        return sock.getsockname()[1]


class TestCommand:
    @pytest.fixture
    def site(self, tmp_path):
        """The demo, run as a person runs it: nothing set, on a database of its own."""
        address = f"127.0.0.1:{free_port()}"
        kept = {k: v for k, v in os.environ.items() if k not in ("SITE_DEMO", "DEBUG")}
        process = subprocess.Popen(
            [sys.executable, "-u", "manage.py", "demo", address],
            cwd=ROOT,
            env=kept | {"DATABASE_URL": f"sqlite:///{tmp_path / 'demo.sqlite3'}"},
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            # Whoever runs tests in the background may have Ctrl-C ignored by all that they start.
            preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
        )
        yield process, address
        process.kill()
        process.stdout.close()
        process.wait()

    def read_until(self, process, words):
        """Return what the process prints up to the line that holds ``words``."""
        told = ""
        for line in process.stdout:
            told += line
            if words in line:
                return told
        code = process.wait()
        pytest.fail(f"The demo ended with code {code} without saying “{words}”:\n{told}")

    def test_sets_up_tells_the_logins_serves_and_stops(self, site):
        process, address = site
        told = self.read_until(process, "Quit the server")
        for login in scenario.LOGINS.values():
            assert re.search(rf"{login.role} +{re.escape(login.email)}", told)
        assert scenario.PASSWORD in told
        assert scenario.group_code(scenario.HARBOURS[0]) in told
        assert f"http://{address}/" in told
        with urllib.request.urlopen(f"http://{address}{reverse('people:sign_in')}") as page:
            assert page.status == 200
        process.send_signal(signal.SIGINT)
        assert "Traceback" not in process.stdout.read()
        assert process.wait() == 0

    def test_stopped_half_way_it_says_so_and_leaves_nothing(self, db, monkeypatch, capsys):
        def interrupted(*args):
            raise KeyboardInterrupt

        monkeypatch.setattr("training.demo.load._train", interrupted)
        call_command("demo")
        assert "Stopped" in capsys.readouterr().out
        assert not User.objects.exists()
        assert not Group.objects.exists()
