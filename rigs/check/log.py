"""
The log of a sheet: every reading that was ever written down, oldest first.

Nothing is taken out of it. A change strikes a reading through and adds another; a second
reading stands beside the first. What counts of a question is its last reading that is not
struck.
"""

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any, NamedTuple

from rigs.requirements.questions import MEASURED, TELLERS, TOLD, TOOLS
from rigs.words.keyboard import plain
from rigs.words.say import gettext as _
from rigs.words.units import UnitError

from .entry import Typed, in_words
from .steps import QUESTIONS

LONGEST = 2000
"""The most letters of a part of a reading."""

MOST = 3000
"""More readings than any sheet has."""

YEARS = range(1970, 9999)
"""Years that a phone's clock can show, each of which is a year in every zone of time."""


class Logged(NamedTuple):
    """
    One reading: ``text`` is what was typed in answer to the question ``name``.

    ``id`` is made on the phone. ``how`` is MEASURED, TOLD or empty, ``tool`` one of TOOLS, or
    of TELLERS for what was told. ``at`` and ``struck`` are times by the clock of the phone,
    ISO 8601 with offset; ``struck`` is empty for what holds, ``why`` says why it was struck.
    """

    id: str
    name: str
    text: str
    how: str = ""
    tool: str = ""
    at: str = ""
    struck: str = ""
    why: str = ""

    @property
    def counts(self) -> bool:
        """Whether something is written there that was not struck."""
        return not self.struck and bool(plain(self.text).strip())


def _entry(told: Any) -> Logged:
    if not isinstance(told, Mapping):
        raise ValueError(_("A reading is not as a phone of this site sends it."))
    parts = {part: told.get(part, "") for part in Logged._fields}
    if not all(isinstance(part, str) and len(part) <= LONGEST for part in parts.values()):
        raise ValueError(_("A part of a reading is no text, or too long."))
    entry = Logged(**parts)
    if not entry.id or not entry.name:
        raise ValueError(_("A reading says not what it is of."))
    if entry.how not in ("", MEASURED, TOLD):
        raise ValueError(_("“{how}” is no way to get a reading.").format(how=entry.how))
    for time in (entry.at, entry.struck):
        if time and not _is_time(time):
            raise ValueError(_("“{time}” is no time of a reading.").format(time=time))
    return entry


def _is_time(text: str) -> bool:
    try:
        found = datetime.fromisoformat(text)
    except ValueError:
        return False
    return found.tzinfo is not None and found.year in YEARS


def parse(told: Any) -> tuple[Logged, ...]:
    """
    Return each Logged that ``told`` lists, as a phone sends them.

    Raise ValueError, with words, if it is no such list. Of a question that this version does
    not ask, or a tool that it does not know, nothing is lost.
    """
    if not isinstance(told, list) or len(told) > MOST:
        raise ValueError(_("The readings are no list, or too many."))
    entries = tuple(_entry(each) for each in told)
    if len({entry.id for entry in entries}) < len(entries):
        raise ValueError(_("Two readings have the same number."))
    return entries


def of(name: str, entries: Iterable[Logged]) -> tuple[Logged, ...]:
    """Return those of ``entries`` that answer the question ``name``."""
    return tuple(entry for entry in entries if entry.name == name)


def _last(entries: Iterable[Logged]) -> dict[str, Logged]:
    return {entry.name: entry for entry in entries if entry.counts}


def counted(entries: Iterable[Logged]) -> dict[str, str]:
    """Return what counts, as typed, by question's name."""
    return {name: entry.text for name, entry in _last(entries).items()}


def told(entries: Iterable[Logged]) -> frozenset[str]:
    """Return the names of the questions of which what counts was told, not measured."""
    return frozenset(name for name, entry in _last(entries).items() if entry.how == TOLD)


def how_words(entry: Logged) -> str:
    """Return how a reading was come by: ``measured, calipers``; empty if nobody said."""
    tool = str(TELLERS.get(entry.tool) or TOOLS.get(entry.tool) or entry.tool)
    if entry.how == TOLD and entry.tool in TELLERS:
        return _("said by {teller}").format(teller=tool)
    question = QUESTIONS.get(entry.name)
    how = question.hows[entry.how] if question and entry.how else entry.how
    return ", ".join(filter(None, (how, tool)))


def worked_out(entry: Logged, typed: Typed) -> str:
    """
    Return what a reading comes to: ``30 links = 41 1/4 in``; empty if that is as typed.

    ``typed`` are all the entries by name, for a length in links of a chain named elsewhere.
    Of what could not be read it says why.
    """
    text = plain(entry.text).strip()
    if not text or entry.name not in QUESTIONS:
        return ""
    try:
        words = in_words(entry.name, entry.text, typed)
    except UnitError as error:
        return _("{text}: not counted. {error}").format(text=text, error=error)
    return "" if words.lower() == " ".join(text.split()).lower() else f"{text} = {words}"
