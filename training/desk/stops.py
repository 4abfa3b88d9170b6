"""Where on the way from signing up to a certificate people stop."""

from datetime import timedelta
from typing import NamedTuple

from django.db.models import Count, DateTimeField, F, Q, Value
from django.db.models.functions import Coalesce
from django.utils import timezone

from .calls.numbers import QUIET_DAYS
from .way import CERTIFIED, SIGNED_UP, Step, way_of


class Stop(NamedTuple):
    """
    A step of the way: how many came at least as far, and how many are there now.

    ``quiet`` of those who are there have done nothing for QUIET_DAYS, and so stopped;
    of the certified nobody has stopped: they are through.
    """

    step: Step
    came: int
    here: int
    quiet: int


def stops(people, role, now=None):
    """
    Return a Stop for each step of the way of ``role``, for ``people``, a queryset, in one query.

    Whose step is of a lesson that is gone counts as signed up until all is counted anew.
    """
    since = (now or timezone.now()) - timedelta(days=QUIET_DAYS)
    rows = (
        people.filter(role=role)
        .order_by()
        .annotate(
            at=Coalesce(F("tally__step"), Value(SIGNED_UP)),
            active=Coalesce(F("tally__last"), F("joined"), output_field=DateTimeField()),
        )
        .values_list("at")
        .annotate(here=Count("pk"), quiet=Count("pk", filter=Q(active__lt=since)))
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
