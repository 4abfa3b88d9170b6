"""
The readings of a sheet: never one dropped that the site has once seen.

Each entry is one row, however many saves hold it. Its words are those of the newest save
that has it, and the rows stand in the order of those saves, so that it does not matter in
which order saves arrive, and that of two phones the one shown has the last word. A strike is
never undone. A save from before has no log: what it says otherwise than the rows becomes a row
of its own, without a time at the rail.
"""

import uuid
from datetime import datetime

from django.utils import timezone

from rigs.check import log
from rigs.check.steps import QUESTIONS

from .models import CheckReading

_WORDS = ("name", "text", "how", "tool")


def take_in(sheet, save, readings, too_late=False):
    """
    Take the log ``readings`` of ``save``, a list as a phone sends it, into the rows of ``sheet``.

    Return whether there was an entry the site had not seen. What comes ``too_late`` is kept
    and does not count. Raise ValueError, with words, if the log cannot be read.
    """
    rows = {row.entry: row for row in sheet.readings.all()}
    new, changed = [], []
    for place, entry in enumerate(log.parse(readings)):
        row = rows.get(entry.id)
        if row is None:
            if entry.text:
                new.append(_row(sheet, save, place, entry, late=too_late))
        elif not too_late and _update(row, save, place, entry):
            changed.append(row)
    CheckReading.objects.bulk_create(new)
    CheckReading.objects.bulk_update(
        changed, [*_WORDS, "rail", "struck", "why", "number", "device", "place", "late"]
    )
    return bool(new)


def _row(sheet, save, place, entry, late=False):
    return CheckReading(
        sheet=sheet,
        entry=entry.id,
        **{name: getattr(entry, name) for name in _WORDS},
        rail=entry.at,
        arrived=save.received,
        struck=entry.struck,
        why=entry.why,
        number=save.number,
        device=save.device,
        place=place,
        late=late,
    )


def _update(row, save, place, entry):
    """Set ``row`` as ``entry`` of ``save`` has it; return whether anything changed."""
    before = dict(vars(row))
    if (save.number, save.device) >= (row.number, row.device):
        for name in _WORDS:
            setattr(row, name, getattr(entry, name))
        row.rail, row.late = entry.at, False
        row.number, row.device, row.place = save.number, save.device, place
    if entry.struck and (not row.struck or _moment(entry.struck) < _moment(row.struck)):
        row.struck, row.why = entry.struck, entry.why
    return vars(row) != before


def _moment(text):
    """Return the moment of ISO ``text``; in the site's zone if it names none."""
    found = datetime.fromisoformat(text)
    return timezone.make_aware(found) if timezone.is_naive(found) else found


def now_text():
    """Return this moment as the log has moments."""
    return timezone.localtime().isoformat(timespec="seconds")


def settle(sheet, save, content):
    """
    Bring the rows of ``sheet`` in step with what ``save`` has ``typed``; return what counts.

    What is typed and not in the log becomes an entry without a time at the rail, and strikes
    what stood there. What the save knew of and has not typed any more is struck. Readings of
    another phone that the save did not know of stay.
    """
    typed, own = content["typed"], content.get("readings")
    known = None if own is None else log.counted(log.parse(own))
    rows = [row for row in sheet.readings.all() if not row.late]
    now = log.counted(row.entry_of_log for row in rows)
    for place, name in enumerate(QUESTIONS):
        text = typed.get(name, "")
        if text == now.get(name, "") or (not text and known is not None and name not in known):
            continue
        _strike(rows, name, save.reason)
        if text:
            made = uuid.uuid5(sheet.key, f"{save.device} {save.number} {name}").hex
            _row(sheet, save, len(known or ()) + place, log.Logged(made, name, text)).save()
    return recounted(sheet, typed)


def _strike(rows, name, why):
    for row in rows:
        if row.name == name and not row.struck:
            row.struck, row.why = now_text(), why
            row.save(update_fields=["struck", "why"])


def recounted(sheet, typed):
    """Return what counts on ``sheet``, by name, with what its writer said is right all the same."""
    found = log.counted(sheet.log)
    for name in [each for each in found if each in QUESTIONS]:
        sure = QUESTIONS[name].sure
        if found[name] in (typed.get(sure), sheet.typed.get(sure)):
            found[sure] = found[name]
    return found


# Entries made in the site's own forms -----------------------------------------


def _made(name, text, how, tool):
    return log.Logged(uuid.uuid4().hex, name, text, how, tool, now_text())


def answered(entries, name, text, how="", tool="", why=""):
    """
    Return ``entries`` with the answer ``text`` to ``name``: a change strikes what it changes.

    An empty answer strikes all that was read. The same answer, found in the same way, changes
    nothing.
    """
    holding = [each for each in log.of(name, entries) if each.counts]
    last = holding[-1] if holding else None
    if last and (last.text, last.how, last.tool) == (text, how, tool):
        return tuple(entries)
    gone = {each.id for each in (holding if not text else holding[-1:])}
    now = now_text()
    kept = [each._replace(struck=now, why=why) if each.id in gone else each for each in entries]
    return (*kept, _made(name, text, how, tool)) if text else tuple(kept)


def read_again(entries, name, text, how="", tool=""):
    """Return ``entries`` with a second reading ``text`` of ``name``; the first holds as well."""
    return (*entries, _made(name, text, how, tool))
