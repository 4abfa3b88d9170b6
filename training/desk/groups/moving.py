"""People put into groups and taken out of them. No role changes by it, and no record is lost."""

from django.db import transaction

from training.people.models import Membership


@transaction.atomic
def move(group, people, deed, to=None):
    """
    Do ``deed`` with ``people`` of ``group``; return with how many anything was done.

    ``add`` puts them into the group ``to`` as well, ``move`` into it alone, ``out`` into none.
    Twice is once. Row by row, since sums are kept up with each membership.
    """
    done = 0
    leaving = group.memberships.filter(user__in=people)
    for membership in leaving.select_related("user"):
        is_new = deed != "out" and put_in(to, membership.user)
        if deed != "add":
            membership.delete()
        done += is_new or deed != "add"
    return done


def put_in(group, user):
    """Have ``user`` be a member of ``group``; return whether it is new."""
    return Membership.objects.get_or_create(group=group, user=user)[1]
