"""Changing what a certificate asks: proposed by one of the staff, approved by another."""

from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from training.people import second

from . import blueprints, terms
from .models import Change, Requirements


class ChangeError(ValueError):
    """What cannot be done about a change; the message says why in plain words."""


def waiting(requirements):
    """Return the Change of ``requirements`` that waits for a second person, or None."""
    return requirements.changes.filter(outcome=Change.Outcome.WAITING).select_related("by").first()


def is_in_force(requirements):
    """Return whether the requirements of ``requirements`` were ever approved."""
    return not requirements.changes.exists() or (
        requirements.changes.filter(outcome=Change.Outcome.APPROVED).exists()
    )


def proposed(key, by):
    """Return the Change that ``by`` proposed with ``key``, as typed, or None."""
    try:
        key = UUID(str(key))
    except ValueError:
        return None
    return Change.objects.filter(key=key, by=by).first()


@transaction.atomic
def propose(requirements, wanted, motion, now=None):
    """
    Return the Change of ``requirements`` to the requirements ``wanted``, proposed by ``motion``.

    A ``requirements`` not saved yet is saved closed, and has no
    exams before the change is approved. Raise ChangeError if another change waits, or if
    nothing would change.
    """
    if found := proposed(motion.key, motion.by):
        return found
    was = {}
    if requirements.pk:
        requirements = Requirements.objects.select_for_update().get(pk=requirements.pk)
        if waiting(requirements):
            raise ChangeError(
                _("Another change of these requirements waits for approval. Decide on it first.")
            )
        if is_in_force(requirements):
            was = terms.of_requirements(requirements)
            if not terms.differences(was, wanted):
                raise ChangeError(_("Nothing is different. Change something, then save again."))
        else:
            terms.put_into_force(requirements, wanted | {"is_open": False})
    else:
        terms.put_into_force(requirements, wanted | {"is_open": False})
    try:
        with transaction.atomic():
            return Change.objects.create(
                requirements=requirements,
                was=was,
                terms=wanted,
                **motion._asdict(),
                made=now or timezone.now(),
            )
    except IntegrityError as error:
        raise ChangeError(_("Another change was saved just now. Look at that first.")) from error


def approve(change, by, now=None):
    """
    Put ``change`` into force, as the second person ``by``; return it.

    Approving twice is approving once. Raise ChangeError for one's own change, for one that
    is decided already, and if no exam can be made of it by now.
    """
    with transaction.atomic():
        held = _held(change)
        if held.outcome == Change.Outcome.APPROVED and held.decided_by == by:
            return held
        _may_decide(held, by)
        like = terms.like_requirements(held.terms)
        try:
            blueprints.of_requirements(like)
            terms.put_into_force(held.requirements, held.terms)
        except (blueprints.RequirementsError, terms.TermsError) as error:
            raise ChangeError(
                _("These requirements do not work. {error}").format(error=error)
            ) from error
        return _decide(held, Change.Outcome.APPROVED, by, now)


def turn_down(change, by, answer, now=None):
    """Turn ``change`` down, as the second person ``by``, for the reason ``answer``; return it."""
    with transaction.atomic():
        held = _held(change)
        if held.outcome == Change.Outcome.TURNED_DOWN and held.decided_by == by:
            return held
        _may_decide(held, by)
        held.answer = answer
        return _decide(held, Change.Outcome.TURNED_DOWN, by, now)


def take_back(change, by, now=None):
    """Take back ``change``, which ``by`` proposed; return it."""
    with transaction.atomic():
        held = _held(change)
        if held.by != by:
            raise ChangeError(_("Only the person who proposed this change can take it back."))
        if held.outcome == Change.Outcome.TAKEN_BACK:
            return held
        if not held.waits:
            raise ChangeError(
                _("This change is already {get_outcome_display}.").format(
                    get_outcome_display=held.get_outcome_display()
                )
            )
        return _decide(held, Change.Outcome.TAKEN_BACK, by, now)


def _held(change):
    # Held until it is decided, so that of two who decide at once the second sees the first.
    return Change.objects.select_for_update().get(pk=change.pk)


def hindrance(change, by):
    """Return why ``by`` cannot decide on ``change``, which waits; empty if they can."""
    if change.by_id == by.pk:
        return _("You proposed this change, so another staff member must decide on it.")
    return second.why_not(by, change.by, change.made)


def able(change):
    """Return the people who can decide on ``change``, by name."""
    return second.able(change.by, change.made)


def _may_decide(held, by):
    if not held.waits:
        raise ChangeError(
            _("This change is already {get_outcome_display}.").format(
                get_outcome_display=held.get_outcome_display()
            )
        )
    if why := hindrance(held, by):
        raise ChangeError(why)


def _decide(held, outcome, by, now):
    held.outcome, held.decided_by, held.decided = outcome, by, now or timezone.now()
    held.save(update_fields=["outcome", "decided_by", "decided", "answer"])
    return held
