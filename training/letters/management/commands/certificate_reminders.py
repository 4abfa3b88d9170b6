from django.core.management.base import BaseCommand, CommandError

from training.certification import reminders
from training.deck import mailing
from training.letters import about_certificates


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
        address = mailing.site_address()
        mailing.send_all(
            self,
            reminders.due(days),
            lambda each: about_certificates.send(each, address),
            lambda each: each.certificate.code,
        )
