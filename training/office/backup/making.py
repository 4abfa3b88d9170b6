"""Making a backup."""

import hashlib
import json
import re
import time
from contextlib import suppress
from pathlib import Path

from django.core.files.storage import default_storage
from django.utils import timezone

from training.certification import open_badge
from training.certification.models import Certificate

from ..models import Backup
from . import keys, tables
from .file import KEYS, Reader, Writer

NAME = re.compile(r"training-\d{8}-\d{6}\.tar")
AT_A_TIME = 200
# Seconds after which a file that nobody finished was left by a backup that was killed.
LEFT = 24 * 60 * 60


def badge_sums(address):
    """
    Yield (code, checksum of the badge) of each certificate, signed as for ``address``.

    A badge is signed the same to the letter each time, so that one in its holder's hands can be
    compared with what the site would sign after a restore.
    """
    found = Certificate.objects.order_by("pk").select_related("exam__requirements", "exam__user")
    for each in found.iterator(chunk_size=AT_A_TIME):
        signed = open_badge.document(each, address)
        yield each.code, hashlib.sha256(json.dumps(signed, sort_keys=True).encode()).hexdigest()


def _badges(address):
    """Return {code: checksum} of all badges; None if no key signs, or not by this version."""
    if tables.is_behind() or open_badge.signing_key() is None:
        return None
    return dict(badge_sums(address))


def _write_rows(writer, models, say):
    """Write the rows of ``models``; return what is known of each table."""
    told = {}
    for number, (label, model) in enumerate(models.items(), 1):
        content = tables.Content()
        with writer.lines(f"rows/{label}") as file:
            for line in tables.lines(model):
                file.write(line)
                content.add(line)
        told[label] = {
            "rows": content.rows,
            "content": content.digest,
            "columns": tables.columns(model),
            "last": tables.last_number(model),
        }
        if content.rows or number == len(models):
            say(f"  {label}: {content.rows}")
    return told


def _write_files(writer, names):
    """Write the files ``names`` of the storage; return those that are not there."""
    missing = []
    for name in sorted(names):
        try:
            with default_storage.open(name) as file:
                writer.add(f"files/{name}", file, file.size)
        except FileNotFoundError:
            missing.append(name)
    return missing


def _still_named(models, names):
    """Return those of the files ``names`` that rows name now; the others were just deleted."""
    named = set().union(*(tables.files_named(each) for each in models.values()))
    return sorted(named & set(names))


def make(folder, say=lambda line: None):
    """
    Make a backup in ``folder`` and read it again; return (its Backup row, files missing).

    The row is not saved where the database lacks the table for it. Raises OSError if the
    folder cannot be written to, NotWhole if what was written reads otherwise.
    """
    begun = timezone.now()
    _clear(folder)
    path = Path(folder) / f"training-{begun:%Y%m%d-%H%M%S}.tar"
    writer = Writer(path)
    try:
        with tables.one_moment():
            migrations = tables.applied()
            models = tables.models_at(migrations)
            told = _write_rows(writer, models, say)
            files = set().union(*(tables.files_named(each) for each in models.values()))
            own = keys.of_site()
            address = own["SITE_ADDRESS"] or "https://training.invalid"
            badges = _badges(address)
        missing = _still_named(models, _write_files(writer, files))
        writer.add_bytes(KEYS, json.dumps(own).encode())
        about = {"moment": begun.isoformat(), "migrations": migrations, "tables": told}
        writer.close(about | {"missing": missing, "badges": badges, "address": address})
        size = writer.part.stat().st_size
        Reader(writer.part).check()
        writer.settle()
    except BaseException:
        writer.drop()
        raise
    return _noted(path, begun, size, told, len(files) - len(missing)), missing


def _noted(path, begun, size, told, files):
    rows = sum(each["rows"] for each in told.values())
    row = Backup(
        name=path.name,
        folder=str(path.parent.resolve())[:400],
        begun=begun,
        ended=timezone.now(),
        size=size,
        rows=rows,
        files=files,
    )
    if not tables.is_behind():
        row.save()
    return row


def _clear(folder):
    """Take away what backups that were killed left in ``folder``."""
    for each in Path(folder).glob("training-*.tar.part"):
        with suppress(FileNotFoundError):
            if time.time() - each.stat().st_mtime > LEFT:
                each.unlink()


def keep(folder, most):
    """Take away the oldest backups in ``folder`` so that ``most`` stay; return their names."""
    there = sorted(each for each in Path(folder).iterdir() if NAME.fullmatch(each.name))
    gone = there[:-most]
    for each in gone:
        with suppress(FileNotFoundError):
            each.unlink()
    return [each.name for each in gone]
