"""Restoring a backup into an empty place."""

from django.conf import settings
from django.core.files import File
from django.core.files.storage import default_storage
from django.core.management import call_command
from django.db import connection, transaction
from django.db.migrations.executor import MigrationExecutor
from django.utils.translation import gettext as _

from . import tables


class NotEmpty(Exception):
    """There is something in the place where a backup was to go."""


def require_empty():
    """Raise NotEmpty unless the database has no table and the storage no file."""
    if connection.introspection.table_names():
        raise NotEmpty(_("The database is not empty. Nothing was changed."))
    try:
        folders, files = default_storage.listdir("")
    except FileNotFoundError:
        return
    if folders or files:
        raise NotEmpty(_("There are files where photos are kept. Nothing was changed."))


def _leaves(migrations):
    """Return the last of ``migrations`` in each app, as a migration's targets."""
    executor = MigrationExecutor(connection)
    nodes = {tuple(each) for each in migrations}
    graph = executor.loader.graph
    return executor, [
        node
        for node in sorted(nodes)
        if not any(
            tuple(child)[0] == node[0] and tuple(child) in nodes
            for child in graph.node_map[node].children
        )
    ]


def use_keys(keys):
    """
    Have this process sign and check as the site of the backup did.

    Return the certificate key that was set here and is another one; empty if none is.
    """
    here = settings.CERTIFICATE_KEY
    settings.CERTIFICATE_KEY = keys["CERTIFICATE_KEY"]
    settings.CERTIFICATE_KEY_FILE = None
    settings.CERTIFICATE_OLD_KEYS = [
        each for each in keys["CERTIFICATE_OLD_KEYS"].split(",") if each
    ]
    settings.OFFICE_NAME = keys["OFFICE_NAME"]
    return here if here and here.strip() != keys["CERTIFICATE_KEY"].strip() else ""


def _put_files(reader):
    for name in reader.names("files"):
        kept = default_storage.save(name, File(reader.open(f"files/{name}"), name=name))
        if kept != name:
            raise NotEmpty(_("{name} is there already.").format(name=name))


def _put_rows(reader, models):
    """Put all rows in at one stroke: a place that is half restored has none."""
    with transaction.atomic():
        tables.empty(models.values())
        for label in reader.about["tables"]:
            tables.put_in(models[label], reader.lines(f"rows/{label}"))
        for label, told in reader.about["tables"].items():
            tables.set_last_number(models[label], told["last"])
        connection.check_constraints()


def contents(models):
    """Return {label: Content} of the tables of ``models`` as they are."""
    found = {}
    for label, model in models.items():
        found[label] = tables.Content()
        for line in tables.lines(model):
            found[label].add(line)
    return found


def restore(reader, say=lambda line: None):
    """
    Restore the backup of ``reader``, which was checked; return {label: Content} as it is now.

    The tables are made as they were on the day of the backup, filled, read again, and then
    brought to this version. Raises NotEmpty, and UnknownVersion if the backup is of a later one.
    """
    require_empty()
    about = reader.about
    models = tables.models_at(about["migrations"])
    say(_("Tables ..."))
    executor, leaves = _leaves(about["migrations"])
    executor.migrate(leaves)
    say(_("Files ..."))
    _put_files(reader)
    say(_("Rows ..."))
    _put_rows(reader, models)
    found = contents(models)
    say(_("To this version ..."))
    call_command("migrate", verbosity=0, interactive=False)
    return found
