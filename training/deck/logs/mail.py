"""Mail to the office about what failed."""

import hashlib
import logging
import threading

from django.conf import settings
from django.core.mail import EmailMessage
from django.db import connections
from django.utils.translation import gettext as _

from .ceiling import Ceiling
from .failure import as_text
from .line import as_dict

log = logging.getLogger("training.deck.logs")


def _kind(told):
    """Return what makes two failures the same: where they broke, and how."""
    failure = told.get("failure", {})
    text = [told["message"], failure.get("kind", ""), *failure.get("places", [])[-1:]]
    return hashlib.sha256("\n".join(text).encode()).hexdigest()[:16]


def _words(told, leave):
    """Return the subject and the text of the mail about ``told``, a record's dict."""
    what = told.get("route") or told.get("command") or told["logger"]
    lines = [
        _("Something failed on the training site."),
        "",
        _("What: {what} ({message})").format(what=what, message=told["message"]),
        _("When: {time} (UTC)").format(time=told["time"]),
        _("Number in the log: {number}").format(number=told.get("request") or _("none")),
    ]
    if "failure" in told:
        lines += ["", as_text(told["failure"])]
    if leave.held:
        lines += ["", _("Failures before it that no mail was sent about: {held}.")]
        lines[-1] = lines[-1].format(held=leave.held)
    lines += ["", _("The same failure is mailed once an hour. The log has every one.")]
    if leave.last:
        lines += [_("This is the last mail of this hour, whatever else fails.")]
    return _("Failed: {what}").format(what=what), "\n".join(lines)


class OfficeMail(logging.Handler):
    """
    Mails failures to ``ERROR_MAIL``, at most ``ERROR_MAILS_AN_HOUR`` of them.

    The mail goes out beside the request, which does not wait for the mail server. What callers
    do wrong (``django.security``) is in the log and is no failure.
    """

    def __init__(self, level=logging.ERROR):
        super().__init__(level)
        self.ceiling = None

    def emit(self, record):
        if not settings.ERROR_MAIL or record.name.startswith("django.security"):
            return
        try:
            self.ceiling = self.ceiling or Ceiling(settings.ERROR_MAILS_AN_HOUR)
            told = as_dict(record)
            leave = self.ceiling.ask(_kind(told))
            if leave:
                subject, text = _words(told, leave)
                mail = EmailMessage(subject, text, to=settings.ERROR_MAIL)
                threading.Thread(target=_send_apart, args=[mail], name="office mail").start()
        except Exception:
            log.warning("no mail about a failure could be made", exc_info=True)


def _send_apart(mail):
    """Send ``mail`` in a thread of its own, which leaves no connection to the database behind."""
    try:
        send(mail)
    finally:
        connections.close_all()


def send(mail):
    """Send ``mail``; a mail server that fails is noted, and nothing else comes of it."""
    try:
        mail.send()
    except Exception:
        log.warning("a mail about a failure was not sent", exc_info=True)
