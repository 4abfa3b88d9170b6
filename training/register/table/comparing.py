"""
Says what importing a register would do, row by row, and writes nothing.

A vessel is known by its registration number, or by name and harbor. What a row leaves
empty stays as it is. A row that cannot be had without guessing is refused. A new vessel
that looks like one that is there waits until somebody says whether it is.
"""

from collections import defaultdict
from typing import NamedTuple

from django.utils.translation import gettext as _

from rigs.words.units import feet_inches

from ..folding import Happening, fold
from ..harbors import plain
from .columns import HEADERS
from .entries import TEXTS, plain_place, plain_registration
from .twins import NEW, OUT, THAT, Twins

ADD, CHANGE, SAME, REFUSE, ASK = "add", "change", "same", "refuse", "ask"
WAIT = "wait"  # a row that was to be added or changed when its import was stopped
FIELDS = ("name", "harbor", "length", "registration", "owner", "captain", "gear", "is_fishing")


class Outcome(NamedTuple):
    """
    What importing one row does; made of what JSON can hold.

    ``does`` is ADD, CHANGE, SAME, REFUSE or ASK; ``vessel`` the number of the vessel that
    the row is about, None for a new one; ``values`` what is written to it; ``changes`` the
    same in words, as [heading, old, new]; ``event`` the stage and day of a new event, None
    for none; ``reasons`` why the row is refused; ``twins`` what it may be about, to ASK for:
    pairs of what to answer and of its words.
    """

    line: int
    does: str
    name: str
    harbor: str
    vessel: int | None = None
    values: dict = {}
    changes: list = []
    event: list | None = None
    reasons: list = []
    twins: list = []


class RowRefused(Exception):
    """A row that contradicts the register or another row; the message says how."""


