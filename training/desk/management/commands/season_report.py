import os
import tempfile
from pathlib import Path

from django.core.mail import EmailMessage
from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from training.deck import mailing
from training.desk.models import SeasonMail
from training.desk.season import dates, printed, text
from training.desk.season.gathering import gather
from training.people.models import Role, User

BODY = """\
Hello {name},

Here is {title}.

{headline}

The whole report is attached. The raised footrope training site sends it to its staff once a
season.
"""


class Command(BaseCommand):
    help = (
        "Makes the season report as PDF, into a file or as mail to all staff, each on their own "
        "harbors and once a season. Ctrl-C stops it without harm."
    )

    def add_arguments(self, parser):
        parser.add_argument("--season", type=int, metavar="YEAR", help="the latest if left out")
        way = parser.add_mutually_exclusive_group(required=True)
        way.add_argument("--to", metavar="FILE", help="write the whole fleet's report to FILE")
        way.add_argument("--mail", action="store_true", help="mail it to the staff")

    def handle(self, *args, season, to, mail, **options):
        today = timezone.localdate()
        try:
            found = dates.latest(today) if season is None else dates.season(season)
        except ValueError as error:
            raise CommandError(f"There is no season {season}.") from error
        if found.first > today:
            raise CommandError(f"The season {season} has not begun.")
        if mail:
            self._mail(found, today)
        else:
            self._write(Path(to), found, today)

    def _write(self, path, season, today):
        """Write the report, all of it or nothing: a report that is there stays until then."""
        self.stdout.write("Counting ...")
        # Nobody in particular: held to no harbor.
        data = printed.as_pdf(gather(User(pk=0), season, today))
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
            message.attach(f"season-{season.year}.pdf", printed.as_pdf(report), "application/pdf")
            message.send()
        except BaseException:
            # Also when somebody stops the program: the next run is to try again.
            noted.delete()
            raise
        return True
