from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from training.certification import reminders

# Where the demo serves itself.
LOCAL_ADDRESS = "http://127.0.0.1:8000"


class Command(BaseCommand):
    help = (
        "Mails the holders of certificates that are about to run out. Run it every day: "
        "nobody is reminded twice of the same. Ctrl-C stops it between two mails without harm."
    )

    def add_arguments(self, parser):
        parser.add_argument(
            "--days",
            type=int,
            nargs="+",
            default=list(reminders.DAYS),
            metavar="N",
            help="how many days before the end to mail them; "
            f"{' and '.join(map(str, reminders.DAYS))} if left out",
        )

    def handle(self, *args, days, **options):
        if min(days) < 1:
            raise CommandError("Days before the end are 1 or more.")
        address = settings.SITE_ADDRESS or (LOCAL_ADDRESS if settings.LOCAL else "")
        if not address:
            raise CommandError("Set SITE_ADDRESS: the mails lead to the site.")
        due = reminders.due(days)
        sent = failed = 0
        try:
            for number, each in enumerate(due, 1):
                try:
                    sent += reminders.send(each, address)
                except OSError as error:
                    # The mail server's refusals and a line that is down are OSErrors.
                    failed += 1
                    self.stderr.write(f"  {each.certificate.code}: not sent ({error})")
                self.stdout.write(f"  {number} of {len(due)}")
        except KeyboardInterrupt:
            raise CommandError(f"Stopped. {sent} sent; the rest is for the next run.") from None
        self.stdout.write(f"{sent} sent, {failed} not.")
        if failed:
            raise CommandError(f"{failed} could not be sent. Run it again later.")
