"""A backup holds all of one moment, and shows in an empty place that it does."""

import io
import json
import os
import resource
import stat
import subprocess
import sys
import tarfile
import threading
import uuid
from pathlib import Path

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.core.management import CommandError, call_command
from django.db import connection

from tests.certification.candidates import answer, begin, make_requirements
from tests.checks.conftest import make_check
from tests.exercises.conftest import right_answer
from tests.servers import address
from tests.site import make_group
from training.certification import exams
from training.certification.badge_keys import SigningKey
from training.certification.models import Exam
from training.checks.models import CheckPhoto
from training.desk.models import PersonTally
from training.exercises import handing, kinds
from training.office.backup import keys, making, proving, restoring, tables
from training.office.backup.file import LIST, NotWhole, Reader
from training.office.models import Backup
from training.people.models import Group, User
from training.recall.models import RuleMemory

ROOT = Path(__file__).resolve().parents[2]
PHOTO = b"a photo of a dropper"
SHOW = "import json, os; print(json.dumps(dict(os.environ)))"
SECRET = 'a "key" with $letters`that\\shells read'


@pytest.fixture
def media(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "media"
    return settings.MEDIA_ROOT


@pytest.fixture
def site(media, user, officer, settings):
    """A site with a bit of everything that a restore is proven by; returns the photo's name."""
    settings.SECRET_KEY = SECRET
    for kind in list(kinds.KINDS.values())[:2]:
        task = handing.open_assignment(user, kind)
        handing.hand_in(task, right_answer(handing.task_of(task)))
    exam = begin(user, make_requirements())
    answer(exam)
    exams.hand_in(exam)
    user.name = "Wren “Ö” Tolliver\n\u2028🐟"
    user.save()
    sheet = make_check(officer)
    photo = CheckPhoto.objects.create(
        sheet=sheet, key=uuid.uuid4(), image=ContentFile(PHOTO, "photo.jpg")
    )
    # A number that was given out once is not given out again.
    Group.objects.create(name="gone", code="GONE2345").delete()
    return photo.image.name


@pytest.fixture
def backup(site, tmp_path):
    """The path of a backup of that site."""
    made, missing = making.make(tmp_path)
    assert missing == []
    return tmp_path / made.name


@pytest.fixture
def elsewhere(tmp_path):
    """The settings of an empty place, with a database of the same kind."""
    url = f"sqlite:///{tmp_path}/elsewhere.sqlite3"
    name = f"elsewhere_{uuid.uuid4().hex[:8]}"
    if connection.vendor == "postgresql":
        url = address(name)
        _on_server(f"CREATE DATABASE {name}")
    yield {"DATABASE_URL": url, "MEDIA_ROOT": str(tmp_path / "elsewhere")}
    if connection.vendor == "postgresql":
        _on_server(f"DROP DATABASE {name} WITH (FORCE)")


def _on_server(statement):
    import psycopg

    told = connection.settings_dict
    place = {"host": told["HOST"], "port": told["PORT"] or None, "user": told["USER"]}
    with psycopg.connect(**place, dbname="postgres", autocommit=True) as server:
        server.execute(statement)


def manage(*words, **environ):
    """Run a command as somebody at the machine would; return (status, what it said)."""
    kept = {name: os.environ[name] for name in ("PATH", "HOME", "LANG") if name in os.environ}
    told = kept | {"SITE_DEMO": "1", "SECRET_KEY": "another"} | environ
    done = subprocess.run(
        [sys.executable, "manage.py", *map(str, words)],
        cwd=ROOT,
        env=told,
        capture_output=True,
        text=True,
        check=False,
    )
    return done.returncode, done.stdout + done.stderr


def settings_in(path):
    """Return the settings in the file ``path`` as a shell reads them."""
    show = f"set -a; . {path}; exec {sys.executable} -c '{SHOW}'"
    return json.loads(subprocess.check_output(["sh", "-c", show], env={}))


def rewrite(path, **parts):
    """Write the backup at ``path`` again with other ``parts``, and with their checksums."""
    import hashlib

    with tarfile.open(path) as old:
        there = {each.name: old.extractfile(each).read() for each in old.getmembers()}
    about = json.loads(there.pop(LIST))
    there |= {f"{name}.json": json.dumps(part).encode() for name, part in parts.items()}
    about["sums"] = {name: hashlib.sha256(data).hexdigest() for name, data in there.items()}
    with tarfile.open(path, "w") as new:
        for name, data in (there | {LIST: json.dumps(about).encode()}).items():
            told = tarfile.TarInfo(name)
            told.size = len(data)
            new.addfile(told, io.BytesIO(data))


def ask(elsewhere, question):
    """Return what a Python expression ``question`` gives at the restored site."""
    code, words = manage("shell", "-v0", "-c", f"print({question})", **elsewhere)
    assert code == 0, words
    return words.strip()


def test_a_backup_goes_into_an_empty_place_and_proves_itself(backup, site, elsewhere, tmp_path):
    env = tmp_path / "keys"
    code, words = manage("restore", backup, "--keys", env, **elsewhere)
    assert code == 0, words
    told = dict(line.strip().split(": ", 1) for line in words.splitlines() if ": " in line)
    assert told["rows"] == f"{Backup.objects.get().rows}, as it was"
    assert told["files"] == "1, as it was"
    assert told["sums of staff pages"] == "all, as it was"
    assert told["people, and what each remembers"] == f"{User.objects.count()}, as it was"
    assert told["attempts, exams and sets of readings, graded again"] == "3, as it was"
    assert told["certificates, verified"] == "1, as it was"
    assert "deleted later are back" in words
    assert (Path(elsewhere["MEDIA_ROOT"]) / site).read_bytes() == PHOTO
    # The keys are read by a shell as they were written, and by nobody else.
    assert stat.S_IMODE(env.stat().st_mode) == 0o600
    read = settings_in(env)
    known = {name: text for name, text in keys.of_site().items() if text}
    assert {name: read[name] for name in known} == known
    assert known["SECRET_KEY"] == SECRET
    last = Group.objects.create(name="next", code="NEXT2345").pk
    new = "__import__('tests.site', fromlist=['x']).Group.objects.create(name='n', code='N').pk"
    assert int(ask(elsewhere, new)) == last


def content(path):
    """Return {table: what a backup says of its rows}, but of what a backup itself changes."""
    told = Reader(path).about["tables"]
    return {label: each["content"] for label, each in told.items() if label != "office.backup"}


def test_there_and_back_each_row_is_the_same_and_a_full_disk_leaves_no_half_backup(
    backup, elsewhere, tmp_path
):
    # On PostgreSQL this goes to SQLite and back, on SQLite it stays there.
    trial = {"DATABASE_URL": f"sqlite:///{tmp_path}/trial.sqlite3", "MEDIA_ROOT": f"{tmp_path}/m"}
    keys = tmp_path / "keys"
    code, words = manage("restore", backup, "--keys", keys, **trial)
    assert code == 0, words
    folder = tmp_path / "second"
    folder.mkdir()
    # As on a full disk, writing ends half way; the system's own error comes of it.
    limit = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (100 * 1024, limit[1]))
    try:
        code, words = manage("backup", folder, **trial)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, limit)
    assert code == 1
    assert "No backup was made: " in words
    assert list(folder.iterdir()) == []
    code, words = manage("backup", folder, **trial | settings_in(keys))
    assert code == 0, words
    (second,) = folder.iterdir()
    assert content(second) == content(backup)
    code, words = manage("restore", second, "--keys", tmp_path / "again", **elsewhere)
    assert code == 0, words
    assert words.endswith(
        f"Start the site with the settings in {tmp_path}/again.\nEverything is as it was.\n"
    )


