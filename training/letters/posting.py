"""Mailing a letter by a worker: no page waits for the mail server."""

import uuid

from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from training.people import sight
from training.work import asking, kinds
from training.work.models import Job

from . import sending
from .models import Letter

AT_ONCE = 3
"""Mails sent while staff wait for the page; of more, all go by a worker."""


def post(letter, by, address):
    """
    Have ``letter`` mailed to all who wait for it, for ``by``; return the Job, None for nobody.

    ``address`` is where the site is found. What cannot be sent now waits for send_letters.
    """
    number = sending.waiting().filter(letter=letter).count()
    if not number or asking.going(LetterWork.slug, letter=letter.pk):
        return None
    about = {"letter": letter.pk, "address": address}
    return asking.ask(asking.Order(LetterWork.slug, about, number), by, uuid.uuid4())


def at_work(letter, user):
    """Return the Job of ``user`` that mails ``letter`` now, None for none."""
    found = Job.objects.filter(kind=LetterWork.slug, about__letter=letter.pk)
    return sight.own(found.filter(state__in=Job.GOING), user).first()


@kinds.kind
class LetterWork(kinds.Kind):
    """Mailing a letter to each who waits for it."""

    slug = "letter"
    at_once = AT_ONCE

    def title(self, job):
        found = Letter.objects.filter(pk=job.about["letter"]).first()
        return _("Sending “{subject}”").format(subject=found.subject if found else "…")

    def work(self, run):
        about, result = run.job.about, run.job.result
        waiting = sending.waiting().filter(letter=about["letter"])
        for pk in list(waiting.values_list("pk", flat=True)):
            with run.step():
                row = waiting.filter(pk=pk).first()
            try:
                sent = row is not None and sending.send(row, about["address"])
            except OSError:
                # The mail server is down: whoever waits is mailed with the next hourly run.
                result["away"] = True
                break
            with run.step(done=1):
                result["sent"] = result.get("sent", 0) + sent

    def said(self, job):
        sent = job.result.get("sent", 0)
        said = ngettext("{n} mail was sent.", "{n} mails were sent.", sent).format(n=sent)
        if not job.result.get("away"):
            return said
        away = _("The mail server does not answer. The rest is tried again within the hour.")
        return f"{said} {away}"

    def leads_to(self, job):
        found = Letter.objects.filter(pk=job.about["letter"]).exists()
        return reverse("letters:letter", args=[job.about["letter"]]) if found else ""
