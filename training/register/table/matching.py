"""Guesses which of our columns each column of a register is, and remembers what was said."""

from collections import Counter
from typing import NamedTuple

from django.db import models
from django.utils.functional import cached_property

from ..models import HeadingMemory, Vessel
from .columns import COLUMNS, HEADERS, KEYS, LEFT_OUT, RegisterError, check_columns, plain
from .days import readings
from .entries import NO, YES, plain_registration
from .laying import NO_HEADINGS

EXAMPLES = 3
SAMPLE = 200  # rows that are looked at to guess by what stands in them
CERTAIN = 1000  # more than any guess weighs
ENOUGH = 0.5  # the part of them that has to fit; common sense, no source


class KnownBy(models.TextChoices):
    """How it is known what a column is, if it is."""

    KNOWN = "known"
    BEFORE = "before"
    HEADING = "heading"
    CELLS = "cells"
    OPEN = "open"


class Guess(NamedTuple):
    """The column at ``place``: its heading, which of ours it is taken for and why, some cells."""

    place: int
    heading: str
    key: str
    why: KnownBy
    examples: list[str]


def remembered(headers):
    """Return what was said of ``headers`` before, the key of a column by plain heading."""
    found = HeadingMemory.objects.filter(heading__in={plain(each) for each in headers})
    return dict(found.values_list("heading", "key"))


def all_known():
    """Return every heading known here, in plain words."""
    return KEYS.keys() | set(HeadingMemory.objects.values_list("heading", flat=True))


def _hints(heading):
    """Return how much the words of ``heading`` speak for each column, by key."""
    words, told = set(plain(heading).split()), Counter()
    for column in COLUMNS:
        for hint in column.hints:
            if hint.casefold() in words:
                told[column.key] += 3 if hint.isupper() else 1
    return told


class _Register:
    """What the vessels of ``harbors``, of all if None, are called: to know columns by."""

    def __init__(self, harbors):
        self.of = harbors

    @cached_property
    def told(self):
        vessels = Vessel.objects.order_by()
        if self.of is not None:
            vessels = vessels.filter(harbor__in=self.of)
        return list(vessels.values_list("name", "harbor", "registration"))

    @cached_property
    def names(self):
        return {name.casefold() for name, *__ in self.told}

    @cached_property
    def harbors(self):
        return {harbor.casefold() for __, harbor, __ in self.told}

    @cached_property
    def numbers(self):
        return {plain_registration(number) for *__, number in self.told} - {""}

    def fits(self, cells):
        """Return which part of ``cells`` could stand in a column, by key."""
        plain_cells = [cell.casefold() for cell in cells]
        told = {
            "harbor": sum(cell in self.harbors for cell in plain_cells),
            "registration": sum(plain_registration(cell) in self.numbers for cell in cells),
            "name": sum(cell in self.names for cell in plain_cells),
            "is_fishing": sum(cell in YES | NO and not cell.isdigit() for cell in plain_cells),
            "since": sum(bool(readings(cell)) for cell in cells),
        }
        return {key: number / len(cells) for key, number in told.items()}


def _column_cells(rows, place):
    cells = (row[place] for __, row in rows[:SAMPLE] if place < len(row))
    return [cell for cell in cells if cell]


def guesses(draft, harbors):
    """
    Return a Guess for each column of ``draft`` that has a heading or anything below it.

    What was said of a heading before counts most, then what all call it, then its words,
    then what stands below it. Of two columns that may be the same the likelier one is.
    """
    before = remembered(draft.headers) if draft.top != NO_HEADINGS else {}
    cells = {place: _column_cells(draft.rows, place) for place in range(_width(draft))}
    headings = {
        place: draft.headers[place] if place < len(draft.headers) else "" for place in cells
    }
    told, register = [], _Register(harbors)
    for place, heading in headings.items():
        words = plain(heading)
        if words in before:
            told.append((CERTAIN + 1, place, before[words], KnownBy.BEFORE))
        elif words in KEYS:
            told.append((CERTAIN, place, KEYS[words], KnownBy.KNOWN))
        else:
            found = _hints(heading).items()
            told += [(10 * weight, place, key, KnownBy.HEADING) for key, weight in found]
            if cells[place]:
                fits = register.fits(cells[place]).items()
                told += [(5 * fit, place, key, KnownBy.CELLS) for key, fit in fits if fit >= ENOUGH]
    if not any(key == "stage" for __, __, key, __ in told):
        # A day that is not that of a stage may be that of anything.
        told = [each for each in told if each[2] != "since" or each[0] >= CERTAIN]
    taken, keys = {}, set()
    for __, place, key, why in sorted(told, key=lambda each: (-each[0], each[1])):
        if place not in taken and (key == LEFT_OUT or key not in keys):
            taken[place] = key, why
            keys.add(key)
    return [
        Guess(place, heading, *taken.get(place, (LEFT_OUT, KnownBy.OPEN)), _examples(cells[place]))
        for place, heading in headings.items()
        if heading.strip() or cells[place]
    ]


def _width(draft):
    return max(len(draft.headers), *(len(cells) for __, cells in draft.rows[:SAMPLE]))


def _examples(cells):
    return list(dict.fromkeys(cells))[:EXAMPLES]


def settled(found):
    """Return whether nothing of the Guesses ``found`` need be asked, and they are enough."""
    keys = [each.key for each in found if each.key != LEFT_OUT]
    sure = all(each.why in (KnownBy.KNOWN, KnownBy.BEFORE) for each in found)
    try:
        check_columns(keys)
    except RegisterError:
        return False
    return sure and len(keys) == len(set(keys))


def columns_of(found):
    """Return the place of each column by key, as the Guesses ``found`` have it."""
    return {each.key: each.place for each in found if each.key in HEADERS}


def remember(draft, columns):
    """Keep for the next file what was said: ``columns`` are places by key of ``draft``."""
    if draft.top == NO_HEADINGS:
        return
    said = {place: key for key, place in columns.items()}
    meant = {
        words: said.get(place, LEFT_OUT)
        for place, heading in enumerate(draft.headers)
        if (words := plain(heading)) and len(words) <= HeadingMemory.LONGEST
    }
    HeadingMemory.objects.bulk_create(
        (HeadingMemory(heading=words, key=key) for words, key in meant.items()),
        update_conflicts=True,
        unique_fields=["heading"],
        update_fields=["key"],
    )


def _length_heading(draft):
    place = draft.columns["length"]
    return plain(draft.headers[place]) if place < len(draft.headers) else ""


def unit_before(draft):
    """Return the unit that lengths under this heading had before, "" if nobody said."""
    found = HeadingMemory.objects.filter(heading=_length_heading(draft), key="length")
    return found.values_list("unit", flat=True).first() or ""


def remember_unit(draft, unit):
    """Keep for the next file in which ``unit`` the lengths of ``draft`` are."""
    heading = _length_heading(draft)
    if draft.top != NO_HEADINGS and 0 < len(heading) <= HeadingMemory.LONGEST:
        told = {"key": "length", "unit": unit}
        HeadingMemory.objects.update_or_create(heading=heading, defaults=told)
