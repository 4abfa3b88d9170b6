"""Sending by the mail server, and noting while it takes nothing."""

import logging
from datetime import timedelta
from smtplib import SMTPRecipientsRefused

from django.conf import settings
from django.core.mail.backends.smtp import EmailBackend
from django.db import DatabaseError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from training.deck import readiness

from .models import Tries

log = logging.getLogger("training.people")

REFUSED = "mail.refused"
KEPT = timedelta(days=1)
"""How long it is shown that no mail went out, if none was tried again."""


class MailServer(EmailBackend):
    """Sends by SMTP; counts what the server did not take, until it takes one again."""

    def send_messages(self, email_messages):
        try:
            sent = super().send_messages(email_messages)
        except SMTPRecipientsRefused:
            # That is one address, and no trouble of the server.
            raise
        except OSError:
            _note(lambda mine: Tries.objects.add(REFUSED, REFUSED, KEPT))
            raise
        if sent:
            _note(lambda mine: mine.exists() and mine.delete())
        return sent


def _note(how):
    try:
        how(Tries.objects.filter(whom=REFUSED))
    except DatabaseError:
        log.warning("it could not be noted whether mail goes out", exc_info=True)


@readiness.check("mail", gettext_lazy("Mail"))
def mail_goes_out():
    if not settings.EMAIL_HOST:
        return _("EMAIL_HOST is not set: mail is printed, not sent.")
    count = Tries.objects.counting().filter(whom=REFUSED).values_list("count", flat=True).first()
    if not count:
        words = _("No trouble with {host} is known. What it loses later is not seen here.")
        return readiness.Well(words.format(host=settings.EMAIL_HOST))
    words = ngettext(
        "{count} mail could not be sent, and none went out since. Ask the person who runs {host}.",
        "{count} mails could not be sent, and none went out since. Ask the person who runs {host}.",
        count,
    )
    return words.format(count=count, host=settings.EMAIL_HOST)
