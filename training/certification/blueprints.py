"""
What every form of an exam holds.

The blueprint of a certificate is the same for all its forms: the same kinds, levels, rule
sets and rules asked, as often. Forms differ in the seeds, in which side of its limit each
reading lies, and in the places of the questions.
"""

from collections import Counter
from datetime import timedelta
from typing import NamedTuple

from django.utils import timezone
from django.utils.translation import gettext as _

from rigs.rules import rulebook
from training.exercises import kinds
from training.exercises.kinds.base import EASIEST, HARDEST

from . import drawing
from .spread import LAST, READING, RequirementsError, Slot, last_title, spread, spread_last

LEVELS = range(EASIEST, HARDEST + 1)


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
    return _("These rules have no version for {day}: {titles}.").format(
        day=day, titles=", ".join(titles)
    )


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
    Return what the requirement ``key`` is called in the rule sets.

    One that no longer holds, as in an old exam, is called what it was called last.
    """
    found = requirements(names).get(key)
    return found.title if found else last_title(key, names)


def title_of_kind(slug):
    """Return what the kind of question ``slug`` is called, even if the site has it no longer."""
    kind = kinds.KINDS.get(slug)
    return kind.title if kind else _("a kind of question that is no longer here")


def blueprint(parts, rulebooks, must_pass, must_asked, on=None):
    """
    Return the Slots of every form of an exam made of ``parts``: the readings, then the rest.

    ``parts`` have a ``kind``, a ``difficulty`` and a ``count`` each; ``rulebooks`` are
    the names of the rule sets to draw from. ``must_pass`` are keys of requirements, each
    asked by ``must_asked`` readings, by the rules in force on the date ``on``, or today.

    Raises RequirementsError if there are no questions, if one of the rule sets has no version for
    that day, if a kind draws from none of the rule sets, or if there are too few readings.
    """
    parts = list(parts)
    if not any(part.count for part in parts):
        raise RequirementsError(
            _("An exam needs at least one question. Enter a number in the table.")
        )
    on = on or timezone.localdate()
    if gone := lapsed(rulebooks, on):
        raise RequirementsError(gone)
    levels = {part.difficulty: part.count for part in parts if part.kind == READING and part.count}
    if must_pass and not levels:
        raise RequirementsError(
            _(
                "Rules that must be right are asked by “{title}”. Add at least {value} of these "
                "questions."
            ).format(title=kinds.get(READING).title, value=len(must_pass) * must_asked)
        )
    slots = spread(levels, rulebooks, must_pass, must_asked, on) if levels else []
    for part in parts:
        if part.kind == READING or not part.count:
            continue
        names = _choices(part, rulebooks)
        if part.kind == LAST:
            slots += spread_last(part.difficulty, part.count, names, on)
        else:
            slots += [
                Slot(part.kind, part.difficulty, names[number % len(names)])
                for number in range(part.count)
            ]
    return tuple(slots)


def of_requirements(requirements, on=None):
    """
    Return the blueprint of a saved ``requirements`` by the rules of the date ``on``, or today's.

    Raises RequirementsError as ``blueprint`` does.
    """
    return blueprint(
        requirements.parts.all(),
        requirements.rulebooks,
        requirements.must_pass,
        requirements.must_asked,
        on,
    )


def compose(requirements, seed, on=None):
    """
    Return the Specs of one form of ``requirements``, made from ``seed`` on the date ``on``.

    The same blueprint and seed give the same form. Raises RequirementsError as ``blueprint``.
    """
    on = on or timezone.localdate()
    return drawing.draw(of_requirements(requirements, on), f"{requirements.slug}/{seed}", on)


def levels(slots):
    """Return the levels at which ``slots`` have questions, easiest first."""
    return sorted({slot.difficulty for slot in slots})


class QuestionCount(NamedTuple):
    """How many questions there are on one rule, or of one kind: at each level, and in all."""

    title: str
    counts: tuple[int, ...]
    must: bool = False

    @property
    def total(self):
        """How many there are at all levels."""
        return sum(self.counts)


def rows(slots, rulebooks, must_pass):
    """
    Return the QuestionCounts of the ``slots``: rules that must be right first, other kinds last.

    Of rules only readings are counted. The counts are by the ``levels`` of the slots.
    """
    asked = Counter(
        (slot.kind, slot.focus if slot.kind == READING else (), slot.difficulty) for slot in slots
    )
    places = list(dict.fromkeys((kind, focus) for kind, focus, __ in asked))
    places.sort(key=lambda each: (not each[1], not set(each[1]) & set(must_pass)))
    return [
        QuestionCount(
            title_of(focus[0], rulebooks) if focus else title_of_kind(kind),
            tuple(asked[kind, focus, level] for level in levels(slots)),
            bool(set(focus) & set(must_pass)),
        )
        for kind, focus in places
    ]


def time_needed(slots):
    """Return how long a form of ``slots`` takes somebody who knows it, as a timedelta."""
    return timedelta(seconds=sum(kinds.get(slot.kind).exam_seconds for slot in slots))


def _choices(part, rulebooks):
    """Return the names of the rule sets that questions of ``part`` may be drawn from."""
    kind = kinds.KINDS.get(part.kind)
    if kind is None or part.difficulty not in kind.rulebooks:
        raise RequirementsError(
            _(
                "{count} questions at level {difficulty} are of “{title}”. Set other numbers of "
                "questions, and save."
            ).format(count=part.count, difficulty=part.difficulty, title=title_of_kind(part.kind))
        )
    found = [name for name in kind.rulebooks[part.difficulty] if name in rulebooks]
    if not found:
        names = kind.rulebooks[part.difficulty]
        titles = ", ".join(book_of(each).title for each in names)
        raise RequirementsError(
            _(
                "“{title}” at level {difficulty} is drawn from other rule sets. Add one of "
                "these: {titles}."
            ).format(title=kind.title, difficulty=part.difficulty, titles=titles)
        )
    return found
