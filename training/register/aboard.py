"""Who fishes on a vessel: put down by staff who look after the person, or asked first."""

from django.db import IntegrityError, transaction
from django.utils import timezone

from training.people import sight
from training.people.models import User

from .models import BerthAsked, Crew


def looks_after(user, person):
    """Return whether ``user``, of the staff, looks after ``person`` already."""
    return sight.rows(User.objects.filter(pk=person.pk), user).exists()


@transaction.atomic
def ask(vessel, person, told, by):
    """Ask ``person`` whether he fishes on ``vessel``, as ``told``: part and since; once."""
    if Crew.objects.filter(vessel=vessel, user=person, until=None).exists():
        return
    try:
        with transaction.atomic():
            BerthAsked.objects.create(vessel=vessel, user=person, by=by, **told)
    except IntegrityError:
        pass  # was asked already


@transaction.atomic
def answer(asked, says_yes):
    """Note what was said to ``asked``; a yes puts the person on the vessel. The first holds."""
    asked = BerthAsked.objects.select_for_update().get(pk=asked.pk)
    if asked.answered:
        return
    asked.answered, asked.said_yes = timezone.now(), says_yes
    asked.save(update_fields=["answered", "said_yes"])
    if says_yes:
        told = {"part": asked.part, "since": asked.since}
        Crew.objects.get_or_create(vessel=asked.vessel, user=asked.user, until=None, defaults=told)
