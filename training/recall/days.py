"""The rules of one day, looked up once for all that is asked about them."""

from collections import defaultdict
from functools import cached_property, lru_cache

from django.utils import timezone

from rigs.rules import openings, rulebook
from rigs.rules.rulebook import REGULATION
from training.exercises import kinds
from training.exercises.kinds.one_reading import OneReading

KIND = OneReading.slug
LEVEL = 2


class RulesOn:
    """The rule sets in force on ``day``, a date, by name in ``books``."""

    def __init__(self, day):
        self.day = day
        self.books = {book.name: book for book in rulebook.everything(day)}
        self._openings = {}

    @classmethod
    def of(cls, day=None):
        """Return the RulesOn of ``day``, which may be one itself; of today if it is None."""
        return day if isinstance(day, cls) else cls(day or timezone.localdate())

    @cached_property
    def _alike(self):
        return _alike(tuple(self.books.values()))

    def alike(self, name, key):
        """Return the (rule set, key) of all rules that ask what this one does, itself too."""
        return self._alike.get((name, key), ((name, key),))

    def can_ask(self, name, key, difficulty=LEVEL):
        """Return whether a reading can ask the rule ``key`` of the rule set ``name``."""
        book = self.books.get(name)
        return book is not None and key in _covers(book, difficulty)

    def opening(self, name, after):
        """Return the first day ``after`` that date on which a season of these rules opens."""
        asked = (name, after)
        if asked not in self._openings:
            self._openings[asked] = openings.next_season(name, after, self.books.values())
        return self._openings[asked]


def _what_it_asks(requirement):
    return (
        requirement.key,
        requirement.test,
        requirement.limit,
        requirement.vessel_over,
        requirement.vessel_up_to,
    )


@lru_cache(maxsize=16)
def _alike(books):
    """Return {(name, key): that and all that ask the same}, of rules of the Rulebooks ``books``."""
    groups = defaultdict(list)
    for book in books:
        for requirement in book.requirements:
            if requirement.basis == REGULATION:
                groups[_what_it_asks(requirement)].append((book.name, requirement.key))
    return {rule: tuple(group) for group in groups.values() for rule in group}


@lru_cache(maxsize=64)
def _covers(book, difficulty):
    return frozenset(kinds.get(KIND).covers(book, difficulty))
