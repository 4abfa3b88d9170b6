"""What was written on a sheet, read into SI."""

import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from rigs.physics.chain import stock_for
from rigs.requirements.questions import (
    COUNT,
    DAY,
    FLAG,
    LEAST,
    MASS,
    NAMES,
    NO_NAMES,
    ROW,
    Answer,
    Question,
)
from rigs.requirements.trip import CAUGHT, HAKE, KEPT, RED_HAKE, REGULATED
from rigs.words import guards, mesh, species
from rigs.words.days import parse_day
from rigs.words.keyboard import plain, spelled_out
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy
from rigs.words.units import (
    UnitError,
    inches,
    parse_length,
    parse_mass,
    split_list,
    trimmed,
)

from .odds import at_odds, in_all
from .steps import QUESTIONS
from .tape import length_words

Typed = Mapping[str, str]
"""Entries as they were written, by name."""

YES, NO = "yes", "no"

AT_ODDS = gettext_lazy(
    "That is a weight, but no {group} is among the fish that are kept. Check what is kept, or "
    "clear the weight."
)
CAUGHT_AT_ODDS = gettext_lazy("Less than the regulated species in it. Check both weights.")
"""Why two answers cannot both be right."""

_LINKS = re.compile(r"\s*(\d{1,4})\s*links?(?:\s+of\s+(.+))?\s*", re.IGNORECASE | re.ASCII)
_COUNT = re.compile(
    r"\s*(\d{1,3}(?:,\d{3})+|\d{1,6})\s*(mesh(?:es)?|bars?)?\s*", re.IGNORECASE | re.ASCII
)
_FEET_COMMA_INCHES = re.compile(
    r"(?<!')('|\bfeet|\bfoot|\bft\.?|(?<=\d)ft\.?)\s*,\s*\d[\d\s./-]*(in(s|ch|ches)?\.?|\"|'')?\s*(?=[,;\n]|$)",
    re.IGNORECASE | re.ASCII,
)
_UNIT_AT_END = re.compile(r"[^A-Za-z\"']*([A-Za-z]+\.?|[\"'])")


class Read(NamedTuple):
    """
    What came of the entries of a sheet, by question's name.

    ``measures`` are SI and hold what was written and could be read; ``unread`` says why the
    others could not; ``so_far`` what a row too short to count comes to. ``unlikely`` are
    the answers that are taken only if their writer says that they are right; ``at_odds``
    asks about those that contradict each other.
    """

    measures: dict[str, Answer]
    unread: dict[str, str]
    so_far: dict[str, str]
    unlikely: tuple[str, ...]
    at_odds: dict[str, str]


class Unlikely(UnitError):
    """An entry to be taken only if its writer says that it is right."""


class RowAverage(NamedTuple):
    """The average in metres of so many ``readings``."""

    average: float
    readings: int

    @property
    def counts(self) -> bool:
        """Whether the average is that of a whole row: worked out here, or by the writer."""
        return self.readings in (1, mesh.SERIES)


def _flag(text: str) -> bool:
    told = {YES: True, NO: False}.get(plain(text).strip().lower())
    if told is None:
        raise UnitError(_("Answer yes or no."))
    return told


def _count(text: str) -> float:
    told = plain(text).strip()
    found = _COUNT.fullmatch(told)
    if not found:
        raise UnitError(
            _("“{told}” was not understood. Write it like 100 or 200 bars.").format(told=told)
        )
    number = int(found[1].replace(",", ""))
    if number > guards.MOST_MESHES:
        raise UnitError(
            _("{number} is more than any codend has. Count again.").format(number=number)
        )
    # Two bars of square mesh count for one mesh of diamond.
    return number / 2 if (found[2] or "").lower().startswith("bar") else number


def _mass(question: Question, text: str) -> float:
    kilograms = parse_mass(text, question.bare)
    if reason := guards.too_heavy(kilograms):
        raise UnitError(reason)
    return kilograms


def _names(text: str) -> list[str]:
    """Return the names that ``text`` lists; none if it says that there are none."""
    names = species.split_names(plain(text))
    nothing = [name for name in names if name.lower() in (NO_NAMES, "nothing")]
    if not names:
        raise UnitError(
            _("“{told}” names nothing. Write it like silver hake, red hake.").format(
                told=plain(text).strip()
            )
        )
    if nothing and len(names) > len(nothing):
        raise UnitError(
            _("That says “{nothing}” and names some. Take one of the two out.").format(
                nothing=nothing[0]
            )
        )
    return [] if nothing else list(names)


