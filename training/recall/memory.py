"""
What people remember of each rule, noted as they answer and made anew from what they answered.

Rule sets that ask the same of a part, such as two that take over one clause, share what is
remembered: an answer by one counts for all of them.
"""

from collections import defaultdict
from datetime import datetime
from functools import lru_cache
from typing import NamedTuple

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from rigs import openings, rulebook
from rigs.rulebook import REGULATION
from training.accounts.models import User

from . import spacing
from .models import RuleMemory

PEOPLE_AT_ONCE = 100
SOURCES = []


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
    Only rules of law count, and only lines that gave or cost a point: that a part without a
    fault was let pass says nothing of what the person knows. One miss makes a rule missed.
    """
    found = {}
    for line in findings:
        key = line["key"].partition(":")[0]
        decides = line["out_of"] or not line["right"]
        if decides and line["basis"] == REGULATION and book.has(key):
            found[key] = found.get(key, True) and line["right"]
    return found


# Rule sets that ask the same --------------------------------------------------


def _what_it_asks(requirement):
    return (
        requirement.key,
        requirement.test,
        requirement.limit,
        requirement.vessel_over,
        requirement.vessel_up_to,
    )


@lru_cache(maxsize=16)
def _alike(versions):
    """Return {(name, key): the same and all that ask the same}; of (name, version) pairs."""
    groups = defaultdict(list)
    for name, version in versions:
        for requirement in rulebook.load(name, version).requirements:
            if requirement.basis == REGULATION:
                groups[_what_it_asks(requirement)].append((name, requirement.key))
    return {rule: tuple(group) for group in groups.values() for rule in group}


def alike(name, key, day):
    """Return the (rule set, key) of all rules in force on ``day`` that ask what this one does."""
    held = tuple((book.name, book.version) for book in rulebook.everything(day))
    return _alike(held).get((name, key), ((name, key),))


# Noting -----------------------------------------------------------------------


def note(user, rulebook_name, key, right, now=None):
    """Note that ``user`` was ``right`` or not about one rule; ``rebuild`` needs a source for it."""
    take(Asked(user.pk, now or timezone.now(), rulebook_name, {key: right}))


@transaction.atomic
def take(asked):
    """
    Note what was Asked, in the transaction of the answer itself.

    What comes late, such as an exam turned in hours after its time was up, is put in its
    place by making the person's memory anew.
    """
    if not asked.answers:
        return
    # Held, so that two answers at once are noted one after the other.
    User.objects.select_for_update().get(pk=asked.user)
    rules = set(_rules(asked))
    held = Q()
    for name, key in rules:
        held |= Q(rulebook_name=name, key=key)
    rows = {
        (row.rulebook_name, row.key): row
        for row in RuleMemory.objects.filter(held, user=asked.user)
    }
    if any(row.last_asked > asked.moment for row in rows.values()):
        rebuild([asked.user])
        return
    for row in _fold(asked, rows):
        row.save()


def _rules(asked):
    day = timezone.localdate(asked.moment)
    for key in asked.answers:
        yield from alike(asked.rulebook_name, key, day)


def _fold(asked, rows):
    """Put what was Asked into ``rows``, {rule: RuleMemory}; return those that it changed."""
    day = timezone.localdate(asked.moment)
    after, openings_of, changed = spacing.season_opens_after(day), {}, []
    for key, right in asked.answers.items():
        own = (asked.rulebook_name, key)
        shared = [rule for rule in alike(*own, day) if rule in rows]
        if own not in rows:
            rows[own] = _begun(asked.user, own, rows[shared[0]] if shared else None)
            shared.append(own)
        for rule in shared:
            name, _ = rule
            if name not in openings_of:
                openings_of[name] = openings.next_season(name, after)
            _note(rows[rule], right, asked.moment, openings_of[name])
            changed.append(rows[rule])
    return changed


def _begun(user_pk, rule, like):
    """Return a RuleMemory of ``rule``, not saved, that goes on from ``like``, if there is one."""
    name, key = rule
    begun = RuleMemory(user_id=user_pk, rulebook_name=name, key=key)
    if like is not None:
        for field in ("step", "asked", "right", "last_asked", "last_right", "due"):
            setattr(begun, field, getattr(like, field))
    return begun


def _note(row, right, moment, opening):
    was_right = row.asked > 0 and row.right_last
    day = timezone.localdate(moment)
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
    return [asked for _, asked in sorted(pieces, key=lambda piece: piece[0])]


def counted(pks):
    """Return {(pk of the person, rule set, key): RuleMemory}, not saved, from the answers."""
    people = defaultdict(dict)
    for asked in _everything_asked(pks):
        _fold(asked, people[asked.user])
    return {
        (pk, name, key): row for pk, rows in people.items() for (name, key), row in rows.items()
    }


@transaction.atomic
def rebuild(pks):
    """Make what the people with these ``pks`` remember anew, from all that they answered."""
    list(User.objects.select_for_update().filter(pk__in=pks).values_list("pk"))
    rows = counted(pks)
    RuleMemory.objects.filter(user__in=pks).delete()
    RuleMemory.objects.bulk_create(rows.values(), batch_size=500)


def rebuild_all(say=lambda line: None):
    """Do the same for everybody, some people at a time; ``say`` gets a line of progress."""
    pks = list(User.objects.order_by("pk").values_list("pk", flat=True))
    for start in range(0, len(pks), PEOPLE_AT_ONCE):
        some = pks[start : start + PEOPLE_AT_ONCE]
        rebuild(some)
        say(f"  {start + len(some)} of {len(pks)} people")


# What is known ------------------------------------------------------------------


class Standing(NamedTuple):
    """How one rule stands with one person; ``memory`` is None if it was not asked yet."""

    rulebook_name: str
    key: str
    state: str
    memory: RuleMemory | None

    @property
    def rule(self):
        return self.rulebook_name, self.key


def standing(user, rules=(), today=None):
    """
    Return {(rule set, key): Standing} of ``user``, as of ``today``.

    It has every rule that was asked, and each of ``rules``, (rule set, key), as what asks the
    same stands, or as not yet asked; ``course.rules_of`` are those of a person's lessons.
    """
    today = today or timezone.localdate()
    held = {(row.rulebook_name, row.key): row for row in user.rule_memories.all()}
    found = {rule: Standing(*rule, row.state(today), row) for rule, row in held.items()}
    for rule in rules:
        if rule not in found:
            row = next((held[each] for each in alike(*rule, today) if each in held), None)
            state = row.state(today) if row else spacing.NOT_ASKED
            found[rule] = Standing(*rule, state, row)
    return found


def due(user, today=None):
    """
    Return (rule set, key) of what comes back to ``user`` by ``today``, longest due first.

    Of rules that ask the same there is one. What no rule set of the day asks is left out.
    """
    today = today or timezone.localdate()
    rows = user.rule_memories.filter(due__lte=today).order_by("due", "pk")
    found, seen = [], set()
    for name, key in rows.values_list("rulebook_name", "key"):
        book = rulebook.find_in_force(name, today)
        if (name, key) in seen or book is None or not book.has(key):
            continue
        seen.update(alike(name, key, today))
        found.append((name, key))
    return found
