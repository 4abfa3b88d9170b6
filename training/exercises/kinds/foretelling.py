"""
What grading says of an answer, told before there is one: for where the site cannot be asked.

An answer is told part by part. A Part says how a script reads it off what was entered, and has a
Piece for each thing that it may read there. The script compares and counts and knows no rule: every
Piece is what ``Kind.grade`` said of an answer that reads so.
"""

import json
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import NamedTuple

from django.utils.translation import gettext as _

from rigs.words.units import INCH

WRONG = "wrong"
"""The tally of what was got wrong."""

TABLE = "exercises/chain_table.html"
"""The template that shows the rows of a table, unless a kind names its own."""

OTHERWISE = "*"
"""Whatever is read besides."""

_EXACT = (
    1e-10  # metres, a tenth of what rounding leaves open, to which an end of a Stretch is found
)


@dataclass(frozen=True)
class Piece:
    """
    What is told where an answer reads so: Lines, remarks, rows of a table, each as graded.

    ``passed`` is None where this part does not decide it. ``counts`` are the tallies that it adds
    one to, by which another Part can be read. ``table_by`` is the template of ``table``. In a
    text, ``%(name)s`` is what was entered as ``name``.
    """

    lines: tuple = ()
    remarks: tuple[str, ...] = ()
    passed: bool | None = None
    counts: tuple[str, ...] = ()
    table: tuple[dict, ...] = ()
    table_by: str = TABLE


@dataclass(frozen=True)
class Part:
    """
    A part of an answer: how it is ``read``, and the Piece for each thing that may come of it.

    That called OTHERWISE stands for all that have none of their own.
    """

    read: dict
    pieces: dict[str, Piece]


@dataclass(frozen=True)
class Foretold:
    """
    All that is told of the answers to one task.

    ``draw`` returns Pictures that are the same for each of them. ``unread`` says by the name of a
    field what is to be entered there. ``more`` says that grading tells more than this.
    """

    parts: tuple[Part, ...]
    draw: Callable = tuple
    unread: dict[str, str] = field(default_factory=dict)
    more: bool = False

    @property
    def entered(self):
        """How a script reads whether an answer is whole, which tells nothing of what is right."""
        reads = [each for part in self.parts for each in _alone(part.read)]
        reads = [each | {"ends": []} if "ends" in each else each for each in reads]
        # What is read of two things together would tell which of them belong together.
        told = [
            each for each in reads if each["take"] in _WHOLE and each.get("measure") not in _OFF
        ]
        return list({json.dumps(each): each for each in told}.values())


_WHOLE = ("value", "ticked", "length", "number", "numbered", "hung")
_OFF = ("nearest", "widest", "left")


def _alone(read):
    """Return the readings that ``read`` is made of."""
    if read["take"] == "both":
        return [each for one in read["reads"] for each in _alone(one)]
    return [read]


# How a part is read: what the script does of each is in ``foretold.js`` -------------------------


def value(name):
    """Read what was chosen as ``name``."""
    return {"take": "value", "name": name}


def ticked(name, wanted, alone=""):
    """Read whether ``wanted`` was checked as ``name``; ``alone`` cannot be with others."""
    return {"take": "ticked", "name": name, "wanted": wanted, "alone": alone}


def any_ticked(name):
    """Read whether anything was checked as ``name``."""
    return {"take": "any-ticked", "name": name}


def length(name, ends, bare=None, only=()):
    """
    Read in which stretch between ``ends``, metres, the length entered as ``name`` lies.

    "none" if there is none, or where ``only``, (name, value), was not chosen.
    """
    return {"take": "length", "name": name, "ends": ends, "bare": bare, "only": list(only)}


def number(name, ends):
    """Read in which stretch between ``ends`` the whole number entered as ``name`` lies."""
    return {"take": "number", "name": name, "ends": ends}


def difference(name, other, ends, bare):
    """Read in which stretch the length ``name`` less the length ``other`` lies."""
    return {"take": "difference", "name": name, "other": other, "ends": ends, "bare": bare}


def before(name, other, out):
    """Read whether the number ``name`` comes "before" or "after" ``other``; or which is ``out``."""
    return {"take": "before", "name": name, "other": other, "out": out}


def numbered(name, out):
    """Read whether ``name`` was given a number, one that no other has, or is ``out``."""
    return {"take": "numbered", "name": name, "out": out}


def next_to(name, other, out):
    """Read whether nothing is numbered between ``name`` and ``other``, in that order."""
    return {"take": "next-to", "name": name, "other": other, "out": out}


def tally(name):
    """Read how many pieces told so far count to ``name``."""
    return {"take": "tally", "name": name}


def both(*reads):
    """Read several things at once; what comes of them is joined by a slash."""
    return {"take": "both", "reads": list(reads)}


def hung(measure, ends, reach, **at):
    """
    Read in which stretch a ``measure`` of the droppers along a rope lies.

    It is "many", how many hang there; "nearest", how far the nearest is from ``at``; "widest", the
    widest gap between them from ``start`` toward ``end``; "left", what is left there up to ``end``;
    or "apart", how far from straight down the one farthest to port meets the sweep. None hangs
    farther out to port and to starboard than the two of ``reach``.
    """
    return {"take": "hung", "measure": measure, "ends": ends, "reach": reach, **at}


# Stretches of a measure within which grading says the same --------------------------------------


class Stretches(NamedTuple):
    """The ``ends`` between stretches, and a value inside of each: one more than there are ends."""

    ends: list[float]
    inside: list[float]


def stretches(outcome, points):
    """
    Return the Stretches of the line of ``points`` within which ``outcome(value)`` is the same.

    Between two points next to one another it changes once at most.
    """
    points = sorted(points)
    found = Stretches([], [points[0]])
    last = outcome(points[0])
    for low, high in zip(points, points[1:], strict=False):
        this = outcome(high)
        if this != last:
            found.ends.append(_change(outcome, low, high, last))
            found.inside.append(high)
        last = this
    return found


def _change(outcome, low, high, before_it):
    """Return where between ``low`` and ``high`` the ``outcome`` is no longer ``before_it``."""
    while high - low > _EXACT:
        middle = (low + high) / 2
        if outcome(middle) == before_it:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def around(*centres):
    """Return points by each of ``centres``, metres, half an inch apart, none below zero."""
    near = {at + n * INCH / 2 for at in centres for n in range(-5, 6)}
    return sorted(each for each in near | {0.0} if each >= 0)


def typed(metres):
    """Return metres as somebody types them, far finer than any tape."""
    return f"{metres:.12f} m"


# Lines that hold for more than one answer -------------------------------------------------------


def said(line, name):
    """Return ``line`` with what was entered as ``name`` for the answer."""
    return replace(line, yours=f"%({name})s")


def whatever(line, name=""):
    """
    Return ``line`` without what is told of one answer alone: what it measures and by how much.

    Of a finding it tells the limit.
    """
    told = _("The limit: {allowed}.").format(allowed=line.allowed_text) if line.sentence else ""
    return replace(
        line,
        yours=f"%({name})s" if name else "",
        measured_text="" if line.sentence else line.measured_text,
        margin_text="",
        remedy="",
        places=(),
        sentence=told,
    )


def wrong(line):
    """Return the tally that ``line`` counts to."""
    return () if line.right else (WRONG,)
