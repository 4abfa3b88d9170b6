import os
import subprocess
import sys
import tempfile
from pathlib import Path

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone
from django.utils.translation import gettext as _

from training.office.models import Backup

# Photos in object storage are not where a trial may write.
ELSEWHERE = "PHOTO_"


class Command(BaseCommand):
    help = (
        "Restores a backup into a database and a folder of its own, which are thrown away, and "
        "counts everything again. The site is not touched, and may run on."
    )

    def add_arguments(self, parser):
        parser.add_argument("file", type=Path, help="the backup")

    def handle(self, *args, file, **options):
        with tempfile.TemporaryDirectory(prefix="training-") as folder:
            status = self._restore(file.resolve(), folder)
        if status:
            raise CommandError(_("{name} does not prove itself.").format(name=file.name))
        Backup.objects.filter(name=file.name).update(proven=timezone.now())
        self.stdout.write(_("{name} proves itself.").format(name=file.name))

    def _restore(self, file, folder):
        """Run the command that restores, with settings of its own; return its status."""
        environ = {key: each for key, each in os.environ.items() if not key.startswith(ELSEWHERE)}
        environ |= {
            "SECRET_KEY": settings.SECRET_KEY,
            "DATABASE_URL": f"sqlite:///{folder}/trial.sqlite3",
            "MEDIA_ROOT": f"{folder}/media",
        }
        command = [sys.executable, settings.BASE_DIR / "manage.py", "restore", file]
        command += ["--keys", f"{folder}/keys"]
        with subprocess.Popen(
            command, env=environ, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
        ) as process:
            for line in process.stdout:
                self.stdout.write(line.rstrip("\n"))
        return process.returncode
