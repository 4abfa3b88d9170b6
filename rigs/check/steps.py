"""
The steps of a check, from the port wing end over the center to the starboard one.

What is asked comes with the requirements: here it is put in the order of the walk, and
what a rule set does not turn on is left out.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from rigs import requirements
from rigs.requirements.questions import STOPS, Question
from rigs.rules.rulebook import Requirement, Rulebook
from rigs.words.say import gettext as _


@dataclass(frozen=True, slots=True)
class Stop:
    """One stop on the walk along the gear, with its Questions."""

    slug: str
    title: str
    questions: tuple[Question, ...]


def _asked_of(measures: Iterable[requirements.Measure]) -> dict[str, Question]:
    """Return the Questions for ``measures`` by name, in the order of the walk."""
    found: dict[str, Question] = {}
    for measure in measures:
        for question in measure.sheet.questions if measure.sheet else ():
            if found.setdefault(question.name, question) is not question:
                raise TypeError(
                    _("Two questions of a check are called “{name}”.").format(name=question.name)
                )
    stops = list(STOPS)
    walk = sorted(found.values(), key=lambda each: (stops.index(each.stop), each.place))
    return {question.name: question for question in walk}


QUESTIONS = _asked_of(requirements.all())
"""All that can be asked, by name, in the order of the walk."""


AskedAlike = tuple[str, str, Any]
"""What a requirement asks: its key, its test and its limit."""


def as_asked(requirement: Requirement) -> AskedAlike:
    """Return what is the same for two requirements, of two rule sets, if they ask alike."""
    return requirement.key, requirement.test, requirement.limit


def _stops(names: Iterable[str]) -> tuple[Stop, ...]:
    wanted = frozenset(names)
    asked = [question for question in QUESTIONS.values() if question.name in wanted]
    found = (
        Stop(slug, title, tuple(each for each in asked if each.stop == slug))
        for slug, title in STOPS.items()
    )
    return tuple(stop for stop in found if stop.questions)


STEPS = _stops(QUESTIONS)
"""All Stops, with all that can be asked there."""


Books = Rulebook | Iterable[Rulebook]
"""One rule set, or several that a sheet is checked by."""


def asked(books: Books) -> tuple[Requirement, ...]:
    """
    Return the requirements of ``books`` that are read off gear, which a sheet asks for.

    What two of them ask alike is there once, as the first has it.
    """
    books = (books,) if isinstance(books, Rulebook) else books
    found: dict[AskedAlike, Requirement] = {}
    for requirement in (r for book in books for r in book.requirements if not r.of_trip):
        found.setdefault(as_asked(requirement), requirement)
    return tuple(found.values())


def steps(books: Books) -> tuple[Stop, ...]:
    """Return the Stops of a check under ``books``, with just the Questions they turn on."""
    return _stops(name for r in asked(books) for name in r.measure.asked.names)


def judged_by(stop: Stop, books: Books) -> tuple[str, ...]:
    """Return the keys of the requirements of ``books`` on which ``stop`` bears, in order."""
    names = {question.name for question in stop.questions}
    return tuple(dict.fromkeys(r.key for r in asked(books) if names & r.measure.asked.names))
