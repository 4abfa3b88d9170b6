"""Rows out of a database and into one, as the models were after some set of migrations."""

import base64
import hashlib
import json
from contextlib import contextmanager
from datetime import date, datetime, timedelta
from itertools import islice

from django.core.management.color import no_style
from django.db import connection, transaction
from django.db.migrations.loader import MigrationLoader
from django.db.models import AutoField, BinaryField, FileField, JSONField
from django.utils.duration import duration_iso_string
from django.utils.translation import gettext as _

AT_A_TIME = 500  # rows held in memory


class UnknownVersion(Exception):
    """The database or backup knows migrations that this code does not."""


def applied():
    """Return the migrations of the database, as [app, name], in order."""
    return sorted(map(list, MigrationLoader(connection).applied_migrations))


def is_behind():
    """Return whether the database lacks migrations of this code."""
    loader = MigrationLoader(connection)
    return bool(set(loader.disk_migrations) - set(loader.applied_migrations))


def models_at(migrations):
    """
    Return the models after ``migrations``, by label, in order; raise UnknownVersion if one of
    these is of no code here.
    """
    loader = MigrationLoader(connection)
    nodes = [tuple(each) for each in migrations]
    unknown = [each for each in nodes if each not in loader.graph.nodes]
    if unknown:
        raise UnknownVersion(
            _("This code does not know {app} {name}: it is older. Install a later one.").format(
                app=unknown[0][0], name=unknown[0][1]
            )
        )
    state = loader.project_state(nodes)
    models = state.apps.get_models(include_auto_created=True)
    return {
        each._meta.label_lower: each
        for each in sorted(models, key=lambda each: each._meta.label_lower)
        if each._meta.managed and not each._meta.proxy
    }


@contextmanager
def one_moment():
    """
    Have all that is read in a ``with`` block be of one moment; nobody waits for it.

    Within a transaction that is begun already, what that one sees.
    """
    if connection.in_atomic_block:
        yield
        return
    mode = getattr(connection, "transaction_mode", None)
    try:
        # SQLite's write lock is not needed: its log keeps what a reader began with.
        connection.transaction_mode = "DEFERRED"
        with transaction.atomic():
            if connection.vendor == "postgresql":
                with connection.cursor() as cursor:
                    cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
            yield
    finally:
        connection.transaction_mode = mode


def _fields(model):
    return model._meta.local_concrete_fields


def _plain(value):
    """Return ``value``, of a type that JSON lacks, as text that its field reads back."""
    if isinstance(value, datetime | date):
        return value.isoformat()
    if isinstance(value, timedelta):
        return duration_iso_string(value)
    if isinstance(value, bytes | memoryview):
        return base64.b64encode(bytes(value)).decode()
    return str(value)


def lines(model):
    """Yield each row of ``model`` as a line of JSON, a list in the order of its fields."""
    names = [each.attname for each in _fields(model)]
    rows = model._base_manager.order_by("pk").values_list(*names)
    for row in rows.iterator(chunk_size=AT_A_TIME):
        yield json.dumps(row, default=_plain) + "\n"


def columns(model):
    """Return the columns of ``model`` in the order in which ``lines`` has them."""
    return [each.column for each in _fields(model)]


class Content:
    """The sum of lines: of what they say, in whatever order their objects are written."""

    def __init__(self):
        self.rows, self._sum = 0, hashlib.sha256()

    def add(self, line):
        self.rows += 1
        self._sum.update(json.dumps(json.loads(line), sort_keys=True).encode())

    @property
    def digest(self):
        return self._sum.hexdigest()


def files_named(model):
    """Return the names of files that rows of ``model`` hold."""
    named = set()
    for field in _fields(model):
        if isinstance(field, FileField):
            names = model._base_manager.values_list(field.attname, flat=True)
            named.update(filter(None, names.iterator(chunk_size=AT_A_TIME)))
    return named


# Numbers that were given out --------------------------------------------------


def _numbered(model):
    return isinstance(model._meta.pk, AutoField)


def _sequence(cursor, model):
    table, column = model._meta.db_table, model._meta.pk.column
    cursor.execute("SELECT pg_get_serial_sequence(%s, %s)", [f'"{table}"', column])
    return cursor.fetchone()[0]


def last_number(model):
    """Return the highest number that a row of ``model`` ever had; 0 if none or if not numbered."""
    if not _numbered(model):
        return 0
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            asked = [model._meta.db_table]
            cursor.execute("SELECT seq, 1 FROM sqlite_sequence WHERE name = %s", asked)
        else:
            cursor.execute(f"SELECT last_value, is_called FROM {_sequence(cursor, model)}")
        last, was_given = cursor.fetchone() or (0, False)
    return last if was_given else 0


def set_last_number(model, last):
    """See to it that new rows of ``model`` get numbers above ``last``, as if rows were there."""
    if not last or not _numbered(model):
        return
    table = model._meta.db_table
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("DELETE FROM sqlite_sequence WHERE name = %s", [table])
            cursor.execute("INSERT INTO sqlite_sequence (name, seq) VALUES (%s, %s)", [table, last])
        else:
            cursor.execute("SELECT setval(%s, %s)", [_sequence(cursor, model), last])


# Putting in -------------------------------------------------------------------


def _value(field, value):
    """Return ``value`` of a line as the database takes it for ``field``."""
    if isinstance(field, JSONField):
        if value is None and field.null:
            return None
        return connection.ops.adapt_json_value(value, field.encoder)
    if value is not None and isinstance(field, BinaryField):
        value = base64.b64decode(value)
    elif value is not None:
        value = field.to_python(value)
    return field.get_db_prep_save(value, connection)


def put_in(model, rows):
    """Put ``rows``, lines as ``lines`` yields them, into the table of ``model``."""
    fields, quote = _fields(model), connection.ops.quote_name
    into = ", ".join(quote(each.column) for each in fields)
    places = ", ".join(["%s"] * len(fields))
    statement = f"INSERT INTO {quote(model._meta.db_table)} ({into}) VALUES ({places})"
    rows = iter(rows)
    with connection.cursor() as cursor:
        while some := list(islice(rows, AT_A_TIME)):
            values = [
                [_value(field, value) for field, value in zip(fields, json.loads(row), strict=True)]
                for row in some
            ]
            cursor.executemany(statement, values)


def empty(models):
    """Take out of the tables of ``models`` what migrations put there."""
    tables = [each._meta.db_table for each in models]
    connection.ops.execute_sql_flush(
        connection.ops.sql_flush(no_style(), tables, reset_sequences=True, allow_cascade=False)
    )
