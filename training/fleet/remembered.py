"""What people remember of rules that they once had right, by group and by how long ago that was."""

from typing import NamedTuple

from django.db.models import Count, Q

from training.recall.models import AskedAgain

from .models import Membership
from .reach import those_of_people_within
from .spans import SPANS
from .suppression import SMALLEST


class Kept(NamedTuple):
    """Of ``asked`` questions on rules once right, how many were ``right`` again; by ``people``."""

    asked: int = 0
    right: int = 0
    people: int = 0

    @property
    def is_fair(self):
        """Whether so many people stand behind it that it tells on none of them."""
        return self.people >= SMALLEST


def kept(user, group=None):
    """
    Return a Kept for each of SPANS, of the people whom ``user`` looks after; one query.

    ``group`` keeps it to the people of one group, a Group. A question counts if the one before
    on the same rule was right, and that many days ago.
    """
    rows = those_of_people_within(AskedAgain.objects.all(), user, "user")
    if group is not None:
        members = Membership.objects.filter(group=group).order_by()
        rows = rows.filter(user__in=members.values("user"))
    sums = {}
    for span, following in zip(SPANS, (*SPANS[1:], None), strict=True):
        within = Q(days__gte=span.first)
        if following:
            within &= Q(days__lt=following.first)
        sums |= {
            f"asked_{span.first}": Count("pk", filter=within),
            f"right_{span.first}": Count("pk", filter=within & Q(right=True)),
            f"people_{span.first}": Count("user", filter=within, distinct=True),
        }
    found = rows.order_by().aggregate(**sums)
    return [
        Kept(*(found[f"{what}_{span.first}"] for what in ("asked", "right", "people")))
        for span in SPANS
    ]
