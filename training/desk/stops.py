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


def _placed(people, now):
    """Return ``people`` with the key of the step each is ``at``, and when last ``active``."""
    return people.annotate(
        at=Case(
            When(certified(now), then=Value(CERTIFIED)),
            default=Coalesce(F("tally__step"), Value(SIGNED_UP)),
        ),
        active=Coalesce(F("tally__last"), F("joined"), output_field=DateTimeField()),
    )


def _is_quiet(now):
    return Q(active__lt=now - timedelta(days=QUIET_DAYS))


def stops(people, role, now=None):
    """
    Return a Stop for each step of the way of ``role``, for ``people``, a queryset, in one query.

    Whose step is of a lesson that is gone counts as signed up until all is counted anew.
    """
    now = now or timezone.now()
    rows = (
        _placed(people.filter(role=role), now)
        .order_by()
        .values_list("at")
        .annotate(here=Count("pk"), quiet=Count("pk", filter=_is_quiet(now)))
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
