"""
What every paper of a scheme holds.

A scheme's blueprint is the same for all its papers: the same kinds, difficulties, rule
sets and rules tested, task for task. Papers differ in the seeds alone, and so in their
numbers.
"""

import random
from collections import Counter
from typing import NamedTuple

from django.utils import timezone

from rigs import rulebook
from training.exercises import kinds
from training.exercises.handing import SEEDS


class SchemeError(ValueError):
    """A scheme from which no fair paper can be made; the message says why in plain words."""


class Slot(NamedTuple):
    """
    The place of one task in every paper of a scheme.

    ``kind`` is the kind's slug, ``rulebook`` the name of a rule set, ``focus`` the keys
    of the requirements that must be right and that the task is made to turn on.
    """

    kind: str
    difficulty: int
    rulebook: str
    focus: tuple[str, ...] = ()


class Spec(NamedTuple):
    """A Slot with the seed that fills it in one paper."""

    slot: Slot
    seed: int


def book_of(name):
    """Return the rule set ``name`` as it is today; the nearest, if it has no version for today."""
    return rulebook.nearest(name, timezone.localdate())


def lapsed(names, on):
    """Return a sentence on those rule sets ``names`` without a version for ``on``; empty if all."""
    titles = [
        f"“{rulebook.nearest(name, on).title}”"
        for name in names
        if rulebook.find_in_force(name, on) is None
    ]
    if not titles:
        return ""
    day = "today" if on == timezone.localdate() else rulebook.date_text(on)
    return f"These rules have no version for {day}: {', '.join(titles)}."


def requirements(names):
    """Return the gear requirements of the rule sets ``names`` as today, by key, in order."""
    found = {}
    for name in names:
        for requirement in book_of(name).requirements:
            if not requirement.of_trip:
                found.setdefault(requirement.key, requirement)
    return found


def title_of(key, names):
    """
    Return what the requirement ``key`` is called in the rule sets; the key if in none.

    One that no longer holds, as in an old paper, is called what it was called last.
    """
    found = requirements(names).get(key)
    if found is None:
        books = [book for name in names for book in reversed(rulebook.versions(name))]
        found = next((book.requirement(key) for book in books if book.has(key)), None)
    return found.title if found else key


def blueprint(parts, rulebooks, must_pass, on=None):
    """
    Return the Slots of every paper made of ``parts``, in order.

    ``parts`` have a ``kind``, a ``difficulty`` and a ``count`` each; ``rulebooks`` are
    the names of the rule sets to draw from, ``must_pass`` keys of requirements. Each of
    these is given a task that turns on it, by the rules in force on the date ``on``, or
    today.

    Raises SchemeError if there are no tasks, if one of the rule sets has no version for
    that day, if a kind draws from none of the rule sets,
    or if there is no task left that could turn on a rule that must be right.
    """
    places = [
        (part.kind, part.difficulty, _choices(part, rulebooks), number)
        for part in parts
        for number in range(part.count)
    ]
    if not places:
        raise SchemeError("An exam needs at least one question. Enter a number in the table.")
    on = on or timezone.localdate()
    if gone := lapsed(rulebooks, on):
        raise SchemeError(gone)
    slots = [
        Slot(slug, difficulty, choices[number % len(choices)])
        for slug, difficulty, choices, number in places
    ]
    left = list(must_pass)
    for index, slot in enumerate(slots):
        if kinds.get(slot.kind).covers_all:
            covered = _covered(slot.kind, slot.rulebook, slot.difficulty, on)
            slots[index] = slot._replace(focus=tuple(key for key in must_pass if key in covered))
            left = [key for key in left if key not in covered]
    for index, key in _shared_out(left, places, rulebooks, on).items():
        slug, difficulty, choices, number = places[index]
        turned = choices[number % len(choices) :] + choices[: number % len(choices)]
        name = next(name for name in turned if key in _covered(slug, name, difficulty, on))
        slots[index] = Slot(slug, difficulty, name, (key,))
    return tuple(slots)


def of_scheme(scheme, on=None):
    """
    Return the blueprint of a saved ``scheme`` by the rules of the date ``on``, or today's.

    Raises SchemeError as ``blueprint`` does.
    """
    return blueprint(scheme.parts.all(), scheme.rulebooks, scheme.must_pass, on)


def compose(scheme, seed, on=None):
    """
    Return the Specs of one paper of ``scheme``, made from ``seed`` on the date ``on``, or today.

    The same blueprint and seed give the same paper. Raises SchemeError as ``blueprint``.
    """
    rng = random.Random(f"{scheme.slug}/{seed}")
    return tuple(Spec(slot, rng.randrange(SEEDS)) for slot in of_scheme(scheme, on))


def levels(slots):
    """Return how many tasks a paper has at each difficulty, easiest first."""
    return sorted(Counter(slot.difficulty for slot in slots).items())


def _choices(part, rulebooks):
    """Return the names of the rule sets that tasks of ``part`` may be drawn from."""
    kind = kinds.get(part.kind)
    found = [name for name in kind.rulebooks[part.difficulty] if name in rulebooks]
    if not found:
        names = kind.rulebooks[part.difficulty]
        titles = ", ".join(book_of(each).title for each in names)
        raise SchemeError(
            f"“{kind.title}” at level {part.difficulty} is drawn from other rule sets. "
            f"Add one of these: {titles}."
        )
    return found


def _covered(slug, name, difficulty, on):
    book = rulebook.find_in_force(name, on)
    return () if book is None else kinds.get(slug).covers(book, difficulty)


def _shared_out(keys, places, rulebooks, on):
    """
    Return which place turns on which of ``keys``, by the index of the place.

    A place takes one. They are shared out by augmenting paths, so that if there is a way
    to give each its place, it is found.
    """
    able = {
        key: [
            index
            for index, (slug, difficulty, choices, _) in enumerate(places)
            if not kinds.get(slug).covers_all
            and any(key in _covered(slug, name, difficulty, on) for name in choices)
        ]
        for key in keys
    }
    taken = {}

    def place(key, tried):
        for index in able[key]:
            if index in tried:
                continue
            tried.add(index)
            if index not in taken or place(taken[index], tried):
                taken[index] = key
                return True
        return False

    homeless = [key for key in keys if not place(key, set())]
    if homeless:
        raise SchemeError(_homeless_text(homeless[0], able, rulebooks, on))
    return taken


def _homeless_text(key, able, rulebooks, on):
    title = title_of(key, rulebooks)
    if able[key]:
        return (
            f"There are not enough questions: none is left for “{title}”, which must be right. "
            "Add a question, or ask for fewer rules."
        )
    could = [
        kind.title
        for kind in kinds.KINDS.values()
        if any(
            key in _covered(kind.slug, name, difficulty, on)
            for difficulty, names in kind.rulebooks.items()
            for name in names
            if name in rulebooks
        )
    ]
    if not could:
        return f"With these rule sets no question can be about “{title}”."
    return (
        f"No question of this exam can be about “{title}”, which must be right. "
        f"These kinds can, the harder levels more than the easier: {', '.join(could)}."
    )
