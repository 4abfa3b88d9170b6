from pathlib import Path

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError
from django.utils.dateparse import parse_datetime
from django.utils.formats import date_format
from django.utils.timezone import localtime
from django.utils.translation import gettext as _

from training.office.backup import keys, proving, restoring
from training.office.backup.file import NotWhole, Reader
from training.office.backup.tables import UnknownVersion

SHOWN = 20  # lines of what is wrong in one part


class Command(BaseCommand):
    help = (
        "Puts a backup into an empty database and an empty place for photos. Then compares "
        "each row and file, counts all sums, grades every exam and verifies every certificate "
        "again. Ends with status 1 if anything is not as it was."
    )
    # The database has no tables yet.
    requires_system_checks = []

    def add_arguments(self, parser):
        parser.add_argument("file", help="the backup")
        parser.add_argument(
            "--keys", type=Path, help="a new file to write the keys into, as settings to start with"
        )

    def handle(self, *args, file, keys, **options):
        try:
            self._restore(Reader(file), keys)
        except (NotWhole, restoring.NotEmpty, UnknownVersion) as error:
            raise CommandError(str(error)) from error
        except KeyboardInterrupt:
            raise CommandError(
                _("Stopped. Empty the database and the place for photos, and begin again.")
            ) from None

    def _restore(self, reader, path):
        self.stdout.write(_("Reading the backup ..."))
        reader.check()
        if path and path.exists():
            raise CommandError(_("{path} is there already.").format(path=path))
        known = reader.keys
        own, other = settings.SECRET_KEY, restoring.use_keys(known)
        found = restoring.restore(reader, self.stdout.write)
        if path:
            keys.write(known, path)
        self.stdout.write(_("Counting everything again ..."))
        wrong = sum(self._tell(part) for part in proving.proof(reader, found))
        if not path and (other or own != known["SECRET_KEY"]):
            wrong += self._tell(proving.Part(_("keys"), 2, [_("This place has other keys.")]))
        self._close(reader, path)
        if wrong:
            raise CommandError(_("{count} things are not as they were.").format(count=wrong))
        self.stdout.write(_("Everything is as it was."))

    def _tell(self, part):
        """Write the ``part`` of the proof; return how much is wrong."""
        count = _("all") if part.count is None else part.count
        state = _("{count} wrong").format(count=len(part.wrong)) if part.wrong else _("as it was")
        self.stdout.write(f"  {part.what}: {count}, {state}")
        for line in part.wrong[:SHOWN]:
            self.stdout.write(f"    {line}")
        if len(part.wrong) > SHOWN:
            self.stdout.write(_("    and {count} more").format(count=len(part.wrong) - SHOWN))
        if part.wrong and part.remedy:
            self.stdout.write(f"    {part.remedy}")
        return len(part.wrong)

    def _close(self, reader, path):
        """Say what whoever starts the site now has to know."""
        moment = localtime(parse_datetime(reader.about["moment"]))
        lines = [
            _("This is the site as of {moment}, and nothing later is in it."),
            _("Accounts that were deleted later are back: delete them again."),
            _("Emails that waited then go out once a worker runs, though they may have gone out."),
        ]
        if path:
            lines.append(_("Start the site with the settings in {path}."))
        for line in lines:
            moment_words = date_format(moment, "F j, Y, g:i a")
            self.stdout.write(line.format(moment=moment_words, path=path))
