"""Taking the phone off somebody who lost it and their spare codes: one asks, a second agrees."""

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from .. import notices, second
from ..models import AccountDeed, PhoneReset
from . import devices


class MayNotReset(Exception):
    """The sentence says why the phone is not taken off."""


def waiting():
    """Return the PhoneResets that nobody decided yet, the oldest first."""
    found = PhoneReset.objects.filter(agreed=None)
    return found.select_related("person", "by").order_by("made", "pk")


def ask(person, by):
    """
    Return the PhoneReset by which ``by`` asks for the phone of ``person``; one if asked twice.

    Raise MayNotReset if that is their own, or there is none.
    """
    if person.pk == by.pk:
        raise MayNotReset(_("This is your own phone. Somebody else asks for it to be taken off."))
    if not devices.has(person):
        raise MayNotReset(_("{name} has no sign-in codes.").format(name=person))
    return PhoneReset.objects.get_or_create(person=person, agreed=None, defaults={"by": by})[0]


def why_not(held, beside):
    """Return why the person of ``beside``, a second.Beside, cannot agree to ``held``; or ""."""
    if held.person_id == beside.person.pk:
        return _("This is your own phone. Two others decide about it.")
    return beside.why_not(held.by, held.made)


def able(held, everybody):
    """Return the people who can agree to ``held``, by name; ``everybody`` is second.Able."""
    return [each for each in everybody.beside(held.by, held.made) if each.pk != held.person_id]


@transaction.atomic
def agree(held, by):
    """Take the phone off as ``held`` asks; raise MayNotReset if ``by`` cannot agree to it."""
    if why := why_not(held, second.Beside(by)):
        raise MayNotReset(why)
    held = _decide(held, by, agreed=True)
    take_off(held.person, held.by, by)


def turn_down(held, by):
    """Leave the phone as it is; ``by`` may be who asked, and then takes it back."""
    with transaction.atomic():
        _decide(held, by, agreed=False)


def take_off(person, by, agreed_by=None):
    """Take the phone off ``person``, keep who did it, and mail them; ``by`` None is the machine."""
    devices.take_off(person)
    second.note(person, AccountDeed.What.FACTOR, by, agreed_by=agreed_by)
    notices.tell(person, notices.FACTOR_OFF, by)


def _decide(held, by, agreed):
    held = PhoneReset.objects.select_for_update(of=("self",)).get(pk=held.pk)
    if held.agreed is not None:
        raise MayNotReset(_("This was decided already."))
    held.agreed, held.decided_by, held.decided = agreed, by, timezone.now()
    held.save(update_fields=["agreed", "decided_by", "decided"])
    return held
