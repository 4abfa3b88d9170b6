"""Whose vessels and people a member of staff may see."""

from django.contrib.auth import get_user_model
from django.db.models import Q


def harbours_of(user):
    """
    Return the harbours that ``user`` looks after, as a set, or None for the whole fleet.

    Whoever has been given no harbour has not been held to any. Asked once for each
    ``user`` at hand, that is once a request.
    """
    if not hasattr(user, "_harbours"):
        user._harbours = set(user.reaches.values_list("harbour", flat=True)) or None
    return user._harbours


def within(queryset, user, field="harbour"):
    """Return the rows of ``queryset`` whose ``field``, a harbour, ``user`` looks after."""
    harbours = harbours_of(user)
    return queryset if harbours is None else queryset.filter(**{f"{field}__in": harbours})


def people_within(queryset, user):
    """
    Return the people of ``queryset`` whom ``user`` looks after.

    They are in a group of one of the harbours, or fish on a vessel there.
    """
    harbours = harbours_of(user)
    if harbours is None:
        return queryset
    near = Q(memberships__group__harbour__in=harbours) | Q(
        berths__vessel__harbour__in=harbours, berths__until=None
    )
    return queryset.filter(pk__in=queryset.model.objects.filter(near).values("pk"))


def those_of_people_within(queryset, user, field):
    """
    Return the rows of ``queryset`` whose ``field``, a person, ``user`` looks after.

    What is the user's own is among them.
    """
    if harbours_of(user) is None:
        return queryset
    people = people_within(get_user_model().objects.all(), user)
    return queryset.filter(Q(**{f"{field}__in": people.values("pk")}) | Q(**{field: user}))
