"""
Renewing a certificate by a short check before it ends, so often and no more.

The weeks, counts and shares here are this site's own choice, no source. ISO/IEC 17024, 9.6
(from memory) asks that recertification confirm what is still known and leaves the way open.
"""

import random
from datetime import timedelta
from typing import NamedTuple

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from rigs.rules import openings, rulebook
from training.people.models import User
from training.recall import sets
from training.recall.days import RulesOn
from training.recall.models import ReadingSet

from .. import certificates
from ..changed_rules import changed_books
from ..models import Certificate, SeasonCheck
from .wording import day as day_text

WEEKS = 8
"""Before the certificate ends, or before the season in which it would, the check opens."""
EACH = 2
"""Readings of each rule that is asked."""
FEWEST_RULES = 6
"""Rules asked at least, so that chance passes about 3 in 1,000."""
SLIP_IN = 10
"""One slip is allowed in so many readings."""
LEVEL = 3
MONTHS = 12
"""By which a pass renews: one season."""
MOST_RENEWALS = 2
"""Then the whole exam is due again."""
MOST_TRIES = 3
"""Of one renewal."""
WAIT_DAYS = 3


class MayNotCheck(ValueError):
    """A check that may not be begun; the message says why, and what would help."""


class Plan(NamedTuple):
    """What a check asks: (rule set, key of a rule) pairs, readings in all, slips allowed."""

    rules: list
    readings: int
    allowed: int


def allowed_in(readings):
    """Return how many slips are allowed in so many ``readings``."""
    return readings // SLIP_IN


def plan(certificate, now=None):
    """
    Return the Plan of a check of ``certificate``.

    First the rules that must be right and those that changed since the exam; then, drawn by
    the certificate's own number, as many others as it takes to ask FEWEST_RULES. Of rules
    of several rule sets that ask the same there is one.
    """
    on = RulesOn(timezone.localdate(now))
    names = sorted(certificate.rulebooks)
    changed = {
        (book.new.name, rule.key)
        for book in changed_books(certificate.rulebooks, on.day)
        for rule in book.rules
    }
    must, others, seen = [], [], set()
    for name in names:
        for requirement in on.books[name].requirements if name in on.books else ():
            rule = (name, requirement.key)
            if rule in seen or not on.can_ask(*rule, LEVEL):
                continue
            seen.update(on.alike(*rule))
            due = requirement.key in certificate.exam.must_pass or rule in changed
            (must if due else others).append(rule)
    random.Random(certificate.pk).shuffle(others)
    rules = must + others[: max(0, FEWEST_RULES - len(must))]
    return Plan(rules, EACH * len(rules), allowed_in(EACH * len(rules)))


def renewals(certificate):
    """Return the checks that renewed ``certificate``, the first first."""
    return [each for each in certificate.checks.all() if each.passed]


def failed(certificate):
    """Return the checks of ``certificate`` not passed since it was renewed last."""
    found = []
    for each in certificate.checks.all():
        if each.passed:
            found = []
        elif each.settled:
            found.append(each)
    return found


def going_on(certificate):
    """Return the check of ``certificate`` that is begun and not finished, or None."""
    return certificate.checks.filter(settled=None).select_related("set").first()


def opens(certificate):
    """
    Return the moment from which ``certificate`` can be renewed.

    WEEKS before it ends; or before the season of one of its rule sets in which it would
    end, so that nobody's ends while they fish.
    """
    ends = timezone.localtime(certificate.expires)
    days = [ends.date()]
    books = rulebook.everything(days[0])
    days += filter(
        None, (openings.season_on(name, days[0], books) for name in certificate.rulebooks)
    )
    ahead = ends.date() - min(days)
    return certificate.expires - ahead - timedelta(weeks=WEEKS)


def hindrance(certificate, now=None):
    """Return a sentence that says why ``certificate`` cannot be checked now; empty if it can."""
    now = now or timezone.now()
    standing = certificates.standing(certificate, now)
    if standing.state == certificates.REVOKED:
        return _("This certificate was withdrawn.")
    if standing.state == certificates.EXPIRED:
        return _("This certificate has ended. Take the whole exam again.")
    later = Certificate.objects.filter(
        exam__user=certificate.exam.user,
        exam__requirements=certificate.exam.requirements,
        issued__gt=certificate.issued,
    )
    if any(not certificates.taken_back(each) for each in certificates.for_standing(later)):
        return _("You have a newer certificate. Renew that one when its time comes.")
    if len(renewals(certificate)) >= MOST_RENEWALS:
        return _(
            "It was renewed {MOST_RENEWALS} times. Take the whole exam again before it ends."
        ).format(MOST_RENEWALS=MOST_RENEWALS)
    if now < opens(certificate):
        return _("You can renew it from {day_text}.").format(day_text=day_text(opens(certificate)))
    if standing.state == certificates.NEEDS_REFRESHER:
        return _("Some rules changed. Review what changed first.")
    tries = failed(certificate)
    if len(tries) >= MOST_TRIES:
        return _("You used {MOST_TRIES} tries. Take the whole exam again before it ends.").format(
            MOST_TRIES=MOST_TRIES
        )
    if tries and now < (again := tries[-1].settled + timedelta(days=WAIT_DAYS)):
        return _("You can try again from {day_text}. Read about what you missed first.").format(
            day_text=day_text(again)
        )
    return ""


def begin(certificate, key, now=None):
    """
    Return the SeasonCheck of ``certificate`` that is open, beginning it if need be.

    ``key`` is a UUID that comes with the page. Raise MayNotCheck as ``hindrance`` says, and
    if its rules can be asked too little today.
    """
    now = now or timezone.now()
    with transaction.atomic():
        # Held, so that a second tap waits and then finds the check.
        User.objects.select_for_update(no_key=True).get(pk=certificate.exam.user_id)
        if found := going_on(certificate):
            return found
        if why := hindrance(certificate, now):
            raise MayNotCheck(why)
        asked = plan(certificate, now)
        if len(asked.rules) < FEWEST_RULES:
            raise MayNotCheck(_("Too few of its rules have a version for today. Ask the staff."))
        opened = sets.open_set(
            certificate.exam.user,
            ReadingSet.Purpose.SEASON,
            asked.rules,
            subject=certificate.code,
            difficulty=LEVEL,
            each=EACH,
            key=key,
            now=now,
        )
        return SeasonCheck.objects.create(certificate=certificate, set=opened, begun=now)


@transaction.atomic
def settle(reading_set):
    """
    Settle the check whose ``reading_set`` is finished, if there is one; return it or None.

    A pass moves the end of the certificate on by MONTHS. Neither a miss nor a set from
    which too many rules have gone takes anything away.
    """
    check = SeasonCheck.objects.select_for_update().filter(set=reading_set).first()
    if check is None or check.settled or reading_set.finished is None:
        return check
    certificate = Certificate.objects.select_for_update().get(pk=check.certificate_id)
    answers = list(reading_set.readings.values_list("passed", flat=True))
    check.settled = reading_set.finished
    check.asked, check.slips = len(answers), answers.count(False)
    check.allowed = allowed_in(check.asked)
    counts = check.settled < certificate.expires and certificates.taken_back(certificate) is None
    enough = check.asked >= EACH * FEWEST_RULES
    check.passed = counts and enough and check.slips <= check.allowed
    if check.passed:
        check.was = certificate.expires
        check.until = certificates.months_later(check.was, MONTHS)
        certificate.expires = check.until
        certificate.save(update_fields=["expires"])
        # Told of the old end; of the new one they have still to be told.
        certificate.reminders.all().delete()
    check.save()
    return check
