"""Which rows of a model a person sees, by the rule that the model's class carries."""

from collections.abc import Callable
from typing import NamedTuple

from django.db.models import Q
from django.utils.translation import gettext as _

from .reach import harbors_of, people_of


class Sight(NamedTuple):
    """
    The rule of a model.

    ``own`` is the path of fields to whose a row is, None where rows are nobody's. ``staff``
    takes a queryset and a member of staff, and returns the rows that he sees; where it is
    None staff see their own, as everybody does.
    """

    own: str | None = None
    staff: Callable | None = None


def rule(own=None, staff=None):
    """Return the decorator of models that gives them the Sight of these two."""

    def decorator(model):
        _rules[model] = Sight(own, staff)
        return model

    return decorator


_rules = {}


def _of(model):
    try:
        return _rules[model]
    except KeyError:
        raise LookupError(
            _("Nothing says who sees rows of {name}: put @sight.rule(...) above the class.").format(
                name=model.__name__
            )
        ) from None


def rows(queryset, user):
    """Return the rows of ``queryset`` that ``user``, who is signed in, may see."""
    found = _of(queryset.model)
    if user.is_staff and found.staff is not None:
        return found.staff(queryset, user)
    return own(queryset, user)


def own(queryset, user):
    """Return the rows of ``queryset`` that belong to ``user`` himself, who is signed in."""
    path = _of(queryset.model).own
    return queryset.none() if path is None else queryset.filter(**{path: user})


# What ``staff`` of a Sight may be.


def every(queryset, user):
    """All rows, whatever harbors ``user`` is held to."""
    return queryset


def of_harbor(path, or_own=None):
    """
    Return the rule: rows whose harbor, at ``path``, the member of staff looks after.

    With ``or_own``, the path to whose a row is, what is his own is among them.
    """

    def seen(queryset, user):
        harbors = harbors_of(user)
        if harbors is None:
            return queryset
        near = Q(**{f"{path}__in": harbors})
        return queryset.filter(near | Q(**{or_own: user}) if or_own else near)

    return seen


def people_in_reach(queryset, user, moment=None):
    """
    The people who belong to a harbor that ``user`` looks after; of a queryset of people.

    With a ``moment`` those who had joined by then, and belonged to one then.
    """
    harbors = harbors_of(user)
    if moment is not None:
        queryset = queryset.filter(joined__lt=moment)
    if harbors is None:
        return queryset
    return queryset.filter(pk__in=people_of(harbors, moment).values("pk"))


def of_people(path):
    """Return the rule: rows of people, at ``path``, in reach of the member of staff, or his own."""

    def seen(queryset, user):
        harbors = harbors_of(user)
        if harbors is None:
            return queryset
        people = people_of(harbors).values("pk")
        return queryset.filter(Q(**{f"{path}__in": people}) | Q(**{path: user}))

    return seen
