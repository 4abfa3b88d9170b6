"""Reads one row of a register: text into what a vessel holds, or why that is not possible."""

from dataclasses import dataclass, field
from datetime import date, datetime

from django.utils import timezone
from django.utils.translation import gettext as _

from rigs.rules import rulebook
from rigs.words.days import long_day
from rigs.words.units import FOOT, UnitError, feet_inches, parse_length

from ..models import Vessel
from ..stages import FORMERLY, Stage

TEXTS = ("name", "harbor", "registration", "owner", "captain")
LONGEST = 500 * FOOT  # common sense, no source: more is a slip of the finger
DAY_FORMATS = ("%Y-%m-%d", "%m/%d/%Y", "%m/%d/%y")  # years first, or as in American tables
YES, NO = {"yes", "y", "true", "1", "x"}, {"no", "n", "false", "0"}


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


class Reader:
    """
    Reads rows under ``headings``.

    ``words`` are what the stages are called, a dict by Stage; no stage begins after
    ``today``.
    """

    def __init__(self, headings, words, today):
        self.headings = headings
        self.today = today
        self.stages = {name: stage.value for name, stage in FORMERLY.items()}
        for stage in Stage:
            for name in (stage.value, stage.label, words[stage]):
                self.stages[name.casefold()] = stage.value
        self.words = words
        books = rulebook.nearest_gear_books(timezone.localdate())
        self.gear_titles = {book.name: book.title for book in books}
        self.gears = {title.casefold(): name for name, title in self.gear_titles.items()}
        self.gears |= {name.casefold(): name for name in self.gear_titles}
        self.longest = {name: Vessel._meta.get_field(name).max_length for name in TEXTS}

    def read(self, line, cells):
        """Return the Entry that ``cells``, the text of one row, make."""
        entry = Entry(line)
        for key, place in self.headings.places.items():
            text = cells[place] if place < len(cells) else ""
            if not text or key == "is_demo":
                continue
            if key in TEXTS:
                self._read_text(entry, key, text)
            else:
                getattr(self, f"_read_{key}")(entry, text)
        if entry.since and not entry.stage and "stage" in self.headings.places:
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
            length = parse_length(text, bare=self.headings.bare)
        except UnitError as error:
            entry.problems.append(str(error))
            return
        if problem := length_problem(length):
            entry.problems.append(problem)
        else:
            entry.length = length

    def _read_gear(self, entry, text):
        entry.gear = self.gears.get(text.casefold(), "")
        if not entry.gear:
            known = "; ".join(self.gear_titles.values())
            entry.problems.append(
                _("“{text}” is not a gear we know. Use one of: {known}.").format(
                    text=text, known=known
                )
            )

    def _read_is_fishing(self, entry, text):
        if text.casefold() in YES | NO:
            entry.is_fishing = text.casefold() in YES
        else:
            entry.problems.append(
                _("Still fishing: write yes or no, not “{text}”.").format(text=text)
            )

    def _read_stage(self, entry, text):
        entry.stage = self.stages.get(text.casefold(), "")
        if not entry.stage:
            known = ", ".join(self.words.values())
            entry.problems.append(
                _("“{text}” is not a stage we know. Use one of: {known}.").format(
                    text=text, known=known
                )
            )

    def _read_since(self, entry, text):
        entry.since = _day(text)
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


def _day(text):
    for form in DAY_FORMATS:
        try:
            return datetime.strptime(text, form).date()
        except ValueError:
            continue
    return None


def length_problem(length):
    """Return why no vessel has a ``length`` of so many metres, None if one might."""
    if length <= 0:
        return _("Enter a length above zero.")
    if length > LONGEST:
        return _("That is {feet_inches}, longer than any vessel here. Check the unit.").format(
            feet_inches=feet_inches(length)
        )
    return None


def plain_registration(text):
    """Return a registration number with its letters and figures alone, as they are compared."""
    return "".join(c for c in text.casefold() if c.isalnum())


def plain_place(name, harbor):
    """Return a name and a harbor as they are compared: without case and extra spaces."""
    return " ".join(name.casefold().split()), " ".join(harbor.casefold().split())
