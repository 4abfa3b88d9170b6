"""
What people remember of each rule, noted as they answer and made anew from what they answered.

Rule sets that ask the same of a part, such as two that take over one clause, share what is
remembered: an answer by one counts for all of them.
"""

from collections import defaultdict
from datetime import datetime
from typing import NamedTuple

from django.db import transaction
from django.db.models import Q
from django.dispatch import Signal
from django.utils import timezone
from django.utils.translation import gettext as _

from rigs.rules.judge import FAIL
from rigs.rules.rulebook import REGULATION
from training.people.models import User

from . import spacing
from .days import RulesOn
from .models import AskedAgain, RuleMemory

PEOPLE_AT_ONCE = 100
SOURCES = []

was_right = Signal()
"""Sent with the pk of a ``user`` who was first right about a rule, in that transaction."""

REMEMBERED = ("step", "asked", "right", "last_asked", "last_right", "due")
"""What answers change of a RuleMemory."""


class Asked(NamedTuple):
    """
    What one person was asked about rules of one rule set at one ``moment``.

    ``answers`` is {key of a requirement: whether the person was right about it}. ``order``
    sorts what was asked at the same moment.
    """

    user: int
    moment: datetime
    rulebook_name: str
    answers: dict[str, bool]
    order: int = 0


def source(function):
    """
    Have the decorated function feed ``rebuild``: it takes people's pks and yields Asked.

    What it yields must have been noted by ``take`` too, at the time.
    """
    SOURCES.append(function)
    return function


def answers_in(findings, book):
    """
    Return {key: whether right} of the rules that ``findings`` say a person was asked about.

    ``findings`` are lines as ``Attempt.findings`` has them, of a task by the Rulebook ``book``.
    Only rules of law count, and only lines that were asked for a point, found a fault or were
    got wrong: that a part without a fault was let pass, among many, says nothing of what the
    person knows. One miss makes a rule missed.
    """
    found = {}
    for line in findings:
        key = line["key"].partition(":")[0]
        decides = line["out_of"] or line["outcome"] == FAIL or not line["right"]
        if decides and line["basis"] == REGULATION and book.has(key):
            found[key] = found.get(key, True) and line["right"]
    return found


# Noting -----------------------------------------------------------------------


def note(user, rulebook_name, key, right, now=None):
    """Note that ``user`` was ``right`` or not about one rule; ``rebuild`` needs a source for it."""
    take(Asked(user.pk, now or timezone.now(), rulebook_name, {key: right}))


@transaction.atomic(savepoint=False)
def take(asked):
    """
    Note what was Asked, in the transaction of the answer itself.

    What comes late, such as an exam turned in hours after its time was up, is put in its
    place by making the person's memory anew.
    """
    if not asked.answers:
        return
    # Held, so that two answers at once are noted one after the other.
    User.objects.select_for_update(no_key=True).get(pk=asked.user)
    on = RulesOn(timezone.localdate(asked.moment))
    held = Q()
    for key in asked.answers:
        for name, __ in on.alike(asked.rulebook_name, key):
            held |= Q(rulebook_name=name, key=key)
    rows = {
        (row.rulebook_name, row.key): row
        for row in RuleMemory.objects.filter(held, user=asked.user)
    }
    if any(row.last_asked > asked.moment for row in rows.values()):
        rebuild([asked.user])
        was_right.send(sender=RuleMemory, user=asked.user)
        return
    known = {rule for rule, row in rows.items() if row.right}
    changed, again = _fold(asked, rows, on)
    _keep(changed)
    AskedAgain.objects.bulk_create(again)
    if any(row.right for rule, row in rows.items() if rule not in known):
        was_right.send(sender=RuleMemory, user=asked.user)


def _keep(rows):
    """Save ``rows``, new ones and others, in one query."""
    once = {(row.rulebook_name, row.key): row for row in rows}
    for row in once.values():
        row.pk = None  # found by its rule, and given back
    RuleMemory.objects.bulk_create(
        once.values(),
        update_conflicts=True,
        unique_fields=["user", "rulebook_name", "key"],
        update_fields=REMEMBERED,
    )


def _fold(asked, rows, on):
    """
    Put what was Asked into ``rows``, {rule: RuleMemory}; ``on`` is the RulesOn of its day.

    Return (those of ``rows`` that it changed, the AskedAgain that it makes).
    """
    after, changed, again = spacing.season_opens_after(on.day), [], []
    for key, right in asked.answers.items():
        own = (asked.rulebook_name, key)
        shared = [rule for rule in on.alike(*own) if rule in rows]
        if own not in rows:
            rows[own] = _begun(asked.user, own, rows[shared[0]] if shared else None)
            shared.append(own)
        again += _asked_again(rows[own], right, asked.moment, on.day)
        for rule in shared:
            _note(rows[rule], right, asked.moment, on.day, on.opening(rule[0], after))
            changed.append(rows[rule])
    return changed, again


