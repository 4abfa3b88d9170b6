"""Reads one row of a register: text into what a vessel holds, or why that is not possible."""

from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache
from typing import NamedTuple

from django.utils import timezone
from django.utils.translation import gettext as _

from rigs.rules import rulebook
from rigs.words.days import long_day
from rigs.words.units import UnitError

from .. import harbors
from ..models import Vessel
from ..stages import FORMERLY, Stage
from ..wording import stage_words
from .days import read_day
from .sizing import length_problem, read_length

TEXTS = ("name", "harbor", "registration", "owner", "captain")
YES, NO = {"yes", "y", "true", "1", "x"}, {"no", "n", "false", "0"}
NOT_SAID = "?"  # in place of a word that is to be read as an empty cell


@dataclass
class Entry:
    """
    What a row says, in SI; None or blank for what it leaves open.

    ``problems`` says in sentences what could not be read.
    """

    line: int
    name: str = ""
    harbor: str = ""
    registration: str = ""
    owner: str = ""
    captain: str = ""
    gear: str = ""
    length: float | None = None
    is_fishing: bool | None = None
    stage: str = ""
    since: date | None = None
    problems: list[str] = field(default_factory=list)


class Answers(NamedTuple):
    """
    What whoever imports said of a file: the unit of bare lengths and the order of its days.

    ``words`` has what words of a column mean, by its key and then by the word in lower
    case; ``twins`` what became of rows that look like a vessel that is there, by line.
    """

    unit: str = "ft"
    order: str | None = None
    words: dict[str, dict[str, str]] = {}
    twins: dict[str, str] = {}


class Vocabulary(NamedTuple):
    """
    The words of columns that hold one of a few.

    ``stages`` are what the stages are called, by Stage, ``gears`` the titles of rule sets by
    name, ``harbors`` the name of each harbor by each way to write it, as ``harbors.plain``.
    """

    stages: dict[str, str]
    gears: dict[str, str]
    harbors: dict[str, str]

    def known(self):
        """Return what each word known in a column means, by key of the column."""
        named = {name: stage.value for name, stage in FORMERLY.items()}
        for stage in Stage:
            for name in (stage.value, stage.label, self.stages[stage]):
                named[name.casefold()] = stage.value
        titled = {title.casefold(): name for name, title in self.gears.items()}
        return {
            "stage": named,
            "gear": titled | {name.casefold(): name for name in self.gears},
            "is_fishing": dict.fromkeys(YES, "yes") | dict.fromkeys(NO, "no"),
        }


def vocabulary():
    """Return the Vocabulary of today."""
    books = rulebook.nearest_gear_books(timezone.localdate())
    gears = {book.name: book.title for book in books}
    return Vocabulary(stage_words(), gears, harbors.spellings())


class Reader:
    """
    Reads rows with the places of ``columns``, by key, and the Answers to what was unclear.

    Words are those of the Vocabulary ``told``; no stage begins after ``today``.
    """

    def __init__(self, columns, answers, told, today):
        self.columns = columns
        self.answers = answers
        self.told = told
        self.today = today
        self.known = told.known()
        self.longest = {name: Vessel._meta.get_field(name).max_length for name in TEXTS}

    def read(self, line, cells):
        """Return the Entry that ``cells``, the text of one row, make."""
        entry = Entry(line)
        for key, place in self.columns.items():
            text = cells[place] if place < len(cells) else ""
            text = self.answers.words.get(key, {}).get(text.casefold(), text)
            if not text or text == NOT_SAID:
                continue
            if key in TEXTS:
                self._read_text(entry, key, text)
            else:
                getattr(self, f"_read_{key}")(entry, text)
        if entry.since and not entry.stage and "stage" in self.columns:
            entry.problems.append(_("A date needs a stage with it."))
        return entry

    def _read_text(self, entry, key, text):
        setattr(entry, key, text)
        if len(text) > self.longest[key]:
            entry.problems.append(
                _("“{text}...” is too long. There is room for {longest} letters.").format(
                    text=text[:40], longest=self.longest[key]
                )
            )
        if key == "registration" and not plain_registration(text):
            entry.problems.append(
                _(
                    "The registration number “{text}” has no letter or digit. Leave it blank if "
                    "the vessel has none."
                ).format(text=text)
            )

    def _read_length(self, entry, text):
        try:
            length = read_length(text, self.answers.unit)
        except UnitError as error:
            entry.problems.append(str(error))
            return
        if problem := length_problem(length):
            entry.problems.append(problem)
        else:
            entry.length = length

    def _read_gear(self, entry, text):
        entry.gear = self.known["gear"].get(text.casefold(), "")
        if not entry.gear:
            known = "; ".join(self.told.gears.values())
            entry.problems.append(
                _("“{text}” is not a gear we know. Use one of: {known}.").format(
                    text=text, known=known
                )
            )

    def _read_is_fishing(self, entry, text):
        said = self.known["is_fishing"].get(text.casefold())
        if said:
            entry.is_fishing = said == "yes"
        else:
            entry.problems.append(
                _("Still fishing: write yes or no, not “{text}”.").format(text=text)
            )

    def _read_stage(self, entry, text):
        entry.stage = self.known["stage"].get(text.casefold(), "")
        if not entry.stage:
            known = ", ".join(self.told.stages.values())
            entry.problems.append(
                _("“{text}” is not a stage we know. Use one of: {known}.").format(
                    text=text, known=known
                )
            )

    def _read_since(self, entry, text):
        entry.since = read_day(text, self.answers.order)
        if entry.since is None:
            entry.problems.append(
                _("“{text}” is not a date. Write it like {month}/{day}/{year}.").format(
                    text=text, month=self.today.month, day=self.today.day, year=self.today.year
                )
            )
        elif entry.since > self.today:
            entry.problems.append(
                _("{long_day} is in the future. Check it.").format(long_day=long_day(entry.since))
            )


# Kept, for whole registers are compared by them again and again.
@lru_cache(maxsize=1 << 15)
def plain_registration(text):
    """Return a registration number with its letters and figures alone, as they are compared."""
    return "".join(c for c in text.casefold() if c.isalnum())


@lru_cache(maxsize=1 << 15)
def plain_place(name, harbor):
    """Return a name and a harbor as they are compared: without case and extra spaces."""
    return " ".join(name.casefold().split()), " ".join(harbor.casefold().split())
