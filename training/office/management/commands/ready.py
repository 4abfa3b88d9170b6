from django.conf import settings
from django.core.mail import EmailMessage
from django.core.management.base import BaseCommand, CommandError
from django.utils.translation import gettext as _

from training.deck import readiness


class Command(BaseCommand):
    help = (
        "Looks whether the site is fit to serve: database, disk, queue, keys, last backup. Ends "
        "with status 1 if anything is not well."
    )

    def add_arguments(self, parser):
        parser.add_argument(
            "--mail",
            action="store_true",
            help="mail what is not well to ERROR_MAIL; nothing is mailed if all is well",
        )

    def handle(self, *args, mail, **options):
        wrong = []
        for each in readiness.findings():
            line = f"{each.name}: {each.words or _('well')}"
            self.stdout.write(line)
            if not each.well:
                wrong.append(line)
        if not wrong:
            return
        if mail:
            self._mail(wrong)
        raise CommandError(_("Not well: {count}.").format(count=len(wrong)))

    def _mail(self, wrong):
        if not settings.ERROR_MAIL:
            raise CommandError(_("Set ERROR_MAIL: nobody to mail to."))
        subject = _("The training site needs somebody to look")
        EmailMessage(subject, "\n".join(wrong), to=settings.ERROR_MAIL).send()
