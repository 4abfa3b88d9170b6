"""What is said behind a finding: what it rests on, what is missing and why, what parts."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import NamedTuple

from rigs.requirements.questions import FLAG, LEAST
from rigs.rules.judge import Finding
from rigs.rules.outcomes import NOT_MEASURED
from rigs.words.say import gettext as _
from rigs.words.units import UnitError

from . import log
from .entry import Read, Typed, read, read_one
from .odds import AGREE
from .sheet import Answers, so_far
from .steps import QUESTIONS, AskedAlike, as_asked
from .tape import length_words
from .told import called, told_words

Judge = Callable[[Answers], Iterable[Finding]]
"""How a sheet is judged: the findings on what was written down."""


class Behind(NamedTuple):
    """
    What a sheet holds beside its findings.

    ``read`` is what came of its entries, ``told`` the questions that were told, not measured,
    ``reasons`` why others were not measured, by name; ``apart`` are the names of those with
    readings of which one breaks a rule and another does not, by what the rule asks,
    ``readings`` all that hold, as typed, by name, and ``typed`` those that count.
    """

    read: Read
    told: frozenset[str] = frozenset()
    reasons: Mapping[str, str] = {}
    apart: Mapping[AskedAlike, tuple[str, ...]] = {}
    readings: Mapping[str, tuple[str, ...]] = {}
    typed: Typed = {}


def _held(entries: Iterable[log.Logged]) -> dict[str, tuple[str, ...]]:
    """Return the texts that hold, oldest first, of the questions that have more than one."""
    found: dict[str, dict[str, None]] = {}
    for entry in entries:
        if entry.counts and entry.name in QUESTIONS:
            found.setdefault(entry.name, {})[entry.text.strip()] = None
    return {name: tuple(texts) for name, texts in found.items() if len(texts) > 1}


def _broken(typed: Typed, judge: Judge) -> dict[AskedAlike, bool]:
    return {as_asked(f.requirement): f.failed for f in judge(read(typed).measures)}


def _apart(
    typed: Typed, readings: Mapping[str, Sequence[str]], judge: Judge
) -> dict[AskedAlike, tuple[str, ...]]:
    """Return of which questions the ``readings`` come out on two sides, by what is asked."""
    found: dict[AskedAlike, dict[str, None]] = {}
    now = _broken(typed, judge) if readings else {}
    for name, texts in readings.items():
        for text in texts:
            other = {**typed, name: text, QUESTIONS[name].sure: text}
            if name in read(other).unread:
                continue
            for asked, is_broken in _broken(other, judge).items():
                if is_broken is not now.get(asked, is_broken):
                    found.setdefault(asked, {})[name] = None
    return {asked: tuple(names) for asked, names in found.items()}


def noted(
    typed: Typed, entries: Iterable[log.Logged], reasons: Mapping[str, str], judge: Judge
) -> Behind:
    """Return the Behind of a sheet; ``judge`` is how it is judged."""
    entries = tuple(entries)
    readings = _held(entries)
    return Behind(
        read(typed), log.told(entries), reasons, _apart(typed, readings, judge), readings, typed
    )


def _why(names: Iterable[str], beside: Behind) -> str:
    """Return why those of ``names`` that have no measure have none, if somebody said."""
    missing = [name for name in names if name not in beside.read.measures]
    reasons = {name: beside.reasons.get(name, "").strip() for name in missing}
    told = set(reasons.values())
    if len(told) == 1:
        words = next(iter(told))
    else:
        words = "; ".join(
            f"{called(QUESTIONS[name])}: {reason}" for name, reason in reasons.items() if reason
        )
    return _("Why not measured: {words}.").format(words=words) if words else ""


def _two_sides(name: str, texts: Sequence[str]) -> str:
    question = QUESTIONS[name]
    words = (
        _("Answers to {called} differ: {readings}.")
        if question.sort == FLAG
        else _("Readings of {called} fall on different sides of the limit: {readings}.")
    )
    return words.format(called=called(question), readings="; ".join(texts))


def _list_against_worst(name: str, texts: Sequence[str], typed: Typed) -> str:
    """Return what to ask of readings of which one lists each and another names the worst."""
    question = QUESTIONS[name]
    pick = min if question.several == LEAST else max
    alone = listed = None
    for text in texts:
        try:
            value = read_one(name, text, {**typed, question.sure: text})
        except UnitError:
            continue
        if isinstance(value, tuple):
            listed = pick(value)
        elif isinstance(value, float):
            alone = value
    if alone is None or listed is None or abs(alone - listed) <= 2 * AGREE:
        return ""
    return _("{called}: {alone} as the worst, {listed} in the list. Measure it again.").format(
        called=called(question),
        alone=length_words(question, alone),
        listed=length_words(question, listed),
    )


def _about_readings(name: str, is_apart: bool, beside: Behind) -> str:
    """Return what to say of several readings of one question; mostly nothing."""
    texts = beside.readings.get(name, ())
    if is_apart:
        return _two_sides(name, texts)
    is_several = texts and QUESTIONS[name].several
    return _list_against_worst(name, texts, beside.typed) if is_several else ""


def remark(finding: Finding, beside: Behind) -> str:
    """Return what to say behind the sentence of ``finding``; mostly nothing."""
    sheet = finding.requirement.measure.sheet
    names = [name for name in QUESTIONS if sheet and name in sheet.names]
    odds = dict.fromkeys(beside.read.at_odds[name] for name in names if name in beside.read.at_odds)
    is_open = finding.outcome == NOT_MEASURED or bool(finding.missing)
    apart = beside.apart.get(as_asked(finding.requirement), ())
    told = (
        so_far(finding.key, beside.read.so_far),
        *odds,
        told_words(finding, beside.told),
        _why(names, beside) if is_open else "",
        *(_about_readings(name, name in apart, beside) for name in names),
    )
    return " ".join(part for part in told if part)
