"""
The steps of a check, from the port wing end over the center to the starboard one.

What is asked comes with the requirements: here it is put in the order of the walk, and
what a rule set does not turn on is left out.
"""

from collections.abc import Iterable
from dataclasses import dataclass

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


def asked(rulebook: Rulebook) -> tuple[Requirement, ...]:
    """Return the requirements of ``rulebook`` that are read off gear, which a sheet asks for."""
    return tuple(r for r in rulebook.requirements if not r.of_trip)


def steps(rulebook: Rulebook) -> tuple[Stop, ...]:
    """Return the Stops of a check under ``rulebook``, with just the Questions it turns on."""
    return _stops(name for r in asked(rulebook) for name in r.measure.asked.names)


def judged_by(stop: Stop, rulebook: Rulebook) -> tuple[str, ...]:
    """Return the keys of the requirements of ``rulebook`` on which ``stop`` bears, in order."""
    names = {question.name for question in stop.questions}
    return tuple(r.key for r in asked(rulebook) if names & r.measure.asked.names)
