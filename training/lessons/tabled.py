"""
The live figures at settings chosen beforehand, for where the site cannot be asked.

A phone takes the table along and shows the entry whose settings are nearest: the same words and
drawing, to the letter, as the site would send for those. Nothing is worked out on the phone, and
nothing between two entries.
"""

import re
from functools import lru_cache
from itertools import product

from django.template.loader import render_to_string

from .live import FlightForm, LiveForm, shown

APART = {"speed": 0.5, "length": 9, "shine": 7}
"""How far apart the settings of each dial are, in its unit: a table that is soon fetched."""

HOLE = "{}"
_NUMBER = re.compile(r"\d+(?:\.\d+)?")


def settings_of(dial):
    """Return the settings of ``dial`` that are in the table: where it begins is one of them."""
    apart = APART[dial.key]
    steps = range(-int((dial.start - dial.low) / apart), int((dial.high - dial.start) / apart) + 1)
    values = {dial.start + step * apart for step in steps}
    return sorted(values | {dial.low, dial.high})


def _entries(rulebook):
    """Yield the dropper's markup at each of the settings, the chains' in the outermost turn."""
    form = LiveForm(rulebook)
    dials = [settings_of(dial) for dial in form.dials]
    for chain, *numbers in product(form.choices, *dials):
        names = [dial.key for dial in form.dials]
        form = LiveForm(rulebook, {"chain": chain, **dict(zip(names, numbers, strict=True))})
        form.full_clean()
        yield render_to_string("lessons/live_figure.html", shown(form))


def _folded(texts):
    """
    Return ``texts`` as (frames, columns, entries), small for what they have in common.

    A frame is (a text with holes, the numbers of the columns that fill them in order); a column is
    what stands in a hole in turn, with blanks between; an entry is (its frame, its place in the
    frame's columns).
    """
    groups = {}
    for at, text in enumerate(texts):
        groups.setdefault(tuple(_NUMBER.split(text)), []).append((at, _NUMBER.findall(text)))
    frames, columns, entries = [], {}, {}
    for between, members in groups.items():
        fills, filled_by = [], []
        for column in zip(*(numbers for __, numbers in members), strict=True):
            if len(set(column)) == 1:
                fills.append(column[0])
            else:
                fills.append(HOLE)
                filled_by.append(columns.setdefault(" ".join(column), len(columns)))
        text = "".join(map("".join, zip(between, [*fills, ""], strict=True)))
        entries |= {at: (len(frames), place) for place, (at, __) in enumerate(members)}
        frames.append((text, filled_by))
    return frames, list(columns), [entries[at] for at in range(len(texts))]


@lru_cache(maxsize=8)
def table(rulebook):
    """
    Return the table of the dropper under ``rulebook`` as plain data.

    ``settings`` are (name, values) in the order in which ``entries`` run, the last one's fastest.
    """
    form = LiveForm(rulebook)
    frames, columns, entries = _folded(list(_entries(rulebook)))
    settings = [("chain", list(form.choices))]
    settings += [(dial.key, settings_of(dial)) for dial in form.dials]
    return {"settings": settings, "frames": frames, "columns": columns, "entries": entries}


@lru_cache(maxsize=8)
def flight_table(rulebook):
    """Return the table of the net in flight under ``rulebook``, as ``table`` is: each change."""
    keys = [key for key, __ in FlightForm(rulebook).fields["change"].choices]
    texts = []
    for key in keys:
        form = FlightForm(rulebook, {"change": key})
        form.full_clean()
        texts.append(render_to_string(form.figure_template, shown(form, "flight")))
    frames, columns, entries = _folded(texts)
    settings = [("change", keys)]
    return {"settings": settings, "frames": frames, "columns": columns, "entries": entries}
