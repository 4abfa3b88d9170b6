"""Whose vessels and people a member of staff may see."""

from django.contrib.auth import get_user_model
from django.db.models import Q


def harbors_of(user):
    """
    Return the harbors that ``user`` looks after, as a set, or None for the whole fleet.

    Whoever has been given no harbor has not been held to any. Asked once for each
    ``user`` at hand, that is once a request.
    """
    if not hasattr(user, "_harbors"):
        user._harbors = set(user.reaches.values_list("harbor", flat=True)) or None
    return user._harbors


def within(queryset, user, field="harbor"):
    """Return the rows of ``queryset`` whose ``field``, a harbor, ``user`` looks after."""
    harbors = harbors_of(user)
    return queryset if harbors is None else queryset.filter(**{f"{field}__in": harbors})


def people_within(queryset, user):
    """
    Return the people of ``queryset`` whom ``user`` looks after.

    They are in a group of one of the harbors, or fish on a vessel there.
    """
    harbors = harbors_of(user)
    if harbors is None:
        return queryset
    near = Q(memberships__group__harbor__in=harbors) | Q(
        berths__vessel__harbor__in=harbors, berths__until=None
    )
    return queryset.filter(pk__in=queryset.model.objects.filter(near).values("pk"))


def those_of_people_within(queryset, user, field):
    """
    Return the rows of ``queryset`` whose ``field``, a person, ``user`` looks after.

    What is the user's own is among them.
    """
    if harbors_of(user) is None:
        return queryset
    people = people_within(get_user_model().objects.all(), user)
    return queryset.filter(Q(**{f"{field}__in": people.values("pk")}) | Q(**{field: user}))
