"""
Recording what happened to vessels, and correcting or withdrawing it.

Saving an event brings the sums up to date (see ``receivers``), here in one transaction.
"""

from django.db import IntegrityError, transaction
from django.utils.translation import gettext as _

from . import uptake
from .models import AdoptionEvent
from .stages import Known


class AlreadyCorrected(ValueError):
    """Somebody else corrected or withdrew the event first."""


@transaction.atomic
def record(vessel, stage, day, *, key, by=None, known=Known.HAND, note=""):
    """
    Return the event that ``vessel`` reached ``stage`` on ``day``, recorded once per ``key``.

    ``by`` is who recorded it, None for the site itself.
    """
    event, __ = AdoptionEvent.objects.get_or_create(
        key=key,
        defaults={
            "vessel": vessel,
            "stage": stage,
            "day": day,
            "by": by,
            "known": known,
            "note": note,
        },
    )
    return event


def key_of_many(key):
    """Return how the keys begin of what was recorded for many vessels by the form ``key``."""
    return f"form:{key}:"


@transaction.atomic
def record_many(vessels, stage, day, *, key, by, known, note=""):
    """Record for each of ``vessels``, a list, that it reached ``stage``; once per ``key``."""
    told = {"stage": stage, "day": day, "by": by, "known": known, "note": note}
    new = [AdoptionEvent(vessel=each, key=f"{key}:{each.pk}", **told) for each in vessels]
    AdoptionEvent.objects.bulk_create(new, ignore_conflicts=True)
    uptake.refresh([each.pk for each in vessels])


def correct(event, *, key, by, stage=None, day=None, known=None, note=""):
    """
    Return the event that stands for ``event`` from now on; what is None stays as it was.

    Recorded once per ``key``. Raise AlreadyCorrected if another one stands for it.
    """
    told = {
        "stage": stage or event.stage,
        "day": day or event.day,
        "known": known or event.known,
        "note": note,
    }
    return _follow(event, key, by, told)


def withdraw(event, *, key, by, note=""):
    """
    Return the withdrawal of ``event``, recorded once per ``key``.

    Raise AlreadyCorrected if something else took its place.
    """
    told = {"stage": event.stage, "day": event.day, "known": event.known, "note": note}
    return _follow(event, key, by, told, is_withdrawal=True)


def _follow(event, key, by, told, is_withdrawal=False):
    try:
        with transaction.atomic():
            later, __ = AdoptionEvent.objects.get_or_create(
                key=key,
                defaults={
                    "vessel_id": event.vessel_id,
                    "corrects": event,
                    "by": by,
                    "is_withdrawal": is_withdrawal,
                    **told,
                },
            )
    except IntegrityError as error:
        # The database lets one event alone correct another, whoever was first.
        raise AlreadyCorrected(
            _("This event was corrected already. Look at it as it is now.")
        ) from (error)
    return later
