"""Answers that contradict each other: parts of a rope that do not add up to the whole."""

from collections.abc import Iterable, Mapping

from rigs.requirements.questions import Answer, Question
from rigs.words.say import gettext as _
from rigs.words.units import INCH

from .steps import QUESTIONS
from .tape import length_words

AGREE = INCH / 2
"""By how much, for each reading, a sum may differ (common practice, no source)."""

_PARTS: dict[str, list[Question]] = {}
for _each in QUESTIONS.values():
    if _each.part_of:
        _PARTS.setdefault(_each.part_of, []).append(_each)


def in_all(lengths: Iterable[float]) -> float:
    """Return the sum of ``lengths``, added one by one as a phone does."""
    total = 0.0
    for metres in lengths:
        total += metres
    return total


def _lengths(answer: Answer | None) -> list[float]:
    if isinstance(answer, tuple):
        return list(answer)
    return [float(answer)] if isinstance(answer, (int, float)) else []


def _do_not_fit(whole: float, answers: list[Answer | None]) -> list[float]:
    """
    Return the lengths that do not fit the ``whole`` of which they are parts; none if they do.

    One length alone may be the widest of many, and then says only that the whole is no less.
    """
    lengths = [metres for answer in answers for metres in _lengths(answer)]
    is_listed = any(isinstance(answer, tuple) for answer in answers)
    if not is_listed:
        lengths = [max(lengths, default=0.0)]
    over = in_all(lengths) - whole
    slack = AGREE * (len(lengths) + 1)
    is_short = is_listed and None not in answers and over < -slack
    return lengths if over > slack or is_short else []


def at_odds(measures: Mapping[str, Answer]) -> dict[str, str]:
    """
    Return what to ask about the ``measures`` that contradict each other, by question's name.

    All of them count: the sheet does not choose between two readings.
    """
    found: dict[str, str] = {}
    for name, parts in _PARTS.items():
        whole = measures.get(name)
        if not isinstance(whole, (int, float)):
            continue
        lengths = _do_not_fit(whole, [measures.get(part.name) for part in parts])
        if not lengths:
            continue
        question = QUESTIONS[name]
        words = _("Gaps come to {sum}, “{label}” to {whole}. Measure both again.").format(
            sum=length_words(question, in_all(lengths)),
            label=question.label,
            whole=length_words(question, whole),
        )
        for asked in (*(part.name for part in parts if part.several), name):
            found[asked] = words
    return found
