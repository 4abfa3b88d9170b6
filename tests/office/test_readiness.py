"""Health says that a process runs, readiness whether people may be sent to it and what is wrong."""

import logging
import os
import shutil
import threading
from collections import namedtuple
from contextlib import suppress
from datetime import timedelta
from io import StringIO
from types import SimpleNamespace
from unittest import mock

import pytest
from django.core import mail
from django.core.management import CommandError, call_command
from django.db import OperationalError, connection
from django.db.migrations.recorder import MigrationRecorder
from django.test import Client
from django.utils import timezone

from training.certification.badge_keys import SigningKey
from training.deck import readiness
from training.deck.site_readiness import settings_are_right
from training.home import waiting
from training.office import looks
from training.office.models import Backup
from training.people.models import Reach, Role, Tries, User

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
    assert isinstance(looks.backup_is_recent(), readiness.Well)
    backup.delete()
    assert ours(wrong(as_monitor.get("/ready/"))) == {
        "backup": "No backup was made yet. Run manage.py backup FOLDER."
    }


def test_asking_often_looks_once(as_monitor, backup, django_assert_num_queries, monkeypatch):
    monkeypatch.setattr("training.office.views.LOOK_EVERY", 10**9)
    readiness.look_again()
    as_monitor.get("/ready/")
    with django_assert_num_queries(0):
        as_monitor.get("/ready/")


def test_a_check_that_breaks_is_a_finding_and_in_the_log(caplog, monkeypatch, db):
    monkeypatch.setattr(readiness, "_checks", {})

    @readiness.check("tern", "Tern")
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


def test_the_same_is_mailed_once_a_day_and_again_when_it_comes_back(all_well, backup):
    def mailed():
        mail.outbox.clear()
        try:
            ready(mail=True)
        except CommandError:
            return len(mail.outbox)
        return None

    last = Backup.objects.values().get()
    backup.delete()
    assert [mailed(), mailed()] == [1, 0]
    Tries.objects.update(ends=timezone.now())
    with mock.patch("django.core.mail.EmailMessage.send", side_effect=OSError), suppress(OSError):
        mailed()
    assert [mailed(), mailed()] == [1, 0]
    Backup.objects.create(**last)
    assert mailed() is None
    Backup.objects.all().delete()
    assert mailed() == 1
    # Something else that is not well is news.
    with mock.patch.dict(readiness._checks, tern=(False, "Tern", lambda: "It is not.")):
        assert [mailed(), mailed()] == [1, 0]


# What the disk and the photos say ---------------------------------------------


def test_the_disk_that_backups_are_on_counts_too(backup, monkeypatch, tmp_path):
    backup.folder = str(tmp_path)
    backup.save()

    def room(path):
        return Room(9 * 2**30, 0, 2**20 if path == tmp_path else 9 * 2**30)

    monkeypatch.setattr(shutil, "disk_usage", room)
    assert f"Only 1 MB are free where {tmp_path} is" in looks.disk_has_room()
    # Another machine makes the backups: their folder is not here.
    backup.folder = "/nowhere/at/all"
    backup.save()
    assert isinstance(looks.disk_has_room(), readiness.Well)


def test_photos_that_cannot_be_saved_are_told(settings, monkeypatch, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "not" / "yet"
    assert isinstance(looks.photos_can_be_kept(), readiness.Well)
    asked = []
    monkeypatch.setattr(os, "access", lambda path, mode: asked.append(path))
    assert "may not write to" in looks.photos_can_be_kept()
    assert asked == [tmp_path]


def hang(name):
    threading.Event().wait(30)


@pytest.mark.parametrize(
    ("store", "is_well"),
    [(lambda name: False, True), (lambda name: 1 / 0, False), (hang, False)],
    ids=["answers", "refuses", "hangs"],
)
def test_an_object_store_is_asked_and_not_waited_for(settings, monkeypatch, store, is_well):
    settings.PHOTO_BUCKET = "tern-photos"
    monkeypatch.setattr(looks, "STORE_ANSWERS", 30 if is_well else 0.2)
    monkeypatch.setattr(looks, "default_storage", SimpleNamespace(exists=store))
    assert isinstance(looks.photos_can_be_kept(), readiness.Well) == is_well


# The page of the staff ---------------------------------------------------------


@pytest.fixture
def all_well(backup, settings, monkeypatch):
    """A site of which all that this room looks at is well, and nothing else is looked at."""
    settings.CERTIFICATE_KEY = SigningKey.generate().pem()
    settings.ERROR_MAIL = ["office@tern.example", "robin@tern.example"]
    kept = {name: readiness._checks[name] for name in ("database", "keys", "backup")}
    monkeypatch.setattr(readiness, "_checks", kept)


def page(client):
    return " ".join(client.get("/well/").content.decode().split())


def test_the_page_says_what_is_well_and_what_was_seen(all_well, backup, staff, client):
    client.force_login(staff)
    text = page(client)
    assert "All that was looked at is well." in text
    assert "not restored on trial" in text
    assert "mailed to office@tern.example, robin@tern.example." in text
    backup.proven = timezone.now()
    backup.save()
    assert "restored on trial, and all came out the same" in page(client)


def test_what_is_not_well_stands_first(all_well, backup, staff, client, settings):
    settings.ERROR_MAIL = []
    backup.delete()
    client.force_login(staff)
    text = page(client)
    assert "1 thing is not well." in text
    assert text.index("No backup was made yet") < text.index("has all that this version needs")
    assert "mailed to nobody" in text


def test_what_was_not_looked_at_is_not_called_well(
    all_well, backup, staff, client, settings, monkeypatch
):
    settings.LOCAL = True
    everything = dict(readiness._checks, settings=(False, "Settings", settings_are_right))
    monkeypatch.setattr(readiness, "_checks", everything)
    client.force_login(staff)
    text = page(client)
    assert text.count("not known") == 1
    assert "All that was looked at is well." in text


@pytest.fixture
def held():
    """One of the staff who is held to a harbor."""
    user = User.objects.create_user("ines@tern.example", role=Role.STAFF, name="Ines Held")
    Reach.objects.create(user=user, harbor="Gannet Cove")
    return user


def test_it_waits_for_who_looks_after_the_fleet_and_not_in_a_demo(
    all_well, backup, staff, settings, held
):
    def told(user):
        readiness.look_again()
        return [each.words for each in waiting.for_staff(user) if each.url == "/well/"]

    settings.LOCAL = False
    assert told(staff) == []
    backup.delete()
    assert told(staff) == ["1 thing about the site is not well."]
    assert told(held) == []
    settings.LOCAL = True
    assert told(staff) == []