class Comparison:
    """
    Compares entries, in their order, with the vessels of a ``snapshot``.

    ``harbors`` are those that whoever imports looks after, None for all; ``told`` is the
    Vocabulary; ``decided`` says what becomes of rows that look like another vessel, by line
    as text.
    """

    def __init__(self, snapshot, harbors, told, decided):
        self.decided = decided
        self.twins = Twins(snapshot.vessels, harbors and {each.casefold() for each in harbors})
        self.harbors = None if harbors is None else {each.casefold() for each in harbors}
        self.told = told
        self.happened = snapshot.happened
        self.by_number = {}
        self.by_registration = {}
        self.by_place = defaultdict(list)
        self.spelling = {}
        for vessel in snapshot.vessels:
            self.spelling.setdefault(vessel.harbor.casefold(), vessel.harbor)
            self.by_number[vessel.pk] = vessel
            self.by_place[plain_place(vessel.name, vessel.harbor)].append(vessel)
            if number := plain_registration(vessel.registration):
                self.by_registration.setdefault(number, vessel)
        self.merged = {}
        for removal in snapshot.merged:
            gone = removal.vessel
            self.merged[plain_place(gone.name, gone.harbor)] = removal
            if number := plain_registration(gone.registration):
                self.merged[number] = removal
        self.lines = {}  # of this table: the line that took a vessel, a number or a place

    def outcome(self, entry):
        """Return the Outcome of ``entry``."""
        vessel, reasons = None, list(entry.problems)
        if entry.harbor.casefold() not in self.spelling:
            entry.harbor = self.told.harbors.get(plain(entry.harbor), entry.harbor)
        try:
            self._check_reach(entry.harbor)
            vessel = self._vessel(entry)
            self._check_reach(vessel.harbor if vessel else "")
            if vessel is None and not reasons and not _missing(entry):
                self._check_places(entry, None)
                vessel, asked = self._decided(entry)
                if asked:
                    return asked
            self._check_places(entry, vessel)
        except RowRefused as refusal:
            reasons.append(str(refusal))
        if vessel is None and not reasons:
            reasons = [
                _("A new vessel needs a {HEADERS}.").format(HEADERS=HEADERS[key])
                for key in _missing(entry)
            ]
        event = None if reasons else self._event(entry, vessel, reasons)
        if reasons:
            name = entry.name or (vessel.name if vessel else "")
            harbor = entry.harbor or (vessel.harbor if vessel else "")
            return Outcome(entry.line, REFUSE, name, harbor, reasons=reasons)
        return self._accepted(entry, vessel, event)

    def _accepted(self, entry, vessel, event):
        """Return the Outcome of ``entry``, which is about ``vessel`` and adds ``event``."""
        values = self._values(entry, vessel)
        does = ADD if vessel is None else CHANGE if values or event else SAME
        changes = [
            [HEADERS[key], self._say(key, getattr(vessel, key, None)), self._say(key, value)]
            for key, value in values.items()
        ]
        self._take(entry, vessel, values)
        return Outcome(
            entry.line,
            does,
            entry.name or vessel.name,
            entry.harbor or vessel.harbor,
            vessel.pk if vessel else None,
            values,
            changes,
            event,
        )

    def _decided(self, entry):
        """
        Return the vessel that a new ``entry`` was said to be, and an Outcome that asks for it.

        Both are None for one that is new. Raise RowRefused for one that was left out.
        """
        twins = [
            twin._replace(line=self.lines.get(twin.vessel, twin.line))
            for twin in self.twins.of(entry)
        ]
        if not twins:
            return None, None
        said = self.decided.get(str(entry.line))
        if said == NEW:
            return None, None
        if said == OUT:
            raise RowRefused(
                _("You left this row out: it is {words}.").format(words=twins[0].words)
            )
        answers = {_answer(twin): twin.words for twin in reversed(twins)}
        if said in answers:
            return self.by_number[int(said.removeprefix(THAT))], None
        asked = [[answer, answers[answer]] for answer in dict.fromkeys(map(_answer, twins))]
        return None, Outcome(entry.line, ASK, entry.name, entry.harbor, twins=asked)

    def _vessel(self, entry):
        """Return the vessel of the register that ``entry`` is about, None for a new one."""
        number = plain_registration(entry.registration)
        if found := self.by_registration.get(number):
            return found
        if not entry.name or not entry.harbor:
            return None
        found = self.by_place.get(plain_place(entry.name, entry.harbor), [])
        if len(found) > 1:
            raise RowRefused(
                _(
                    "{harbor} has {found} vessels of this name. Give the registration number of "
                    "the one you mean."
                ).format(harbor=found[0].harbor, found=len(found))
            )
        if found and number and found[0].registration:
            raise RowRefused(
                _(
                    "{harbor} has a {name} with another registration number, {registration}. If "
                    "it is the same vessel, change the number on its page."
                ).format(
                    harbor=found[0].harbor, name=found[0].name, registration=found[0].registration
                )
            )
        if not found:
            self._check_merged(entry, number)
        return found[0] if found else None

    def _check_merged(self, entry, number):
        """Raise RowRefused for a vessel that staff found to be another one: it is no new one."""
        place = plain_place(entry.name, entry.harbor)
        if removal := self.merged.get(number) or self.merged.get(place):
            raise RowRefused(
                _(
                    "{name} of {harbor} was merged into {into}. Take this row out, or write it "
                    "as {into}."
                ).format(
                    name=removal.vessel.name,
                    harbor=removal.vessel.harbor,
                    into=removal.into.name,
                )
            )

    def _check_reach(self, harbor):
        """Raise RowRefused unless whoever imports looks after ``harbor``; blank is none."""
        if harbor and self.harbors is not None and harbor.casefold() not in self.harbors:
            raise RowRefused(_("This vessel is in a harbor that is not yours."))

    def _check_places(self, entry, vessel):
        """Raise RowRefused if another vessel has, or gets, the number or the place of ``entry``."""
        for taken in self._takes(entry, vessel):
            if line := self.lines.get(taken):
                raise RowRefused(
                    _(
                        "Line {line} has the same registration number, or the same name and "
                        "harbor. Take one of the two out."
                    ).format(line=line)
                )
        if vessel is None or not (entry.name or entry.harbor):
            return
        place = plain_place(entry.name or vessel.name, entry.harbor or vessel.harbor)
        for other in self.by_place.get(place, []):
            if other.pk != vessel.pk:
                told = (
                    _(" with the number {registration}").format(registration=other.registration)
                    if other.registration
                    else ""
                )
                raise RowRefused(
                    _(
                        "The number {registration} belongs to {name} of {harbor}, and {harbor2} "
                        "has another {name2}{told}."
                    ).format(
                        registration=vessel.registration,
                        name=vessel.name,
                        harbor=vessel.harbor,
                        harbor2=other.harbor,
                        name2=other.name,
                        told=told,
                    )
                )

    def _takes(self, entry, vessel):
        """Yield all that tells the vessel of ``entry`` from others in this table."""
        if vessel is not None:
            yield vessel.pk
        if number := plain_registration(entry.registration):
            yield number
        name, harbor = entry.name, entry.harbor
        if vessel is not None:
            name, harbor = name or vessel.name, harbor or vessel.harbor
        if name and harbor:
            yield plain_place(name, harbor)

    def _take(self, entry, vessel, values):
        for taken in self._takes(entry, vessel):
            self.lines[taken] = entry.line
        if vessel is None:
            self.twins.take(entry)
        if "harbor" in values:
            self.spelling.setdefault(values["harbor"].casefold(), values["harbor"])

    def _values(self, entry, vessel):
        """Return what ``entry`` would write, by field: only what differs."""
        values = {}
        for key in FIELDS:
            new = getattr(entry, key)
            if new in ("", None):
                continue
            if key == "harbor":
                new = self.spelling.get(new.casefold(), new)
            if vessel is None or not self._alike(key, getattr(vessel, key), new):
                values[key] = new
        return values

    def _alike(self, key, old, new):
        if key == "length":
            # As exact as a table can say it.
            return feet_inches(old) == feet_inches(new)
        if key == "registration":
            return plain_registration(old) == plain_registration(new)
        if key in TEXTS:
            return old.casefold().split() == new.casefold().split()
        return old == new

    def _say(self, key, value):
        """Return ``value`` as the table writes it."""
        if value is None:
            return ""
        if key == "length":
            return feet_inches(value)
        if key == "gear":
            return self.told.gears.get(value, value)
        if key == "is_fishing":
            return "yes" if value else "no"
        return value

    def _event(self, entry, vessel, reasons):
        """
        Return the event that ``entry`` adds, as [stage, day], None for none.

        One that would leave the vessel standing where it does, and since when, tells
        nothing new. A stage without a day is added to ``reasons`` if it does.
        """
        if not entry.stage:
            return None
        happened = self.happened[vessel.pk] if vessel else []
        if entry.since is None:
            if fold(happened).stage != entry.stage:
                reasons.append(_("A stage needs a date with it."))
            return None
        latest = max((each.recorded for each in happened), default=None)
        new = Happening(_after(happened), entry.stage, entry.since, latest)
        if happened and _told(fold([*happened, new])) == _told(fold(happened)):
            return None
        return [entry.stage, entry.since.isoformat()]


def _answer(twin):
    """Return what is answered if a row is about ``twin``: one that a line has is taken once."""
    return OUT if twin.line is not None else f"{THAT}{twin.vessel}"


def _missing(entry):
    return [key for key in ("name", "harbor", "length") if getattr(entry, key) in ("", None)]


def _after(happened):
    return max((each.pk for each in happened), default=0) + 1


def _told(standing):
    """Return of a Standing what an imported event can tell: all but when it was last heard of."""
    return standing._replace(last_event=None)
