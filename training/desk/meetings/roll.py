"""Who came to a session: the list as it fills, and the names to tap."""

from typing import NamedTuple

from django.core.paginator import Paginator
from django.db.models import Q

from training.people.models import Attendance, User

from ..trainees import people

LATEST = 60  # people on the list that fills, the latest first
NAMES_A_PAGE = 100


class Roll(NamedTuple):
    """How many are on the list of a session, and the latest of them first."""

    came: int
    latest: list[Attendance]


class Named(NamedTuple):
    """A person whose name can be tapped; a guest is not in the group."""

    person: User
    came: bool
    guest: bool


def roll(session):
    """Return the Roll of ``session``, in two queries however many came."""
    found = session.attendances.select_related("user")
    return Roll(found.count(), list(found[:LATEST]))


def may_come(session):
    """Return the people whose names can be tapped: of the group, and guests on the list."""
    return User.objects.filter(
        Q(memberships__group=session.group_id) | Q(attendances__session=session)
    ).distinct()


def names(session, text="", page=None):
    """
    Return (page, a Named for each name on it), by name, those with every word of ``text``.

    In four queries however many they are.
    """
    found = Paginator(people(text=text, among=may_come(session)), NAMES_A_PAGE).get_page(page)
    shown = list(found.object_list)
    came = set(session.attendances.filter(user__in=shown).values_list("user", flat=True))
    members = set(session.group.memberships.filter(user__in=shown).values_list("user", flat=True))
    return found, [Named(each, each.pk in came, each.pk not in members) for each in shown]
