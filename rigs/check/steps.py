"""
The steps of a check, from the port wing end over the center to the starboard one.

What is asked comes with the requirements: here it is put in the order of the walk, and
what a rule set does not turn on is left out.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from rigs import requirements
from rigs.requirements.questions import STOPS, TRIP, Question
from rigs.rules import openings
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


Books = Rulebook | Sequence[Rulebook]
"""
What a sheet is checked by: the rule set for the gear, and that of the fishery after it.

The first is asked for gear alone. The other is asked for its codend and for its trip; where
gear and trip are of one rule set, it is there twice.
"""


def each_asked(books: Books) -> tuple[tuple[Rulebook, tuple[Requirement, ...]], ...]:
    """Return each of ``books`` with the requirements that a sheet asks of it, each once."""
    books = (books,) if isinstance(books, Rulebook) else books
    found = []
    told: set[AskedAlike] = set()
    for place, book in enumerate(books):
        new = tuple(
            each
            for each in book.requirements
            if (place or not each.of_trip) and as_asked(each) not in told
        )
        told |= {as_asked(each) for each in new}
        found.append((book, new))
    return tuple(found)


def asked(books: Books) -> tuple[Requirement, ...]:
    """Return the requirements of ``books`` that a sheet asks for, as ``each_asked`` does."""
    return tuple(requirement for __, each in each_asked(books) for requirement in each)


def steps(books: Books) -> tuple[Stop, ...]:
    """Return the Stops of a check under ``books``, with just the Questions they turn on."""
    return _stops(name for r in asked(books) for name in r.measure.asked.names)


def bears_on(stop: Stop, requirement: Requirement) -> bool:
    """Return whether ``requirement`` is judged by what is asked at ``stop``."""
    names = {question.name for question in stop.questions}
    # What goes by the day and the position at the head of a sheet is asked nowhere.
    by_head = requirement.of_trip and not requirement.measure.asked.names
    return stop.slug == TRIP if by_head else bool(names & requirement.measure.asked.names)


def judged_by(stop: Stop, books: Books) -> tuple[str, ...]:
    """Return the keys of the requirements of ``books`` on which ``stop`` bears, in order."""
    return tuple(dict.fromkeys(r.key for r in asked(books) if bears_on(stop, r)))


def goes_with(fishery: Rulebook) -> tuple[str, ...]:
    """Return the names of the rule sets for gear that ``fishery`` is fished with."""
    return (fishery.name,) if fishery.lays_out_rig else fishery.gear


def names_offered(on: date | None = None) -> tuple[str, ...]:
    """Return the kinds of animal to offer where it is asked what is kept, on the date ``on``."""
    return openings.species(on)
