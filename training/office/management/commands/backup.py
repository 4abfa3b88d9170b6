from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.utils.translation import gettext as _

from training.office.backup import making
from training.office.backup.file import NotWhole


class Command(BaseCommand):
    help = (
        "Writes database, photos and keys into one file, and reads it again. The file is not "
        "encrypted and holds everything: keep it where nobody else can read it."
    )

    def add_arguments(self, parser):
        parser.add_argument("folder", help="the folder to write the file into")
        parser.add_argument(
            "--keep", type=int, help="how many backups to leave in the folder, the latest"
        )
        parser.add_argument(
            "--prove",
            action="store_true",
            help="restore it into a place of its own at once, and count everything again",
        )

    def handle(self, *args, folder, keep, prove, **options):
        if keep is not None and keep < 1:
            raise CommandError(_("Keep one backup at least."))
        try:
            made, missing = making.make(folder, self.stdout.write)
        except (OSError, NotWhole) as error:
            raise CommandError(_("No backup was made: {error}").format(error=error)) from error
        except KeyboardInterrupt:
            raise CommandError(_("Stopped. No backup was made.")) from None
        words = _("{name}: {rows} rows, {files} files, {size} MB. Read again and whole.")
        size = round(made.size / 2**20, 1)
        told = {"name": made.name, "rows": made.rows, "files": made.files, "size": size}
        self.stdout.write(words.format(**told))
        self.stdout.write(_("It is not encrypted, and holds the keys and all that people entered."))
        if prove:
            call_command("prove_backup", f"{folder}/{made.name}", stdout=self.stdout)
        for name in making.keep(folder, keep) if keep else ():
            self.stdout.write(_("{name} was taken away.").format(name=name))
        if missing:
            self.stdout.write("\n".join(missing))
            raise CommandError(
                _("{count} files that rows name are not there.").format(count=len(missing))
            )