def test_whatever_parts_is_named(site, user, elsewhere, tmp_path):
    # What is wrong in the site itself is wrong in its backup, and found by counting.
    Exam.objects.update(marks=0)
    PersonTally.objects.filter(user=user).update(attempts=77)
    RuleMemory.objects.filter(user=user).delete()
    default_storage.delete(site)
    made, missing = making.make(tmp_path)
    assert missing == [site]
    path = tmp_path / made.name
    other = keys.of_site() | {"CERTIFICATE_KEY": SigningKey.generate().pem()}
    rewrite(path, keys=other)
    code, words = manage("restore", path, **elsewhere)
    assert code == 1
    lines = [line.strip() for line in words.splitlines()]
    assert f"rows: {made.rows}, as it was" in lines
    assert f"{site} was missing when the backup was made." in lines
    assert f"Person {user.pk} remembers otherwise." in lines
    assert any("marks was 0, comes out as" in line for line in lines)
    assert any("77" in line for line in lines)
    assert any(line.endswith("not the badge that its holder has.") for line in lines)
    assert "This place has other keys." in lines
    assert "manage.py recount_memory works it out again." in lines
    assert "Everything is as it was." not in words


def test_rows_and_files_that_differ_are_found(backup, site):
    reader = Reader(backup)
    models = tables.models_at(tables.applied())
    # The backup's own row came after.
    Backup.objects.all().delete()
    assert proving.rows(reader.about, restoring.contents(models)).wrong == []
    assert proving.files(reader).wrong == []
    User.objects.update(name="somebody")
    default_storage.delete(site)
    default_storage.save(site, ContentFile(b"another photo"))
    (wrong,) = proving.rows(reader.about, restoring.contents(models)).wrong
    assert wrong.startswith("people.user: ")
    assert proving.files(reader).wrong == [f"{site} is not as it was."]


