"""Where on the way from signing up to a certificate people stop."""

from datetime import timedelta
from typing import NamedTuple

from django.db.models import Case, Count, DateTimeField, F, Q, Value, When
from django.db.models.functions import Coalesce
from django.utils import timezone

from .calls.numbers import QUIET_DAYS
from .trainees import certified
from .way import CERTIFIED, SIGNED_UP, Step, way_of


class Stop(NamedTuple):
    """
    A step of the way: how many came at least as far, and how many are there now.

    ``quiet`` of those who are there have done nothing for QUIET_DAYS, and so stopped;
    of those certified today nobody has stopped: they are through.
    """

    step: Step
    came: int
    here: int
    quiet: int


def placed(people, now=None):
    """Return ``people`` with the key of the step each is ``at``, and when last ``active``."""
    now = now or timezone.now()
    return people.annotate(
        at=Case(
            When(certified(now), then=Value(CERTIFIED)),
            default=Coalesce(F("tally__step"), Value(SIGNED_UP)),
        ),
        active=Coalesce(F("tally__last"), F("joined"), output_field=DateTimeField()),
    )


def is_quiet(now=None):
    """Return the Q of ``placed`` people who have done nothing for QUIET_DAYS."""
    return Q(active__lt=(now or timezone.now()) - timedelta(days=QUIET_DAYS))


def at_step(role, key, further=False):
    """
    Return the Q of ``placed`` people who are at the step ``key`` of the way of ``role``.

    With ``further``, of those too who are at any later one. It finds whom ``stops`` counts.
    """
    keys = [step.key for step in way_of(role)]
    if key not in keys:
        return Q(pk=None)
    those = keys[keys.index(key) :] if further else [key]
    found = Q(role=role, at__in=those)
    # Whose step is none of the way's counts as signed up.
    return found | (Q(role=role) & ~Q(at__in=keys)) if SIGNED_UP in those else found


def stops(people, role, now=None):
    """
    Return a Stop for each step of the way of ``role``, for ``people``, a queryset, in one query.

    Whose step is of a lesson that is gone counts as signed up until all is counted anew.
    """
    now = now or timezone.now()
    rows = (
        placed(people.filter(role=role), now)
        .order_by()
        .values_list("at")
        .annotate(here=Count("pk"), quiet=Count("pk", filter=is_quiet(now)))
    )
    way = way_of(role)
    here = {step.key: [0, 0] for step in way}
    for key, number, quiet in rows:
        place = here.get(key, here[SIGNED_UP])
        place[0] += number
        place[1] += quiet
    left = sum(number for number, _ in here.values())
    found = []
    for step in way:
        number, quiet = here[step.key]
        found.append(Stop(step, left, number, 0 if step.key == CERTIFIED else quiet))
        left -= number
    return found
