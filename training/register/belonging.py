"""Whoever fishes on a vessel belongs to the harbor of that vessel."""

from django.db.models import Q
from django.utils import timezone

from training.people import sight

from .models import Crew, VesselDetails


@sight.belonging
def by_vessel(harbors, moment=None):
    """The people who fish now, or at a ``moment``, on a vessel of one of the ``harbors``."""
    if moment is None:
        return Q(
            berths__vessel__harbor__in=harbors, berths__vessel__removed=None, berths__until=None
        )
    there = VesselDetails.objects.at(moment).filter(harbor__in=harbors)
    day = timezone.localdate(moment)
    aboard = Crew.objects.filter(vessel__in=there.values("vessel"), since__lt=day)
    aboard = aboard.filter(Q(until=None) | Q(until__gte=day))
    return Q(pk__in=aboard.values("user"))
