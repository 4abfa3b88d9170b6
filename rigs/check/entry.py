"""What was written on a sheet, read into SI."""

import re

from ..chain import stock_for
from ..entry import LONGEST, MOST_PIECES
from ..units import UnitError, feet_inches, parse_length
from .steps import COUNT, FLAG, QUESTIONS

YES, NO = "yes", "no"
MOST_MESHES = 10000
"""More than any codend has: a guard against slips of the thumb."""

_LINKS = re.compile(r"\s*(\d{1,4})\s*links?(?:\s+of\s+(.+))?\s*", re.IGNORECASE)
_COUNT = re.compile(r"\s*(\d{1,6})\s*(mesh(?:es)?|bars?)?\s*", re.IGNORECASE)


def _flag(text):
    told = {YES: True, NO: False}.get(text.strip().lower())
    if told is None:
        raise UnitError(f"“{text.strip()}” is neither yes nor no.")
    return told


def _count(text):
    found = _COUNT.fullmatch(text)
    if not found:
        raise UnitError(f"“{text.strip()}” was not understood. Write it like 100 or 200 bars.")
    number = int(found[1])
    if number > MOST_MESHES:
        raise UnitError(f"{number} is more than any codend has.")
    # Two bars of square mesh count for one mesh of diamond.
    return number / 2 if (found[2] or "").lower().startswith("bar") else number


def _links(number, size):
    """Return the length in metres of so many links of the chain sold as ``size`` metres."""
    if size is None:
        raise UnitError("Say the size of the chain first, or write it like 34 links of 3/8 in.")
    if number > MOST_PIECES:
        raise UnitError(f"{number} links are more than any dropper or sweep here can have.")
    try:
        return number * stock_for(size).pitch
    except KeyError as error:
        raise UnitError(f"{error.args[0]} Measure its length instead.") from error


def _length(question, text, typed):
    links = _LINKS.fullmatch(text) if question.chain else None
    if links:
        size = links[2] or typed.get(question.chain, "")
        metres = _links(int(links[1]), parse_length(size, "in") if size.strip() else None)
    else:
        metres = parse_length(text, question.bare)
    if metres > LONGEST:
        raise UnitError(f"That is {feet_inches(metres, 1)}: longer than any net. Check the unit.")
    return metres


def read_one(name, text, typed):
    """
    Return what ``text`` says in answer to the question ``name``: SI, a number or a flag.

    None stands for nothing written, which is "not measured". ``typed`` are all the
    entries by name, for a length in links of a chain named elsewhere. Raise UnitError,
    with words for the writer, if it cannot be read.
    """
    if not text.strip():
        return None
    question = QUESTIONS[name]
    if question.sort == FLAG:
        return _flag(text)
    if question.sort == COUNT:
        return _count(text)
    return _length(question, text, typed)


def read(typed):
    """
    Return (measures, unread) of the entries ``typed``, by name.

    ``measures`` are SI and hold what was written and could be read; ``unread`` says why
    the others could not. Names that nobody asks for are left out.
    """
    measures, unread = {}, {}
    for name in QUESTIONS:
        try:
            value = read_one(name, typed.get(name, ""), typed)
        except UnitError as error:
            unread[name] = str(error)
        else:
            if value is not None:
                measures[name] = value
    return measures, unread
