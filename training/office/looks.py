"""What readiness looks at that belongs to no other room."""

import logging
import os
import shutil
import threading
from datetime import timedelta
from functools import cache
from pathlib import Path

from django.conf import settings
from django.core.files.storage import default_storage
from django.db import connection
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.recorder import MigrationRecorder
from django.template.defaultfilters import filesizeformat
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from training.certification.badge_keys import BadgeError
from training.certification.open_badge import signing_key
from training.deck.readiness import Well, check

from .models import Backup

log = logging.getLogger("training.office")

STORE_ANSWERS = 3  # seconds: /ready/ does not wait longer for the object store of photos


@cache
def _known():
    """Return the migrations of this code, as (app, name); read from its files once."""
    return frozenset(MigrationLoader(None).disk_migrations)


@check("database", gettext_lazy("Database"), stops=True)
def database_answers():
    """Ask the database something, and whether it has all the tables that this code needs."""
    missing = _known() - set(MigrationRecorder(connection).applied_migrations())
    if missing:
        return ngettext(
            "The database lacks {count} step of this version. Run manage.py upgrade.",
            "The database lacks {count} steps of this version. Run manage.py upgrade.",
            len(missing),
        ).format(count=len(missing))
    return Well(_("It answers, and has all that this version needs."))


def _written_to():
    """Return the folders of this machine that the site writes to, and where its last backup is."""
    folders = [Path(settings.MEDIA_ROOT)]
    if connection.vendor == "sqlite":
        folders.append(Path(connection.settings_dict["NAME"]).parent)
    last = Backup.objects.order_by("begun").last()
    # With several machines backups are made on one of them, and the others lack the folder.
    if last and last.folder and Path(last.folder).is_dir():
        folders.append(Path(last.folder))
    return folders


def _there(folder):
    """Return ``folder``, or the nearest above it that is there."""
    return next(each for each in (folder, *folder.parents) if each.exists())


@check("disk", gettext_lazy("Disk"))
def disk_has_room():
    said = {}
    for folder in _written_to():
        free = shutil.disk_usage(_there(folder)).free
        if free // 2**20 < settings.DISK_FREE_MB:
            return _("Only {free} MB are free where {folder} is. Make room.").format(
                free=free // 2**20, folder=folder
            )
        said.setdefault(_there(folder).stat().st_dev, (free, folder))
    words = _("{free} are free where {folder} is.")
    lines = [
        words.format(free=filesizeformat(free), folder=folder) for free, folder in said.values()
    ]
    return Well(" ".join(lines))


@check("photos", gettext_lazy("Photos"))
def photos_can_be_kept():
    if settings.PHOTO_BUCKET:
        return _store_answers()
    folder = Path(settings.MEDIA_ROOT)
    if not os.access(_there(folder), os.W_OK | os.X_OK):
        return _("Photos cannot be saved: the site may not write to {folder}.").format(
            folder=folder
        )
    return Well(_("They are kept in {folder}.").format(folder=folder))


def _store_answers():
    """Ask the object store for a file, in a thread: it is not waited for when it hangs."""
    answers = []

    def ask():
        try:
            answers.append(default_storage.exists("is-it-there"))
        except Exception:
            log.warning("the object store does not answer", exc_info=True)

    asking = threading.Thread(target=ask, name="object store", daemon=True)
    asking.start()
    asking.join(STORE_ANSWERS)
    if not answers:
        return _("The object store of photos does not answer as it should.")
    words = _("They are kept in the bucket {bucket}, which answers.")
    return Well(words.format(bucket=settings.PHOTO_BUCKET))


@check("keys", gettext_lazy("Keys"))
def keys_sign():
    """Sign something by the key of certificates, and check it."""
    try:
        key = signing_key()
    except BadgeError as error:
        return str(error)
    if key is None:
        return _("CERTIFICATE_KEY is not set: certificates are not handed out in signed form.")
    if not key.public.verifies(key.sign(b"ready"), b"ready"):
        return _("What CERTIFICATE_KEY signs does not verify.")
    return Well(_("The key of certificates signs, and what it signs verifies."))


@check("backup", gettext_lazy("Backup"))
def backup_is_recent():
    last = Backup.objects.order_by("begun").last()
    if last is None:
        return _("No backup was made yet. Run manage.py backup FOLDER.")
    moment = date_format(timezone.localtime(last.begun), "F j, Y, g:i a")
    if timezone.now() - last.begun >= timedelta(hours=settings.BACKUP_HOURS):
        words = _("The last backup is of {moment}, longer ago than BACKUP_HOURS ({most}) allows.")
        return words.format(moment=moment, most=settings.BACKUP_HOURS)
    if last.proven:
        words = _("{name} is of {moment}. It was restored on trial, and all came out the same.")
    else:
        words = _("{name} is of {moment}. It was read again, and not restored on trial.")
    where = _("Whether the file is still where it was put, look yourself.")
    return Well(f"{words.format(name=last.name, moment=moment)} {where}")
