"""Mails that tell people what was changed about their accounts; nobody can stop these."""

import logging
from functools import partial
from smtplib import SMTPException

from django.db import transaction
from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from . import wanting

log = logging.getLogger("training.people")

PASSWORD = gettext_lazy("The password of your account was changed.")
FIRST_PASSWORD = gettext_lazy(
    "A first password was chosen for your account, by the link in your invitation."
)
CLOSED = gettext_lazy("Your account was closed. You cannot sign in any more.")
OPENED = gettext_lazy("Your account was opened again. You can sign in.")
FACTOR_SET = gettext_lazy("Sign-in codes from a phone were turned on for your account.")
FACTOR_OFF = gettext_lazy(
    "Sign-in codes were turned off for your account. Your password alone signs you in."
)
FACTOR_CODES = gettext_lazy("New spare codes for signing in were made for your account.")
FACTOR_GUESSED = gettext_lazy(
    "Somebody typed many wrong codes to sign in as you. They may know your password."
)


def role_changed(person):
    """Return the sentence that says what ``person`` is now."""
    return _("Your role is now: {role}.").format(role=person.get_role_display())


def tell(person, what, by=None, to=None):
    """
    Mail ``person`` that ``what`` happened to the account, once it is saved for certain.

    ``by`` is who did it, the person or another; None if nobody knows. ``to`` is the address,
    if not that of the account. A mail that cannot be sent is logged, and stops nothing.
    """
    context = {
        "name": person.get_short_name(),
        "what": what,
        "by": by if by != person else None,
        "own": by == person,
        "moment": timezone.localtime(),
    }
    text = render_to_string("people/notice.txt", context)
    send_later(person, _("Your account was changed"), text, to or person.email)


def send_later(person, subject, text, to):
    """Mail ``text`` about the account of ``person`` to ``to``, once all is saved for certain."""
    transaction.on_commit(partial(_send, person.pk, subject, text, to), robust=True)


def _send(pk, subject, text, to):
    try:
        wanting.send_of_account(to, subject, text)
    except (OSError, SMTPException, ValueError):
        # Of the address: a header it would break is a ValueError, as letters it cannot have are.
        log.warning("a notice could not be mailed", extra={"person": pk})
