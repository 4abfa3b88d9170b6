from django.core.management.base import BaseCommand

from training.certification import reminders
from training.deck import mailing
from training.letters import about_certificates, about_sessions, sending
from training.people import new_email


class Command(BaseCommand):
    help = (
        "Mails letters that wait, and tells people of sessions and of certificates that run out. "
        "Run it every hour: nobody hears twice of the same. Ctrl-C stops it between two mails "
        "without harm."
    )

    def handle(self, *args, **options):
        # Or a letter would go to an address that its person has left.
        new_email.settle_due()
        address = mailing.site_address()
        due = [(sending.send, row, f"letter {row.letter_id}") for row in sending.waiting()]
        due += [(about_sessions.send, each, each.session.title) for each in about_sessions.due()]
        due += [(about_certificates.send, each, each.certificate.code) for each in reminders.due()]
        mailing.send_all(self, due, lambda each: each[0](each[1], address), lambda each: each[2])
