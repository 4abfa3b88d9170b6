"""Says how a register was read, and which were taken in before."""

from typing import NamedTuple

from django.utils.translation import gettext as _

from rigs.words.days import long_day

from . import asking
from .columns import HEADERS, LENGTH_UNITS
from .days import CLEAR, read_day, readings
from .entries import Answers

LISTED = 50  # past imports


class HowRead(NamedTuple):
    """Columns as (ours, heading), headings left out, and sentences on what was read how."""

    columns: list[tuple[str, str]]
    left_out: list[str]
    notes: list[str]


def chosen(draft, guesses):
    """Return what was said of the columns of ``draft`` as initial values, {} if nothing yet."""
    if draft.columns is None:
        return {}
    said = {place: key for key, place in draft.columns.items()}
    return {f"column_{each.place}": said.get(each.place, "") for each in guesses}


def how_read(draft):
    """Return HowRead of ``draft``, whose columns and answers are known."""
    places = {place: key for key, place in draft.columns.items()}
    named = [(HEADERS[key], _heading(draft, place)) for place, key in sorted(places.items())]
    left_out = [
        heading for place, heading in enumerate(draft.headers) if heading and place not in places
    ]
    return HowRead(named, left_out, list(_notes(draft)))


def _heading(draft, place):
    return draft.headers[place] if place < len(draft.headers) else ""


def _notes(draft):
    answers, days = Answers(**draft.answers), asking.days_of(draft)
    if asking.bare_lengths(draft):
        yield _("Lengths without a unit are read in {unit}.").format(
            unit=LENGTH_UNITS[answers.unit]
        )
    unclear = [(line, cell) for line, cell in days if _needs_order(cell)]
    shows = [each for each in unclear if len(readings(each[1])) == 1] or unclear
    read = [(line, cell, read_day(cell, answers.order)) for line, cell in shows]
    if read := [each for each in read if each[2]]:
        line, cell, day = read[0]
        yield _("Dates are read like {cell} in line {line}: {day}.").format(
            cell=cell, line=line, day=long_day(day)
        )
    if warning := _changed_about(days, answers.order):
        yield warning


def _needs_order(cell):
    told = readings(cell)
    return bool(told) and CLEAR not in told


def _changed_about(days, order):
    """
    Return a warning if a program may have changed day and month about, "" if not.

    A spreadsheet that expects the month first makes a date of 3/4 and leaves 25/4 as text.
    """
    if order != "dmy":
        return ""
    real = [(line, read_day(cell, order)) for line, cell in days if not _needs_order(cell)]
    real = [(line, day) for line, day in real if day]
    text = [readings(cell) for __, cell in days if _needs_order(cell)]
    if not real or any(day.day > 12 for __, day in real) or any(len(each) > 1 for each in text):
        return ""
    line, day = real[0]
    return _(
        "Some dates may have day and month changed about by a spreadsheet. Check line {line}: it "
        "says {day}."
    ).format(line=line, day=long_day(day))


def listed(drafts):
    """Return those of ``drafts`` that were imported, the latest first, without their rows."""
    heavy = ("sheets", "rows", "headers", "outcomes", "done")
    found = drafts.filter(applied__isnull=False).select_related("owner", "undone_by")
    return found.defer(*heavy).order_by("-applied")[:LISTED]
