"""A version's way from a draft to what everybody is judged by, and the guards along it."""

from dataclasses import replace
from datetime import timedelta

from django.db import transaction
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from rigs.rules import rulebook
from rigs.rules.changes import rule_differences
from rigs.rules.rulebook import RulebookError
from rigs.rules.text import write
from training.people import second

from . import impact, shelf
from .models import SentBack, Version, earliest_day

FIRST_DAY = timedelta(days=30)  # ahead, unless the drafter says otherwise


class DraftError(ValueError):
    """What cannot be done to a version; the message says why in plain words."""


def _next_version(name):
    """Return a version that no file, no draft and nothing withdrawn has had."""
    taken = {book.version for book in rulebook.versions(name)}
    taken |= set(Version.objects.filter(name=name).values_list("version", flat=True))
    return str(max((int(each) for each in taken if each.isdecimal()), default=0) + 1)


@transaction.atomic
def start(name, key, by, now=None):
    """
    Return the draft of the rule set ``name`` begun with ``key``, a UUID, beginning it if need be.

    It starts as the latest version there is, which it will take over from, with what that
    shares with others written out. If that has a last day to come it starts on the day
    after; if it has ended already, the draft resumes it. Raise RulebookError if there is no
    such rule set.
    """
    found = Version.objects.filter(key=key, drafted_by=by).first()
    if found:
        return found
    latest = rulebook.load(name)
    first = max(timezone.localdate(now), latest.effective_from) + FIRST_DAY
    resumes = False
    if latest.effective_to is not None:
        due = latest.effective_to + timedelta(days=1)
        resumes = due < earliest_day(now)
        first = first if resumes else due
    book = replace(
        latest,
        version=_next_version(name),
        effective_from=first,
        effective_to=None,
        resumes=resumes,
    )
    return Version.objects.create(
        key=key,
        name=name,
        version=book.version,
        text=write(book),
        effective_from=first,
        drafted_by=by,
    )


@transaction.atomic
def change(version, book, reason, by):
    """
    Keep ``book``, a Rulebook, as the new text of the draft ``version``.

    Raise DraftError unless ``by`` is its drafter and it has not been submitted.
    """
    held = _own_draft(version, by)
    if (book.name, book.version) != (held.name, held.version):
        raise DraftError(_("A draft keeps the name and the version it was begun with."))
    held.text, held.effective_from, held.reason = write(book), book.effective_from, reason
    held.save()
    return held


def held_version(version):
    """Return ``version`` as it is on disk, with all of its rule set held till the end."""
    # All of them, so that of two that are approved at once each sees the other.
    rows = Version.objects.select_for_update().filter(name=version.name)
    found = {each.pk: each for each in rows}
    if version.pk not in found:
        raise DraftError(_("This draft has been deleted."))
    return found[version.pk]


def _own_draft(version, by):
    held = held_version(version)
    if held.drafted_by_id != by.pk:
        raise DraftError(
            _("Only the person who drafted it can change it. Start a draft of your own.")
        )
    if not held.is_draft:
        raise DraftError(_("It is submitted. To change it, have it sent back first."))
    return held


def _not_ready(version, now):
    """Yield sentences that say what is wrong with the text or its date."""
    try:
        book = version.book
    except RulebookError as error:
        yield _("The text can no longer be read: {error}").format(error=error)
        return
    earliest = earliest_day(now)
    if version.effective_from < earliest:
        yield (
            _(
                "Its first day is too soon for every part of the site to learn of it. The first "
                "day can be {date_format} or later."
            ).format(date_format=date_format(earliest, "F j, Y"))
        )
    others = [each for each in rulebook.versions(version.name) if each.version != version.version]
    latest = others[-1]
    if version.effective_from <= latest.effective_from:
        yield (
            _(
                "Version {version} takes effect on {date_format}, so this one must come later."
            ).format(
                version=latest.version, date_format=date_format(latest.effective_from, "F j, Y")
            )
        )
        return
    try:
        with rulebook.trying(_("this draft"), version.text):
            rulebook.versions(version.name)
    except RulebookError as error:
        yield str(error)
        return
    # Rules that lapsed are resumed as they were, or go on until another day.
    taken_over = impact.taken_over(version)
    if (
        not rule_differences(taken_over, book)
        and not book.resumes
        and book.effective_to == latest.effective_to
    ):
        yield _("No rule differs from those it would take over from.")


def submit_hindrances(version, now=None):
    """Return sentences that say why the draft ``version`` cannot be submitted; none if it can."""
    found = list(_not_ready(version, now))
    if not version.reason:
        found.append(_("Say why the rules are changed."))
    return found


def hindrances(version, by, now=None):
    """Return sentences that say why ``by`` cannot approve ``version`` now; none if it can be."""
    if version.is_approved:
        return [_("It is approved already.")]
    found = list(_not_ready(version, now))
    if version.is_draft:
        found.append(_("It has not been submitted."))
    if by.pk == version.drafted_by_id:
        found.append(_("You drafted it, so a second person has to approve it."))
    elif version.waits and (why := second.why_not(by, version.drafted_by, version.submitted_at)):
        found.append(why)
    counted = impact.of_text(version)
    if counted is None or counted.finished is None:
        found.append(_("What it would change has not been counted for this text."))
    elif counted.troubles:
        found.append(_("Parts of the site could not work by it. See what was found below."))
    return found


def able(version):
    """Return the people who can approve ``version``, which waits, by name."""
    return second.able(version.drafted_by, version.submitted_at)


@transaction.atomic
def submit(version, by, now=None):
    """
    Hand the draft ``version`` to a second person; its text is fixed from now on.

    Safe to call twice. Raise DraftError unless ``by`` drafted it and it is ready.
    """
    held = held_version(version)
    if held.drafted_by_id == by.pk and held.waits:
        return held
    held = _own_draft(version, by)
    if found := submit_hindrances(held, now):
        raise DraftError(" ".join(found))
    held.submitted_at = now or timezone.now()
    held.save()
    return held


@transaction.atomic
def send_back(version, by, reason):
    """
    Give ``version`` back to its drafter with a ``reason``, instead of approving it.

    The drafter may do so too, to work on it again. Raise DraftError without a reason, or
    if it is not waiting for approval.
    """
    held = held_version(version)
    if not held.waits:
        raise DraftError(_("It is not waiting for approval."))
    if not reason.strip():
        raise DraftError(_("Say what needs work."))
    SentBack.objects.create(version=held, by=by, reason=reason.strip())
    held.submitted_at = None
    held.save()
    return held


@transaction.atomic
def approve(version, by, now=None):
    """
    Make ``version`` what everybody is judged by from its first day on.

    Safe to call twice by the same person. Raise DraftError if anything stands in the way.
    """
    held = held_version(version)
    if held.is_approved and held.approved_by_id == by.pk:
        return held
    # As it is on disk, for the dates of others approved in the meantime.
    shelf.forget()
    if found := hindrances(held, by, now):
        raise DraftError(" ".join(found))
    held.approved_by, held.approved_at = by, now or timezone.now()
    held.save()
    transaction.on_commit(shelf.forget)
    return held


@transaction.atomic
def throw_away(version, by):
    """Delete the draft ``version``; raise DraftError unless ``by`` drafted it and may change it."""
    _own_draft(version, by).delete()
