from django.conf import settings
from django.core.management.base import BaseCommand, CommandError

from training.recall import mails

# Where the demo serves itself.
LOCAL_ADDRESS = "http://127.0.0.1:8000"


class Command(BaseCommand):
    help = (
        "Mails those who asked for it when rules come back to them, once a week at most. Run it "
        "every day. Ctrl-C stops it between two mails without harm."
    )

    def handle(self, *args, **options):
        address = settings.SITE_ADDRESS or (LOCAL_ADDRESS if settings.LOCAL else "")
        if not address:
            raise CommandError("Set SITE_ADDRESS: the mails lead to the site.")
        due = mails.due()
        sent = failed = 0
        try:
            for number, each in enumerate(due, 1):
                try:
                    sent += mails.send(each, address)
                except OSError as error:
                    # The mail server's refusals and a line that is down are OSErrors.
                    failed += 1
                    self.stderr.write(f"  {each.user.pk}: not sent ({error})")
                self.stdout.write(f"  {number} of {len(due)}")
        except KeyboardInterrupt:
            raise CommandError(f"Stopped. {sent} sent; the rest is for the next run.") from None
        self.stdout.write(f"{sent} sent, {failed} not.")
        if failed:
            raise CommandError(f"{failed} could not be sent. Run it again later.")