def _links(number: int, size: float | None) -> float:
    """Return the length in metres of so many links of the chain sold as ``size`` metres."""
    if size is None:
        raise UnitError(_("Enter the size of the chain first, or write 34 links of 3/8 in."))
    if number > guards.MOST_PIECES:
        raise UnitError(
            _("{number} links is more than any chain here has. Count again.").format(number=number)
        )
    try:
        return number * stock_for(size).pitch
    except KeyError as error:
        raise UnitError(_("No chain is sold in that size. Measure its length instead.")) from error


def _length(question: Question, text: str, typed: Typed) -> float:
    links = _LINKS.fullmatch(plain(text)) if question.chain else None
    if not links:
        return parse_length(text, question.bare)
    return _links(int(links[1]), _chain_size(links[2] or typed.get(question.chain, "")))


def _chain_size(text: str) -> float | None:
    """Return the size in metres of the chain that ``text`` names; None if it names none."""
    sizes = {parse_length(entry, "in") for entry in _entries(text)}
    if len(sizes) > 1:
        raise UnitError(_("More than one size of chain is written down. Write 34 links of 3/8 in."))
    return next(iter(sizes), None)


def _entries(text: str) -> list[str]:
    """Return the entries that ``text`` lists; a unit after the last is that of all."""
    entries = split_list(text)
    unit = _UNIT_AT_END.fullmatch(entries[-1]) if entries else None
    if unit and not re.search(r"[A-Za-z\"']", "".join(entries[:-1])):
        entries[:-1] = [f"{entry} {unit[1]}" for entry in entries[:-1]]
    return entries


def _several(question: Question, text: str, typed: Typed) -> list[float]:
    """Return the lengths that ``text`` lists, or the one that it is."""
    found = _FEET_COMMA_INCHES.search(spelled_out(plain(text)))
    if found:
        raise UnitError(
            _(
                "“{said}” may be one length or two. Leave the comma out of one. Put a semicolon "
                "between two."
            ).format(said=found[0].strip())
        )
    return [_length(question, entry, typed) for entry in _entries(text)]


def _row(question: Question, text: str) -> list[float]:
    """Return the lengths of a row that ``text`` lists."""
    entries = _entries(text)
    if len(entries) > mesh.SERIES:
        raise UnitError(
            _(
                "That is {entries} readings. Enter {SERIES} meshes in a row, or their average "
                "alone."
            ).format(entries=len(entries), SERIES=mesh.SERIES)
        )
    return [parse_length(entry, question.bare) for entry in entries]


def _believed(question: Question, lengths: list[float], text: str, typed: Typed) -> list[float]:
    """Return ``lengths`` if they can be, and are likely or said to be right."""
    for metres in lengths:
        if reason := guards.too_long(metres):
            raise UnitError(reason)
    for metres in lengths:
        words = guards.question(question.usual, metres)
        if words and typed.get(question.sure) != text:
            raise Unlikely(words)
    return lengths


def _average(lengths: list[float]) -> RowAverage:
    total = 0.0
    for metres in lengths:  # one by one, as a phone adds them
        total += metres
    return RowAverage(total / len(lengths), len(lengths))


def read_one(name: str, text: str, typed: Typed) -> Answer | RowAverage | None:
    """
    Return what ``text`` says in answer to the question ``name``: an Answer or a RowAverage.

    None stands for nothing written, which is "not measured". ``typed`` are all the
    entries by name, for a length in links of a chain named elsewhere and for what its
    writer said is right though it is unlikely. Raise UnitError, with words for the writer,
    if it cannot be read.
    """
    if not plain(text).strip():
        return None
    question = QUESTIONS[name]
    if question.sort == FLAG:
        return _flag(text)
    if question.sort == COUNT:
        return _count(text)
    if question.sort == ROW:
        lengths = _believed(question, _row(question, text), text, typed)
        return _average(lengths) if lengths else None
    if question.sort == MASS:
        return _mass(question, text)
    if question.sort == DAY:
        return parse_day(text).isoformat()
    if question.sort == NAMES:
        return _names(text)
    if question.several:
        each = _believed(question, _several(question, text, typed), text, typed)
        return tuple(each) if len(each) > 1 else next(iter(each), None)
    return _believed(question, [_length(question, text, typed)], text, typed)[0]


