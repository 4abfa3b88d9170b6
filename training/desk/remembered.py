"""What people remember of rules that they once had right, by group and by how long ago that was."""

from typing import NamedTuple

from django.db.models import Count, Q

from training.deck.suppression import SMALLEST
from training.people import sight
from training.recall.models import AskedAgain

from .spans import SPANS


class Kept(NamedTuple):
    """Of ``asked`` questions on rules once right, how many were ``right`` again; by ``people``."""

    asked: int = 0
    right: int = 0
    people: int = 0

    @property
    def share(self):
        """The share right again, of one that was asked."""
        return self.right / self.asked

    @property
    def is_fair(self):
        """Whether so many people stand behind it that it tells on none of them."""
        return self.people >= SMALLEST


def kept(user, groups=()):
    """
    Return {group's number: a Kept for each of SPANS}, of the people whom ``user`` looks after.

    Under None it is of all of them, under the others of the people of each of ``groups``, Groups;
    two queries, however many these are. A question counts if the one before on the same rule was
    right, and that many days ago.
    """
    rows = sight.rows(AskedAgain.objects.all(), user).order_by()
    found = {None: rows.aggregate(**_sums())}
    of_groups = rows.filter(user__memberships__group__in=groups)
    for each in of_groups.values("user__memberships__group").annotate(**_sums()):
        found[each["user__memberships__group"]] = each
    return {key: _spans(found.get(key, {})) for key in (None, *(group.pk for group in groups))}


def asked_in(span):
    """Return the Q of questions asked again after as many days as ``span`` has."""
    later = [each.first for each in SPANS if each.first > span.first]
    within = Q(days__gte=span.first)
    return within & Q(days__lt=min(later)) if later else within


def _sums():
    """Return what is counted in each span of days, by name."""
    sums = {}
    for span in SPANS:
        within = asked_in(span)
        sums |= {
            f"asked_{span.first}": Count("pk", filter=within),
            f"right_{span.first}": Count("pk", filter=within & Q(right=True)),
            f"people_{span.first}": Count("user", filter=within, distinct=True),
        }
    return sums


def _spans(sums):
    return [
        Kept(*(sums.get(f"{what}_{span.first}", 0) for what in ("asked", "right", "people")))
        for span in SPANS
    ]
