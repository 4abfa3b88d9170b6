"""What readiness looks at that belongs to no other room."""

import shutil
from datetime import timedelta
from functools import cache
from pathlib import Path

from django.conf import settings
from django.db import connection
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.recorder import MigrationRecorder
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from training.certification.badge_keys import BadgeError
from training.certification.open_badge import signing_key
from training.deck import readiness

from .models import Backup


@cache
def _known():
    """Return the migrations of this code, as (app, name); read from its files once."""
    return frozenset(MigrationLoader(None).disk_migrations)


@readiness.check("database", stops=True)
def database_answers():
    """Ask the database something, and whether it has all the tables that this code needs."""
    missing = _known() - set(MigrationRecorder(connection).applied_migrations())
    if missing:
        return ngettext(
            "The database lacks {count} step of this version. Run manage.py upgrade.",
            "The database lacks {count} steps of this version. Run manage.py upgrade.",
            len(missing),
        ).format(count=len(missing))
    return None


def _written_to():
    """Return the folders of this machine that the site writes to."""
    folders = [Path(settings.MEDIA_ROOT)]
    if connection.vendor == "sqlite":
        folders.append(Path(connection.settings_dict["NAME"]).parent)
    return folders


@readiness.check("disk")
def disk_has_room():
    for folder in _written_to():
        there = next(each for each in (folder, *folder.parents) if each.exists())
        free = shutil.disk_usage(there).free // 2**20
        if free < settings.DISK_FREE_MB:
            return _("Only {free} MB are free where {folder} is. Make room.").format(
                free=free, folder=folder
            )
    return None


@readiness.check("keys")
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
    return None


@readiness.check("backup")
def backup_is_recent():
    last = Backup.objects.order_by("begun").last()
    if last is None:
        return _("No backup was made yet. Run manage.py backup FOLDER.")
    if timezone.now() - last.begun >= timedelta(hours=settings.BACKUP_HOURS):
        words = _("The last backup is of {moment}, longer ago than BACKUP_HOURS ({most}) allows.")
        moment = date_format(timezone.localtime(last.begun), "F j, Y, g:i a")
        return words.format(moment=moment, most=settings.BACKUP_HOURS)
    return None
