"""The account of the first administrator, made where there is nobody yet who could invite one."""

import uuid

from django.contrib.admin.models import ADDITION
from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.db import transaction
from django.utils.translation import gettext as _

from training.people import second
from training.people.models import AccountDeed, User

from . import keeping


class NotFirst(Exception):
    """There is somebody already who can invite others; the message says who and what to do."""


def invite(email, name, address, another=False):
    """
    Make the account of an administrator and mail them the link to their password.

    ``address`` is where the site is found. Who was invited and has no password yet is
    mailed another link; somebody else who was and has not come is shut out.

    Raise NotFirst if an administrator has a password, unless ``another`` is wanted;
    ValidationError for an address that is none or is somebody else's; OSError if the mail
    cannot be sent: the account is there then, and asking again sends it.
    """
    validate_email(email)
    person = _account(email, name, another)
    if not keeping.invite(person, None, uuid.uuid4(), address):
        raise OSError(_("{email} was refused.").format(email=email))
    return person


@transaction.atomic
def _account(email, name, another):
    person = User.objects.filter(email=email.lower()).first()
    if person and not (person.is_superuser and person.is_active):
        raise ValidationError(_("{email} has an account already.").format(email=email))
    if person and person.has_usable_password():
        words = _("{email} has a password. The sign-in page mails a link to a new one.")
        raise ValidationError(words.format(email=email))
    others = User.objects.filter(is_superuser=True, is_active=True).order_by("pk")
    found = next((each for each in others if each.has_usable_password()), None)
    if found and not another:
        words = _("{email} is an administrator already, and can invite others on the site.")
        raise NotFirst(words.format(email=found.email))
    if not found:
        # Invited before, to an address that may have been a slip: that link must not hold.
        others.exclude(email=email.lower()).update(is_active=False)
    if person is None:
        person = User.objects.create_superuser(email, name=name)
        second.note(person, AccountDeed.What.MADE, None)
        words = _("Made as an administrator by a command, on the site's own machine.")
        keeping.note(person, person, ADDITION, words)
    return person