def test_the_file_is_for_its_owner_alone_and_noted(backup):
    assert stat.S_IMODE(backup.stat().st_mode) == 0o600
    row = Backup.objects.get()
    assert (row.name, row.size, row.files) == (backup.name, backup.stat().st_size, 1)
    assert row.rows > 10
    assert [each.name for each in backup.parent.iterdir() if ".part" in each.name] == []


def flip(path, place):
    with open(path, "r+b") as file:
        file.seek(place)
        byte = file.read(1)
        file.seek(place)
        file.write(bytes([byte[0] ^ 1]))


def test_a_damaged_file_is_refused_before_anything_is_done(backup, tmp_path):
    whole = backup.read_bytes()
    with tarfile.open(backup) as tar:
        at = tar.getmember("rows/people.user").offset_data + 20
        end = tar.getmember(LIST).offset_data + 100
    flip(backup, at)
    with pytest.raises(CommandError, match="rows/people.user was changed or is damaged"):
        call_command("restore", backup)
    for cut in (0, 5000, len(whole) // 2, end):
        backup.write_bytes(whole[:cut])
        with pytest.raises(CommandError, match="is no whole backup"):
            call_command("restore", backup)
    with pytest.raises(CommandError, match="is no whole backup"):
        call_command("restore", tmp_path / "none.tar")


def test_a_part_too_many_or_too_few_is_refused(backup):
    with tarfile.open(backup, "a") as tar:
        tar.addfile(tarfile.TarInfo("files/../../etc"), io.BytesIO())
    with pytest.raises(NotWhole, match="missing, or too many"):
        Reader(backup).check()


def test_a_backup_of_a_later_version_is_refused(backup, monkeypatch):
    with pytest.raises(tables.UnknownVersion, match="does not know people 9999_later"):
        tables.models_at([*tables.applied(), ["people", "9999_later"]])
    monkeypatch.setattr("training.office.backup.file.FORM", 0)
    with pytest.raises(NotWhole, match="later form"):
        Reader(backup)


def test_a_place_with_photos_or_tables_is_refused(backup, monkeypatch):
    with pytest.raises(CommandError, match="database is not empty"):
        call_command("restore", backup)
    monkeypatch.setattr(connection.introspection, "table_names", list)
    with pytest.raises(CommandError, match="files where photos are kept"):
        call_command("restore", backup)


def test_what_fails_on_the_way_leaves_no_backup_and_no_note(site, tmp_path, monkeypatch):
    def full(self, about):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("training.office.backup.file.Writer.close", full)
    with pytest.raises(CommandError, match="No backup was made"):
        call_command("backup", tmp_path)
    assert [each for each in tmp_path.iterdir() if each.is_file()] == []
    assert not Backup.objects.exists()


def test_what_a_killed_backup_left_goes_after_a_day(site, tmp_path):
    old, new = (tmp_path / f"training-2026112{day}-010000.tar.part" for day in (1, 2))
    old.touch()
    new.touch()
    os.utime(old, (0, 0))
    making.make(tmp_path)
    assert (old.exists(), new.exists()) == (False, True)


def test_a_missing_photo_is_said_and_the_rest_is_kept(site, tmp_path):
    default_storage.delete(site)
    out = io.StringIO()
    with pytest.raises(CommandError, match="1 files that rows name"):
        call_command("backup", tmp_path, stdout=out)
    assert site in out.getvalue()
    Reader(tmp_path / Backup.objects.get().name).check()


def test_the_latest_are_kept_and_nothing_else_is_touched(tmp_path):
    names = [f"training-2026112{day}-010000.tar" for day in range(5)]
    for name in (*names, "training.tar", "season.pdf"):
        (tmp_path / name).touch()
    assert making.keep(tmp_path, 2) == names[:3]
    assert {each.name for each in tmp_path.iterdir()} == {*names[3:], "training.tar", "season.pdf"}
    with pytest.raises(CommandError, match="one backup at least"):
        call_command("backup", tmp_path, keep=0)


@pytest.mark.django_db(transaction=True)
def test_what_is_read_is_of_one_moment_and_holds_nobody_up():
    make_group()

    def write():
        Group.objects.create(name="later", code="LATER234")
        connection.close()

    with tables.one_moment():
        assert Group.objects.count() == 1
        thread = threading.Thread(target=write)
        thread.start()
        thread.join()
        assert Group.objects.count() == 1
    assert Group.objects.count() == 2


def test_every_table_is_in_it(db):
    there = set(connection.introspection.table_names()) - {"django_migrations", "sqlite_sequence"}
    models = tables.models_at(tables.applied()).values()
    assert {each._meta.db_table for each in models} == there
