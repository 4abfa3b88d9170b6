"""The harbors that a member of staff is held to, and who belongs to one."""

from django.contrib.auth import get_user_model
from django.db.models import Q

_ways = []


def belonging(way):
    """
    Let ``way`` say of more people that they belong to a harbor; return it.

    It takes a set of harbors and a moment, None for now, and returns a Q over people. Rooms
    above call this when the site starts; a person belongs to every harbor that any of the
    ways finds.
    """
    _ways.append(way)
    return way


@belonging
def by_group(harbors, moment=None):
    """The people in a group of one of the ``harbors``."""
    joined = {} if moment is None else {"memberships__joined__lt": moment}
    return Q(memberships__group__harbor__in=harbors, **joined)


def harbors_of(user):
    """
    Return the harbors that ``user`` looks after, as a set, or None for the whole fleet.

    The whole fleet is an explicit yes on the account: the set of whoever has neither that
    nor a harbor is empty. Asked once for each ``user`` at hand, that is once a request.
    """
    if user.sees_whole_fleet:
        return None
    if not hasattr(user, "_harbors"):
        user._harbors = set(user.reaches.values_list("harbor", flat=True))
    return user._harbors


def reach_of(user):
    """Return what decides which rows ``user`` sees, as JSON: the same while that is the same."""
    harbors = harbors_of(user)
    return [user.role, user.is_superuser, None if harbors is None else sorted(harbors)]


def people_of(harbors, moment=None):
    """Return a queryset of the people who belong to one of ``harbors``, or did by ``moment``."""
    near = Q()
    for way in _ways:
        near |= way(harbors, moment)
    return get_user_model().objects.filter(near)