def _asked_again(row, right, moment, day):
    """Return a list of the AskedAgain, not saved, that an answer to a rule long known makes."""
    if not row.asked or not row.right_last:
        return []
    days = (day - timezone.localdate(row.last_asked)).days
    if days < spacing.LATER_DAYS:
        return []
    return [
        AskedAgain(
            user_id=row.user_id,
            rulebook_name=row.rulebook_name,
            key=row.key,
            days=days,
            right=right,
            asked=moment,
        )
    ]


def _begun(user_pk, rule, like):
    """Return a RuleMemory of ``rule``, not saved, that goes on from ``like``, if there is one."""
    name, key = rule
    begun = RuleMemory(user_id=user_pk, rulebook_name=name, key=key)
    if like is not None:
        for field in REMEMBERED:
            setattr(begun, field, getattr(like, field))
    return begun


def _note(row, right, moment, day, opening):
    was_right = row.asked > 0 and row.right_last
    row.step, row.due = spacing.after(row.step, row.due, was_right, right, day, opening)
    row.asked += 1
    row.right += right
    row.last_asked = moment
    if right:
        row.last_right = moment


# Making it anew ---------------------------------------------------------------


def _everything_asked(pks):
    """Return what the people with these ``pks`` were Asked, in its order."""
    pieces = [
        ((asked.moment, place, asked.order), asked)
        for place, each in enumerate(SOURCES)
        for asked in each(pks)
    ]
    return [asked for __, asked in sorted(pieces, key=lambda piece: piece[0])]


def counted(pks):
    """
    Return ({(pk of the person, rule set, key): RuleMemory}, AskedAgain in order), not saved.

    Both are made from the answers alone.
    """
    people, days, again = defaultdict(dict), {}, []
    for asked in _everything_asked(pks):
        day = timezone.localdate(asked.moment)
        if day not in days:
            days[day] = RulesOn(day)
        again += _fold(asked, people[asked.user], days[day])[1]
    rows = {
        (pk, name, key): row for pk, rows in people.items() for (name, key), row in rows.items()
    }
    return rows, again


@transaction.atomic
def rebuild(pks):
    """Make what the people with these ``pks`` remember anew, from all that they answered."""
    list(User.objects.select_for_update(no_key=True).filter(pk__in=pks).values_list("pk"))
    rows, again = counted(pks)
    RuleMemory.objects.filter(user__in=pks).delete()
    AskedAgain.objects.filter(user__in=pks).delete()
    RuleMemory.objects.bulk_create(rows.values(), batch_size=500)
    AskedAgain.objects.bulk_create(again, batch_size=500)


def rebuild_all(say=lambda line: None):
    """
    Do the same for all who may sign in, some people at a time; ``say`` gets a line of progress.

    A closed account stays as it is: one that was erased may have an exam left, and no memory.
    """
    pks = list(User.objects.filter(is_active=True).order_by("pk").values_list("pk", flat=True))
    for start in range(0, len(pks), PEOPLE_AT_ONCE):
        some = pks[start : start + PEOPLE_AT_ONCE]
        rebuild(some)
        say(_("  {value} of {pks} people").format(value=start + len(some), pks=len(pks)))


# What is known ------------------------------------------------------------------


class Remembered(NamedTuple):
    """How one rule stands with one person; ``memory`` is None if it was not asked yet."""

    rulebook_name: str
    key: str
    state: str
    memory: RuleMemory | None


def standing(user, rules=(), on=None):
    """
    Return {(rule set, key): Remembered} of ``user``, as of ``on``, a date or RulesOn; else today.

    It has every rule that was asked, and each of ``rules``, (rule set, key), as what asks the
    same stands, or as not yet asked; ``course.rules_of`` are those of a person's lessons.
    """
    on = RulesOn.of(on)
    held = {(row.rulebook_name, row.key): row for row in user.rule_memories.all()}
    found = {rule: Remembered(*rule, row.state(on.day), row) for rule, row in held.items()}
    for rule in rules:
        if rule not in found:
            row = next((held[each] for each in on.alike(*rule) if each in held), None)
            state = row.state(on.day) if row else spacing.NOT_ASKED
            found[rule] = Remembered(*rule, state, row)
    return found


def coming_back(user, on=None):
    """
    Return the (rule set, key) that come back to ``user`` by ``on``, longest due first.

    ``on`` is a date or RulesOn; else today. Of rules that ask the same there is one. What no
    reading of the day can ask is left out.
    """
    on = RulesOn.of(on)
    rows = user.rule_memories.filter(due__lte=on.day).order_by("due", "pk")
    found, seen = [], set()
    for rule in rows.values_list("rulebook_name", "key"):
        if rule not in seen and on.can_ask(*rule):
            seen.update(on.alike(*rule))
            found.append(rule)
    return found
