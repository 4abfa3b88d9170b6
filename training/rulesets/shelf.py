"""
The approved versions, for the shelf of the rule module.

Each process keeps what it read and asks the database again after ``KEPT`` seconds, so
that pages cost no query for it, and every process hears of a new version by itself.

That a process may be some seconds behind never makes it judge by the wrong version.
What is judged by is the version in force on the day, and none comes into force at once:
``models.NOTICE`` is the least time between approving or withdrawing a version and the
midnight at which its first day begins. It is many times ``KEPT``, so that by midnight
every process has it, or no longer has it. From its first day on a version stays for
ever, which keeps every answer that names it readable.
"""

from time import monotonic
from typing import NamedTuple

from django.db import DatabaseError, connection
from django.utils.translation import gettext as _

from .models import Version

KEPT = 10  # seconds


class _Kept(NamedTuple):
    texts: tuple
    until: float


_kept = None


def approved():
    """Return (where from, YAML text) of each approved version, as ``rulebook.add_source`` wants."""
    global _kept
    kept = _kept
    if kept is None or monotonic() >= kept.until:
        texts = _read()
        if texts is None:
            return ()
        _kept = kept = _Kept(texts, monotonic() + KEPT)
    return kept.texts


def forget():
    """Have the database asked at the next look-up, since something was approved or withdrawn."""
    global _kept
    _kept = None


def _read():
    """Return the texts in the database, None if it has no table for them yet."""
    found = Version.objects.approved().order_by("pk").values_list("name", "version", "text")
    try:
        return tuple(
            (_("{name}, version {version}").format(name=name, version=version), text)
            for name, version, text in found
        )
    except DatabaseError:
        # Checks run before migrating and look at the lessons, which go by the rules.
        if Version._meta.db_table in connection.introspection.table_names():
            raise
        return None
