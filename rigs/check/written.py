"""What a careful officer would write on a sheet about a given rig."""

from rigs.requirements.questions import COUNT, FLAG, OffGear, Question
from rigs.words.gear import Rig
from rigs.words.say import gettext as _
from rigs.words.units import trimmed

from .entry import NO, YES, read
from .steps import QUESTIONS
from .tape import length_words


def measures(rig: Rig) -> dict[str, OffGear]:
    """Return the answers, SI by question's name, that ``rig`` gives; what is unknown is out."""
    told = {name: question.of(rig) for name, question in QUESTIONS.items()}
    return {name: value for name, value in told.items() if value is not None}


def _text(question: Question, value: OffGear) -> str:
    if question.sort == FLAG:
        return YES if value else NO
    if isinstance(value, tuple):
        return ", ".join(_text(question, each) for each in value)
    if question.sort == COUNT:
        return (
            trimmed(value, 0)
            if value == int(value)
            else _("{trimmed} bars").format(trimmed=trimmed(value * 2, 0))
        )
    return length_words(question, max(value, 0.0))


def typed(rig: Rig) -> dict[str, str]:
    """
    Return the answers as they would be written down, by question's name.

    A tape shows sixteenths of an inch, so that what lies between is rounded. An officer is
    sure of what few nets have.
    """
    told = {name: _text(QUESTIONS[name], value) for name, value in measures(rig).items()}
    return told | {QUESTIONS[name].sure: told[name] for name in read(told).unlikely}
