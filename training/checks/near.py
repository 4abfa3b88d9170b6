"""
Which check sheets are of a harbor, for staff who are held to some.

Rooms above that know more of harbors register themselves here when the site starts.
"""

from django.db.models import Q

from training.people import sight

_ways = []


def near(way):
    """Let ``way`` find more; return it. It takes a set of harbors and returns a Q over sheets."""
    _ways.append(way)
    return way


@near
def by_name(harbors):
    """The sheets on which one of ``harbors`` is written as it is called."""
    return Q(harbor__in=harbors)


def seen(queryset, user):
    """The rule of sight: sheets of the harbors that ``user`` looks after, and his own."""
    harbors = sight.harbors_of(user)
    if harbors is None:
        return queryset
    found = Q(officer=user)
    for way in _ways:
        found |= way(harbors)
    return queryset.filter(found)
