import os
import tempfile
from pathlib import Path

from django.core.mail import EmailMessage
from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from training.deck import mailing
from training.desk.models import SeasonMail
from training.desk.season import counting, dates, printed, text
from training.desk.season.gathering import gather
from training.people.models import Role, User

BODY = """\
Hello {name},

Here is {title}.

{headline}

The whole report is attached. The raised footrope training site sends it to its staff once a
season.
"""


MOST_YEARS = 100

# Nobody in particular, who looks after the whole fleet.
NOBODY = User(pk=0, role=Role.STAFF, whole_fleet=True)


class Command(BaseCommand):
    help = (
        "Makes the season report as PDF, into a file or as mail to all staff, each on their own "
        "harbors and once a season. Ctrl-C stops it without harm."
    )

    def add_arguments(self, parser):
        parser.add_argument("--season", type=int, metavar="YEAR", help="the latest if left out")
        parser.add_argument(
            "--for-office",
            action="store_true",
            help="nothing left out: counts of single vessels too; to a file alone",
        )
        way = parser.add_mutually_exclusive_group(required=True)
        way.add_argument("--to", metavar="FILE", help="write the whole fleet's report to FILE")
        way.add_argument("--mail", action="store_true", help="mail it to the staff")

    def handle(self, *args, season, to, mail, for_office, **options):
        today = timezone.localdate()
        found = self._season(season, today)
        if mail and for_office:
            raise CommandError(
                "A mail is easily passed on: what is for the office goes to a file (--to)."
            )
        if mail:
            self._mail(found, today)
        else:
            self._write(Path(to), found, today, for_office)

    def _season(self, year, today):
        """Return the Season of ``year``, the latest if None; refuse one with nothing to tell."""
        if year is None:
            return dates.latest(today)
        try:
            found = dates.season(year)
        except ValueError as error:
            raise CommandError(f"There is no season {year}.") from error
        if found.first > today:
            raise CommandError(f"The season {year} has not begun.")
        if found not in counting.seasons(NOBODY, today, MOST_YEARS):
            raise CommandError(f"Nothing is known of the season {year}.")
        return found

    def _write(self, path, season, today, for_office):
        """Write the report, all of it or nothing: a report that is there stays until then."""
        self.stdout.write("Counting ...")
        data = printed.as_pdf(gather(NOBODY, season, today, for_office))
        try:
            with tempfile.NamedTemporaryFile(dir=path.parent, delete=False) as file:
                file.write(data)
            os.chmod(file.name, 0o644)
            os.replace(file.name, path)
        except OSError as error:
            raise CommandError(f"{path} could not be written: {error.strerror}.") from error
        self.stdout.write(f"{path} is written.")

    def _mail(self, season, today):
        staff = list(User.objects.filter(role=Role.STAFF, is_active=True).order_by("pk"))
        mailing.send_all(
            self,
            staff,
            lambda person: self._send(person, season, today),
            lambda person: person.email,
        )

    def _send(self, person, season, today):
        """Mail the report to ``person``, unless that was done; return whether it was now."""
        noted, is_new = SeasonMail.objects.get_or_create(user=person, year=season.year)
        if not is_new:
            return False
        try:
            report = gather(person, season, today)
            message = EmailMessage(
                text.title(report),
                BODY.format(
                    name=person.get_short_name(),
                    title=text.title(report),
                    headline=text.headline(report),
                ),
                to=[person.email],
            )
            message.attach(printed.file_name(report), printed.as_pdf(report), "application/pdf")
            message.send()
        except BaseException:
            # Also when somebody stops the program: the next run is to try again.
            noted.delete()
            raise
        return True
