"""Lengths printed back as they are written on a sheet."""

from collections.abc import Callable

from rigs.requirements.questions import Question
from rigs.words.units import fathoms, feet_inches, inches, trimmed

_PRINTERS: dict[str, Callable[[float], str]] = {
    "fm": fathoms,
    "ft": feet_inches,
    "in": inches,
    "mm": lambda metres: f"{trimmed(metres * 1000, 1)} mm",
}


def length_words(question: Question, metres: float) -> str:
    """Return a length in the unit in which ``question`` is answered: ``42 in``."""
    return _PRINTERS[question.bare](metres)
