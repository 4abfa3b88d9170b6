"""
Rows put into tables as they are, many at a time: the site's own ways would take days.

Every row is a tuple in the order of the columns named; keys are counted up from 1.
"""

from contextlib import contextmanager
from itertools import islice

from django.db import connection, transaction

AT_ONCE = 10_000


@contextmanager
def bare_file():
    """Write without a journal, for a file that is thrown away if anything goes wrong."""
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA journal_mode = OFF")
        cursor.execute("PRAGMA synchronous = OFF")
    yield
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA synchronous = FULL")
        cursor.execute("PRAGMA journal_mode = WAL")


def put(model, columns, rows, say, total):
    """
    Insert ``rows`` into the table of ``model``; ``say`` is told how far of ``total``.

    Columns that are not named get what the model says they have if nobody says anything.
    """
    fields = [model._meta.get_field(name) for name in columns]
    others = [
        field
        for field in model._meta.concrete_fields
        if field not in fields and not field.primary_key and not field.null
    ]
    same = tuple(field.get_db_prep_save(field.get_default(), connection) for field in others)
    names = [field.column for field in (*fields, *others)]
    holders = ", ".join(["%s"] * len(names))
    quoted = ", ".join(map(connection.ops.quote_name, names))
    statement = f"INSERT INTO {model._meta.db_table} ({quoted}) VALUES ({holders})"
    rows, done = iter(rows), 0
    while some := list(islice(rows, AT_ONCE)):
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.executemany(statement, [tuple(row) + same for row in some])
        done += len(some)
        if total > AT_ONCE and (done // AT_ONCE) % max(1, total // AT_ONCE // 10) == 0:
            say(f"    {done:,} of {total:,} {model._meta.verbose_name_plural}")
