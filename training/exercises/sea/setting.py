"""Setting tasks to be taken along to where there is no signal."""

import secrets

from django.db import transaction
from django.utils import timezone

from rigs.rules.rulebook import find_in_force
from training.exercises import handing, kinds
from training.exercises.models import Assignment
from training.lessons.loader import all_lessons
from training.people import sight
from training.people.models import User

OF_EACH = 2
"""So many tasks of each kind are along that nobody answered yet."""


def kinds_for(user):
    """Return the kinds of exercise that the lessons of ``user`` have, as they are shown."""
    course = [each for each in all_lessons() if user.is_staff or each.is_for(user.role)]
    return [kind for kind in kinds.KINDS.values() if any(map(kind.is_met_in, course))]


def along(user, today):
    """
    Return what ``user`` has along and did not answer yet, in the order of the kinds.

    What a rule set or a kind in an earlier version set is left out: it is graded as it was set,
    if an answer to it still comes, and another is set in its place.
    """
    found = sight.own(Assignment.objects.at_sea(), user).order_by("taken", "pk")
    order = list(kinds.KINDS)
    current = [each for each in found if is_of(each, today)]
    return sorted(current, key=lambda each: order.index(each.kind))


def is_of(assignment, today):
    """Return whether the kind and the rule set of ``assignment`` are those of ``today``."""
    kind = kinds.KINDS.get(assignment.kind)
    book = find_in_force(assignment.rulebook_name, today)
    return (
        kind is not None
        and kind.version == assignment.kind_version
        and book is not None
        and book.version == assignment.rulebook_version
    )


@transaction.atomic
def top_up(user):
    """
    Set what ``user`` lacks of OF_EACH tasks of each kind; return all that is along.

    They are as hard as the next task of their kind. However often it is asked for, there are no
    more of them.
    """
    User.objects.select_for_update(no_key=True).get(pk=user.pk)  # two taps at once set them once
    today = timezone.localdate()
    there = [each.kind for each in along(user, today)]
    for kind in kinds_for(user):
        for __ in range(OF_EACH - there.count(kind.slug)):
            _set(user, kind, today)
    return along(user, today)


def _set(user, kind, today):
    """Set a task of ``kind`` for sea, unless none can be set today."""
    seed, difficulty = secrets.randbelow(handing.SEEDS), handing.next_difficulty(user, kind)
    book = kind.pick_rulebook(seed, difficulty, today)
    if book is None:
        return
    recipe = handing.Recipe(kind, seed, difficulty, book)
    Assignment.objects.create(user=user, taken=timezone.now(), is_open=False, **recipe.fields)
