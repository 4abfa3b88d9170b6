"""The sums changed together with the records that they sum up."""

from django.db import transaction
from django.db.models import F, Value
from django.db.models.functions import Coalesce, Greatest

from ..missed import rules_put
from ..models import PersonTally
from ..way import how_far
from .adding import add_rules, put_in, take_out
from .counting import certified_until, facts_of


def together():
    """Return a transaction that is part of the one around it, if there is one."""
    return transaction.atomic(savepoint=False)


def hold(pks):
    """Take hold of the tallies there are of the people with these ``pks``."""
    list(PersonTally.objects.select_for_update().filter(pk__in=pks).order_by("pk"))


def hold_all(pks):
    """Take hold of the tallies of the people with these ``pks``, made if need be."""
    PersonTally.objects.bulk_create([PersonTally(user_id=pk) for pk in pks], ignore_conflicts=True)
    hold(pks)


def _change(pk, **changes):
    """Change the tally of the person ``pk``, made if need be, and keep hold of it."""
    row = PersonTally.objects.filter(pk=pk)
    if not row.update(**changes):
        hold_all([pk])
        row.update(**changes)


def _latest(moment):
    # Of nothing and a moment SQLite's greatest is nothing, PostgreSQL's the moment.
    return Coalesce(Greatest(F("last"), Value(moment)), Value(moment))


def _move(pk, **more):
    """Set how far the person ``pk``, whose tally is held, has come."""
    PersonTally.objects.filter(pk=pk).update(**more, **how_far(facts_of([pk])[pk])._asdict())


def attempt_made(attempt):
    """Count a new ``attempt``: three queries, and two more for one that was passed."""
    pk = attempt.assignment.user_id
    with together():
        _change(
            pk,
            attempts=F("attempts") + 1,
            passed=F("passed") + int(attempt.passed),
            last=_latest(attempt.handed_in),
        )
        if attempt.passed:
            _move(pk)
        add_rules(pk, rules_put(attempt.findings, attempt.assignment.rulebook))


def step_taken(pk, moment=None):
    """
    Look again how far the person ``pk`` has come, in three queries.

    ``moment`` is when the person did what may have brought him on; None if it was not
    the person's own doing.
    """
    with together():
        if moment is None:
            hold_all([pk])
        else:
            _change(pk, last=_latest(moment))
        _move(pk, certified_until=certified_until("user_id"))


def joined(membership):
    """Add the person of ``membership``, just saved, to the sums of the group."""
    with together():
        hold_all([membership.user_id])
        put_in(memberships=[membership.pk])


def leaving(membership):
    """Take the person of ``membership``, as the database has it, out of the group's sums."""
    with together():
        # Whoever has no tally adds nothing, and is not to get one while being deleted.
        hold([membership.user_id])
        take_out(memberships=[membership.pk])
