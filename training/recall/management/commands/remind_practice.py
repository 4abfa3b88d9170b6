from django.core.management.base import BaseCommand

from training.deck import mailing
from training.recall import mails


class Command(BaseCommand):
    help = (
        "Mails those who asked for it when rules come back to them, once a week at most. Run it "
        "every day. Ctrl-C stops it between two mails without harm."
    )

    def handle(self, *args, **options):
        address = mailing.site_address()
        mailing.send_all(
            self, mails.due(), lambda each: mails.send(each, address), lambda each: each.user.pk
        )
