"""Whoever fishes on a vessel belongs to the harbor of that vessel."""

from django.db.models import Q

from training.people import sight


@sight.belonging
def by_vessel(harbors):
    """The people who fish now on a vessel of one of the ``harbors``."""
    return Q(berths__vessel__harbor__in=harbors, berths__until=None)
