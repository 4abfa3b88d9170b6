"""What people chose about who sees their nets and catches."""

from django.db.models import OuterRef, Subquery

from . import sight
from .models import SharingChoice, User

What, Level = SharingChoice.What, SharingChoice.Level


def level_of(user, what):
    """Return the Level that ``user`` chose for ``what`` (a What); OWN if nothing was chosen."""
    choice = user.sharing_choices.filter(what=what).order_by("-made", "-pk").first()
    return Level(choice.level) if choice else Level.OWN


def choose(user, what, level):
    """Keep that ``user`` chose ``level`` for ``what``, unless that is what holds already."""
    if level_of(user, what) != level:
        SharingChoice.objects.create(user=user, what=what, level=level)


def sharers(what, levels):
    """Return a queryset of the people whose choice for ``what`` is one of ``levels``."""
    choices = SharingChoice.objects.filter(user=OuterRef("pk"), what=what)
    latest = Subquery(choices.order_by("-made", "-pk").values("level")[:1])
    return User.objects.annotate(chosen_level=latest).filter(chosen_level__in=levels)


def shown_to_staff(what, path):
    """
    Return the rule of sight: rows whose owner, at ``path``, shows staff his ``what``.

    Of the people in reach of the member of staff alone.
    """

    def seen(queryset, user):
        owners = sight.rows(sharers(what, [Level.STAFF]), user)
        return queryset.filter(**{f"{path}__in": owners.values("pk")})

    return seen
