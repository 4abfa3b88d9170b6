import hashlib
from contextlib import suppress
from datetime import timedelta

from django.conf import settings
from django.core.mail import EmailMessage
from django.core.management.base import BaseCommand, CommandError
from django.db import DatabaseError
from django.utils.translation import gettext as _

from training.deck import readiness
from training.people.models import Tries

WHAT = "ready.mailed"
AGAIN = timedelta(days=1)
"""After which the office is mailed once more what it was mailed and did not mend."""


def _digest(names):
    return hashlib.sha256(" ".join(sorted(names)).encode()).hexdigest()


def _was_told(names):
    """Return whether a mail of the last day said that just ``names`` are not well."""
    try:
        return Tries.objects.counting().filter(whom=_digest(names)).exists()
    except DatabaseError:
        return False


def _note(names):
    with suppress(DatabaseError):
        Tries.objects.add(_digest(names), WHAT, AGAIN)


def _forget():
    """Have what was mailed be new again when it comes back, now that all is well."""
    told = Tries.objects.filter(what=WHAT)
    if told.exists():
        told.delete()


class Command(BaseCommand):
    help = (
        "Looks whether the site is fit to serve: database, disk, queue, keys, last backup. Ends "
        "with status 1 if anything is not well."
    )

    def add_arguments(self, parser):
        parser.add_argument(
            "--mail",
            action="store_true",
            help="mail what is not well to ERROR_MAIL, once a day as long as it is the same",
        )

    def handle(self, *args, mail, **options):
        wrong = {}
        for each in readiness.findings():
            line = f"{each.name}: {each.words or _('well')}"
            self.stdout.write(line)
            if not each.well:
                wrong[each.name] = line
        if not wrong:
            _forget()
            return
        if mail and not _was_told(wrong):
            self._mail(wrong.values())
            # Only now: what the mail server did not take is tried again.
            _note(wrong)
        raise CommandError(_("Not well: {count}.").format(count=len(wrong)))

    def _mail(self, wrong):
        if not settings.ERROR_MAIL:
            raise CommandError(_("Set ERROR_MAIL: nobody to mail to."))
        subject = _("The training site needs somebody to look")
        EmailMessage(subject, "\n".join(wrong), to=settings.ERROR_MAIL).send()