def _chain_words(question: Question, text: str, typed: Typed) -> str:
    """Return of which chain links were counted, if it was named elsewhere."""
    links = _LINKS.fullmatch(plain(text)) if question.chain else None
    if not links or links[2]:
        return ""
    size = _chain_size(typed[question.chain])
    return _(", of {size} chain").format(size=inches(size or 0))


def _listed_words(question: Question, lengths: tuple[float, ...]) -> str:
    pick = min(lengths) if question.several == LEAST else max(lengths)
    words = _("smallest {length}") if question.several == LEAST else _("largest {length}")
    told = _("{count} readings, {words}").format(
        count=len(lengths), words=words.format(length=length_words(question, pick))
    )
    if not question.part_of:
        return told
    return _("{told}, {length} in all").format(
        told=told, length=length_words(question, in_all(lengths))
    )


def in_words(name: str, text: str, typed: Typed) -> str:
    """
    Return what ``text`` in answer to the question ``name`` comes to: ``41 1/4 in``.

    Raise UnitError, with words for the writer, if it cannot be read.
    """
    question, value = QUESTIONS[name], read_one(name, text, typed)
    if isinstance(value, RowAverage):
        if not value.counts:
            return _so_far(value)
        words = length_words(question, value.average)
        return words if value.readings == 1 else _("{words} on average").format(words=words)
    if isinstance(value, tuple):
        return _listed_words(question, value)
    if isinstance(value, bool) or not isinstance(value, float) or question.sort == MASS:
        return " ".join(plain(text).split())
    if question.sort == COUNT:
        is_bars = "bar" in plain(text).lower()
        return _("{count} meshes").format(count=trimmed(value, 1)) if is_bars else text.strip()
    return length_words(question, value) + _chain_words(question, text, typed)


def _so_far(row: RowAverage) -> str:
    return _(
        "{readings} of {SERIES} readings, average so far {inches}. The rule goes by {SERIES}."
    ).format(readings=row.readings, SERIES=mesh.SERIES, inches=inches(row.average))


def _clashes(measures: Mapping[str, Answer]) -> Iterator[tuple[str, str, str]]:
    """Yield (name, name, why) of answers that cannot both be right, the later one second."""
    kept = measures.get(KEPT.name)
    for question, group in ((HAKE, species.SILVER_AND_OFFSHORE), (RED_HAKE, species.RED)):
        if not measures.get(question.name) or not isinstance(kept, list):
            continue
        if not any(species.may_be(name, group) for name in kept):
            yield (
                KEPT.name,
                question.name,
                AT_ODDS.format(group=group),
            )
    part, whole = (measures.get(question.name) for question in (REGULATED, CAUGHT))
    if isinstance(part, float) and isinstance(whole, float) and part > whole:
        yield (
            REGULATED.name,
            CAUGHT.name,
            CAUGHT_AT_ODDS,
        )


def read(typed: Typed) -> Read:
    """
    Return the Read of the entries ``typed``, by name.

    Names that nobody asks for are left out.
    """
    measures: dict[str, Answer] = {}
    unread: dict[str, str] = {}
    so_far: dict[str, str] = {}
    unlikely: list[str] = []
    for name, question in QUESTIONS.items():
        text = typed.get(name, "")
        if question.usual and plain(text).strip() and typed.get(question.sure) == text:
            unlikely.append(name)
        try:
            value = read_one(name, text, typed)
        except UnitError as error:
            unread[name] = str(error)
            if isinstance(error, Unlikely):
                unlikely.append(name)
            continue
        if isinstance(value, RowAverage):
            if not value.counts:
                so_far[name] = _so_far(value)
                continue
            value = value.average
        if value is not None:
            measures[name] = value
    # Nobody can say which of the two is right: neither counts until one is mended.
    for one, other, why in list(_clashes(measures)):
        unread[other] = why
        measures.pop(one, None)
        measures.pop(other, None)
    return Read(measures, unread, so_far, tuple(unlikely), at_odds(measures))
