from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.utils.translation import gettext as _
from django.utils.translation import ngettext


def _waiting():
    """Return the migrations that the database lacks, in order."""
    executor = MigrationExecutor(connection)
    plan = executor.migration_plan(executor.loader.graph.leaf_nodes())
    return [migration for migration, backwards in plan]


class Command(BaseCommand):
    help = (
        "Brings the database to this version of the site: makes a backup first, then runs the "
        "migrations while the version before may go on serving, and counts all sums."
    )

    def add_arguments(self, parser):
        parser.add_argument("folder", help="the folder to write the backup into")
        parser.add_argument(
            "--closed",
            action="store_true",
            help="say that no web server and no worker runs; asked for by some versions",
        )

    def handle(self, *args, folder, closed, **options):
        waiting, is_new = _waiting(), not connection.introspection.table_names()
        closing = [each for each in waiting if getattr(each, "closes_the_site", False)]
        if closing and not closed and not is_new:
            words = _("{name} cannot run while the site serves. Stop it, and give --closed.")
            raise CommandError(words.format(name=closing[0]))
        if not is_new:
            call_command("backup", folder, stdout=self.stdout)
        call_command("migrate", verbosity=0, interactive=False)
        self.stdout.write(
            ngettext(
                "{count} migration was run.", "{count} migrations were run.", len(waiting)
            ).format(count=len(waiting))
        )
        if not settings.LOCAL:
            call_command("collectstatic", verbosity=0, interactive=False)
        self._count()
        self.stdout.write(_("Now start this version in place of the one before."))

    def _count(self):
        """Compare all sums; count them again if this version comes to others."""
        try:
            call_command("sums", check=True, stdout=self.stdout)
        except CommandError:
            call_command("sums", stdout=self.stdout)
