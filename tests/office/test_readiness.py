"""Health says that a process runs, readiness whether people may be sent to it and what is wrong."""

import logging
import shutil
from collections import namedtuple
from datetime import timedelta
from io import StringIO

import pytest
from django.core import mail
from django.core.management import CommandError, call_command
from django.db import OperationalError, connection
from django.db.migrations.recorder import MigrationRecorder
from django.test import Client
from django.utils import timezone

from training.deck import readiness
from training.office import looks
from training.office.models import Backup

TOKEN = "sanderling-over-mud-and-marsh"
Room = namedtuple("Room", "total used free")


@pytest.fixture
def backup(db):
    """A backup of an hour ago."""
    begun = timezone.now() - timedelta(hours=1)
    told = {"size": 1, "rows": 1, "files": 0}
    return Backup.objects.create(name="training.tar", begun=begun, ended=begun, **told)


@pytest.fixture
def as_monitor(settings):
    settings.READY_TOKEN = TOKEN
    return Client(headers={"authorization": f"Bearer {TOKEN}"})


def wrong(answer):
    """Return {name: words} of what an answer with details says is not well."""
    return {each["name"]: each["words"] for each in answer.json()["checks"] if not each["well"]}


def ours(found):
    """Return those that this room looks at; others have checks of their own."""
    return {name: words for name, words in found.items() if name in OURS}


OURS = {"database", "disk", "keys", "backup"}


def lost(self):
    raise OperationalError("no such host: tern.example")


def test_health_asks_no_database(client):
    answer = client.get("/health/")
    assert (answer.status_code, answer.content) == (200, b"ok\n")
    assert "no-store" in answer["Cache-Control"]


def test_all_is_well(as_monitor, backup):
    answer = as_monitor.get("/ready/")
    assert (answer.status_code, answer.json()["ready"]) == (200, True)
    assert {each["name"] for each in answer.json()["checks"]} >= OURS
    assert ours(wrong(answer)) == {}


@pytest.mark.parametrize("shown", [None, "Bearer ", f"Bearer {TOKEN}x", TOKEN[:5], "Bearer é"])
def test_only_the_token_shows_what_is_looked_at(as_monitor, backup, shown):
    client = Client(headers={"authorization": shown} if shown else {})
    assert client.get("/ready/").json() == {"ready": True}


def test_without_a_token_set_an_empty_one_shows_nothing(backup, settings):
    settings.READY_TOKEN = ""
    answer = Client(headers={"authorization": "Bearer "}).get("/ready/")
    assert answer.json() == {"ready": True}


def test_a_lost_database_takes_the_machine_out_and_says_no_more(as_monitor, db, monkeypatch):
    monkeypatch.setattr(MigrationRecorder, "applied_migrations", lost)
    answer = as_monitor.get("/ready/")
    assert (answer.status_code, answer.json()["ready"]) == (503, False)
    assert list(wrong(answer)) == ["database"]
    assert len(answer.json()["checks"]) == 1
    assert Client().get("/ready/").json() == {"ready": False}
    assert Client().get("/health/").status_code == 200


def test_a_database_of_another_version(as_monitor, backup):
    recorder = MigrationRecorder(connection)
    recorder.record_applied("people", "9999_of_a_later_version")
    assert as_monitor.get("/ready/").status_code == 200
    recorder.record_unapplied("office", "0001_backup")
    looked = looks.database_answers()
    assert "lacks 1 step of" in looked


def test_a_full_disk_is_said_and_people_can_still_read(as_monitor, backup, monkeypatch, settings):
    settings.DISK_FREE_MB = 500
    monkeypatch.setattr(shutil, "disk_usage", lambda path: Room(9 * 2**30, 0, 499 * 2**20))
    answer = as_monitor.get("/ready/")
    assert answer.status_code == 200
    assert "Only 499 MB" in ours(wrong(answer))["disk"]


@pytest.mark.parametrize(("key", "words"), [("", "is not set"), ("no key", "cannot be read")])
def test_keys(as_monitor, backup, settings, key, words):
    settings.CERTIFICATE_KEY, settings.CERTIFICATE_KEY_FILE = key, None
    assert words in ours(wrong(as_monitor.get("/ready/")))["keys"]


def test_an_old_backup_and_none(as_monitor, backup, settings):
    settings.BACKUP_HOURS = 1
    assert "longer ago than BACKUP_HOURS (1)" in looks.backup_is_recent()
    settings.BACKUP_HOURS = 2
    assert looks.backup_is_recent() is None
    backup.delete()
    assert ours(wrong(as_monitor.get("/ready/"))) == {
        "backup": "No backup was made yet. Run manage.py backup FOLDER."
    }


def test_asking_often_looks_once(as_monitor, backup, django_assert_num_queries, monkeypatch):
    monkeypatch.setattr("training.office.views.LOOK_EVERY", 10**9)
    as_monitor.get("/ready/")
    with django_assert_num_queries(0):
        as_monitor.get("/ready/")


def test_a_check_that_breaks_is_a_finding_and_in_the_log(caplog, monkeypatch, db):
    monkeypatch.setattr(readiness, "_checks", {})

    @readiness.check("tern")
    def look():
        return 1 / 0

    with caplog.at_level(logging.ERROR):
        (found,) = readiness.findings()
    assert not found.well
    assert caplog.records[-1].exc_info[0] is ZeroDivisionError
    assert readiness.may_serve([found])


def test_a_balancer_may_ask_by_plain_http(client, backup, settings):
    settings.SECURE_SSL_REDIRECT = True
    assert client.get("/lessons/").status_code == 301
    assert client.get("/health/").status_code == client.get("/ready/").status_code == 200


def ready(**options):
    out = StringIO()
    call_command("ready", stdout=out, **options)
    return out.getvalue()


def test_the_command_says_it_and_mails_what_is_not_well(backup, settings, monkeypatch):
    settings.ERROR_MAIL = ["office@tern.example"]
    monkeypatch.setattr(
        readiness, "_checks", {name: readiness._checks[name] for name in ("database", "backup")}
    )
    assert ready(mail=True) == "database: well\nbackup: well\n"
    backup.delete()
    with pytest.raises(CommandError, match="Not well: 1"):
        ready()
    assert mail.outbox == []
    with pytest.raises(CommandError):
        ready(mail=True)
    (told,) = mail.outbox
    assert told.to == settings.ERROR_MAIL
    assert "backup: No backup was made yet" in told.body
    assert "database" not in told.body
