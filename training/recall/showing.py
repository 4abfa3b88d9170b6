"""What pages say of sets, rules and what comes back."""

import uuid
from typing import NamedTuple

from django.utils import timezone
from django.utils.translation import gettext as _

from rigs.rules import rulebook
from rigs.rules.rulebook import Requirement, Rulebook
from training.lessons import passages

from . import course, memory, sets, spacing
from .days import RulesOn
from .models import ReadingSet

SHAPES = {spacing.KNOWN: "●", spacing.SHAKY: "◐", spacing.NOT_ASKED: "○"}


class RuleShown(NamedTuple):
    """
    One rule on a page: its Requirement and how it stands.

    ``can_ask`` is for today; ``passage`` the address of what a lesson says of it, or "".
    """

    requirement: Requirement
    standing: memory.Remembered
    can_ask: bool
    passage: str

    @property
    def state(self):
        return self.standing.state

    @property
    def shape(self):
        return SHAPES[self.state]

    @property
    def why(self):
        """Why the rule counts as it does, in a sentence; empty if it was never asked."""
        held = self.standing.memory
        if held is None:
            return ""
        if not held.right_last:
            return _("Missed last time.")
        if self.state == spacing.KNOWN:
            return _("Right on two days or more.")
        if held.step:
            return _("Right last time, but that was long ago.")
        return (
            _("Right once. It can be luck.")
            if held.right == 1
            else _("Right last time. Ask it again.")
        )

    @property
    def form_key(self):
        """A key for the form that opens a set on this rule."""
        return uuid.uuid4()

    @property
    def is_due(self):
        """Whether the rule comes back today, or should have come back before."""
        return self.due is not None and self.due <= timezone.localdate()

    @property
    def due(self):
        """The day on which the rule comes back, None if it does not."""
        held = self.standing.memory
        return held.due if held and self.can_ask else None


class RuleGroup(NamedTuple):
    """The rules of one rule set on a page; ``lapsed`` if it has no version for today."""

    book: Rulebook
    lapsed: bool
    rows: list[RuleShown]


class Counts(NamedTuple):
    """How many rules are known, shaky and not yet asked."""

    known: int
    shaky: int
    not_asked: int

    @property
    def total(self):
        return sum(self)


def counts_of(states):
    """Return the Counts of ``states``, as Standing has them."""
    states = list(states)
    return Counts(*map(states.count, SHAPES))


def rule_groups(user, on=None):
    """
    Return a RuleGroup for each rule set that ``user`` learns or was asked about.

    ``on`` is a date or RulesOn; else today. Of rules that ask the same there is one, first
    that of the lessons.
    """
    on = RulesOn.of(on)
    taught = course.rules_of(user, on)
    standings = memory.standing(user, taught, on)
    books = {book.name: book for book in rulebook.lapsed(on.day)} | on.books
    groups, seen = {}, set()
    for name, key in [*taught, *standings]:
        book = books.get(name)
        if (name, key) in seen or book is None or not book.has(key):
            continue
        seen.update(on.alike(name, key))
        group = groups.setdefault(name, RuleGroup(book, name not in on.books, []))
        group.rows.append(
            RuleShown(
                book.requirement(key),
                standings[name, key],
                on.can_ask(name, key),
                passages.url_for(key, user.role),
            )
        )
    return list(groups.values())


class Offer(NamedTuple):
    """
    What short practice offers a person on the home page.

    ``readings`` are to answer now, ``more`` come back today besides; ``going_on`` is the
    ReadingSet begun and not finished: what comes back goes before a first look at what is
    known. ``is_start`` says that nothing was ever asked.
    """

    readings: int
    more: int
    going_on: ReadingSet | None
    is_start: bool
    next_due: object
    counts: Counts

    @property
    def minutes(self):
        return sets.minutes(self.readings)

    @property
    def comes_back(self):
        """Whether there is something to answer that comes back, begun or not."""
        if self.going_on is not None:
            return self.going_on.purpose == ReadingSet.Purpose.REVIEW
        return bool(self.readings) and not self.is_start


def open_of(user, purpose):
    """Return the set of ``user`` of this purpose, without a subject, that is open; else None."""
    return user.reading_sets.filter(purpose=purpose, subject="", finished=None).first()


def offer(user, on=None):
    """Return the Offer to ``user``; ``on`` is a date or RulesOn, else today."""
    on = RulesOn.of(on)
    taught = course.rules_of(user, on)
    standings = memory.standing(user, taught, on)
    counts = counts_of(standings[rule].state for rule in taught)
    coming = memory.coming_back(user, on)
    is_start = not any(each.memory for each in standings.values())
    going_on = open_of(user, ReadingSet.Purpose.REVIEW)
    if going_on is None and not coming:
        going_on = open_of(user, ReadingSet.Purpose.START)
    if going_on is not None:
        readings, more = going_on.readings.filter(answered=None).count(), 0
    elif is_start:
        readings, more = len(taught), 0
    else:
        readings = min(len(coming), sets.MOST)
        more = len(coming) - readings
    later = [each.memory.due for each in standings.values() if each.memory and each.memory.due]
    next_due = min((day for day in later if day > on.day), default=None)
    return Offer(readings, more, going_on, is_start, next_due, counts)


class Summary(NamedTuple):
    """One rule in a finished set: how often it was asked, how often right, and how it stands."""

    requirement: Requirement
    asked: int
    right: int
    standing: memory.Remembered | None
    passage: str

    @property
    def state(self):
        """How the rule stands with the person by now; empty if it was not remembered."""
        return self.standing.state if self.standing else ""

    @property
    def shape(self):
        return SHAPES.get(self.state, "")

    @property
    def due(self):
        return self.standing.memory.due if self.standing else None

    @property
    def missed(self):
        return self.asked - self.right


def summaries(reading_set):
    """Return a Summary for each rule of ``reading_set``, those missed first."""
    held = memory.standing(reading_set.user)
    by_rule = {}
    for reading in reading_set.readings.all():
        by_rule.setdefault((reading.rulebook_name, reading.focus), []).append(reading)
    found = []
    for rule, readings in by_rule.items():
        found.append(
            Summary(
                readings[0].rulebook.requirement(rule[1]),
                len(readings),
                sum(bool(each.passed) for each in readings),
                held.get(rule),
                passages.url_for(rule[1], reading_set.user.role),
            )
        )
    return sorted(found, key=lambda each: -each.missed)
