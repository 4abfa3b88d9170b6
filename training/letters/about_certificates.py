"""Mails to holders whose certificates are about to run out, each sent once."""

import uuid

from django.urls import reverse
from django.utils.formats import date_format
from django.utils.timezone import localtime
from django.utils.translation import gettext as _

from training.certification.fair import recheck
from training.certification.models import Reminder

from . import gaps, sending, texts
from .models import Letter


def send(due, address):
    """
    Mail the holder of what is ``due``, an Ending; ``address`` is where the site is found.

    Returns whether a mail went out: of two that ask at once only one sends it. If it
    cannot be sent the error is raised and the holder counts as not told.
    """
    reminder, is_new = Reminder.objects.get_or_create(certificate=due.certificate, days=due.days)
    if not is_new:
        return False
    letter = _letter(due, address)
    try:
        return sending.note_sent(letter, due.certificate.exam.user, address)
    except BaseException:
        # Also when somebody stops the program: the next run is to try again.
        reminder.delete()
        letter.delete()
        raise


def _letter(due, address):
    text, certificate = texts.current(texts.CERTIFICATE), due.certificate
    path = reverse("certificates:certificate", args=[certificate.code])
    again = (
        _("To renew it, take the exam again before then.")
        if recheck.hindrance(certificate)
        else _("To renew it, take a short check before then, or the whole exam again.")
    )
    values = {
        "site": f"{address}/",
        "certificate": certificate.exam.requirements.title,
        "ends": date_format(localtime(certificate.expires), "F j, Y"),
        "renewal": again,
        "link": address + path,
    }
    return Letter.objects.create(
        key=uuid.uuid4(),
        purpose=Letter.Purpose.CERTIFICATE,
        subject=gaps.fill(text.subject, values),
        body=gaps.fill(text.body, values),
        person=certificate.exam.user,
    )
