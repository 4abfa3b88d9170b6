"""
What an officer is asked on deck, and how a requirement is read off the answers.

Of many alike the officer writes down each, one by one, or the worst alone: the smallest
float, the widest gap, the thickest chain. If that one keeps the limit, so do the others.
Mesh alone goes by the average of a row. The order and the questions are common practice,
no source; what they are checked against is not known here.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import inf
from typing import NamedTuple

from rigs.words.gear import PORT, SIDES, STARBOARD, Rig
from rigs.words.places import Listed, Spot
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy

from .readings import NOTHING, Between, Readings

OffGear = bool | float | tuple[float, ...]
"""Yes or no, or what was measured: SI, or a count; several lengths if each was listed."""

Answer = OffGear | str | list[str]
"""What is read off gear, or of a trip a day in ISO text, or names."""

FLAG = "flag"
LENGTH = "length"
COUNT = "count"
ROW = "row"
"""Lengths measured one after another in a row, of which the average counts."""
MASS = "mass"
DAY = "day"
NAMES = "names"
"""Kinds of animal by whatever names, or that there are none."""

NO_NAMES = "none"
"""What is written where there is nothing to name."""

MOST, LEAST = "most", "least"
"""Which of several lengths of one entry counts."""

MEASURED, TOLD = "measured", "told"
"""How an officer came by an answer: measured or seen, or said by somebody."""

TOOLS: Mapping[str, str] = {
    "tape": gettext_lazy("tape"),
    "calipers": gettext_lazy("calipers"),
    "chain-gauge": gettext_lazy("chain gauge"),
    "mesh-gauge": gettext_lazy("mesh gauge with its weight"),
    "links": gettext_lazy("links counted"),
    "tag": gettext_lazy("tag or stamp"),
    "documents": gettext_lazy("documents of the vessel"),
}
"""What an answer is measured with or read off, by slug."""

TELLERS: Mapping[str, str] = {
    "skipper": gettext_lazy("the skipper"),
    "crew": gettext_lazy("a member of the crew"),
    "owner": gettext_lazy("the owner"),
}
"""Who can have told an answer, by slug; it stands where the tool does of one measured."""

_TOOLS_FOR = {
    "chain": ("chain-gauge", "calipers", "tag"),
    "wire": ("calipers", "chain-gauge", "tag"),
    "float": ("tape", "calipers", "tag"),
    "mesh": ("mesh-gauge", "calipers"),
    "bar gap": ("calipers", "tape"),
    "vessel": ("documents", "tape"),
}

WHY_NOT: Mapping[str, str] = {
    "full": gettext_lazy("codend full"),
    "load": gettext_lazy("gear under load"),
    "drum": gettext_lazy("wound on the drum"),
    "reach": gettext_lazy("could not be reached"),
    "dark": gettext_lazy("too dark"),
    "weather": gettext_lazy("too much sea"),
    "time": gettext_lazy("no time"),
    "tool": gettext_lazy("no tool for it"),
    "refused": gettext_lazy("was not let to"),
}
"""Why something was not measured, in a word, by slug."""

RIGHT_THERE = ("0",)
"""What is often written of a distance."""

_ENTRY, _ROW_ENTRY = 60, 400  # the most letters of an entry

_KEYS = {
    "fm": ("fm", "ft", "in"),
    "ft": ("ft", "in", "1/4", "1/2", "3/4"),
    "in": ("ft", "in", "1/4", "1/2", "3/4"),
    "mm": ("mm", "in", "/"),
    "meshes": ("bars",),
    "lb": ("lb", "kg"),
}

_ROW_KEYS = ("1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "mm", ",")

_LAST = 100

TRIP = "trip"
"""The stop for what is not read off gear."""


@dataclass(frozen=True, slots=True)
class Question:
    """
    One thing to look at or to measure.

    ``of`` is the answer that a Rig gives, None if it is not known; ``stop`` is where on the
    walk along the gear it is asked, one of STOPS, and ``place`` how early there: the lowest
    first. ``sort`` is FLAG (yes or no), LENGTH, COUNT, ROW, MASS, DAY or NAMES; ``bare`` the unit
    of a number written without one; ``usual`` the sort of part it measures, as ``guards`` knows it;
    ``picks`` what is often written, for one tap; ``chain`` the question whose answer names
    the chain, where a length may be counted in links; ``how`` how it is to be looked at,
    for who asks; ``several`` which of several lengths in one entry counts, MOST or LEAST,
    empty where only one is written; ``part_of`` the question about the whole length to which
    its lengths add up, with those of its other parts.
    """

    name: str
    label: str
    sort: str = FLAG
    bare: str = ""
    usual: str = ""
    help: str = ""
    picks: tuple[str, ...] = ()
    chain: str = ""
    how: str = ""
    several: str = ""
    part_of: str = ""
    of: Callable[[Rig], OffGear | None] = lambda rig: None
    stop: str = ""
    place: int = _LAST

    @property
    def keys(self) -> tuple[str, ...]:
        """What a keypad lacks for writing an answer: units and parts of an inch."""
        if self.sort == ROW:
            return _ROW_KEYS
        keys = ("in", "/") if len(self.picks) > 1 else _KEYS.get(self.bare, ())
        return (*keys, *(["links"] if self.chain else ()), *([","] if self.several else ()))

    @property
    def longest(self) -> int:
        """The most letters that an answer may have."""
        is_long = self.sort in (ROW, NAMES) or self.several
        return _ROW_ENTRY if is_long else _ENTRY

    @property
    def tools(self) -> tuple[str, ...]:
        """The slugs of the TOOLS that fit it, the likeliest first."""
        if self.sort not in (LENGTH, ROW):
            return ()
        fitting = _TOOLS_FOR.get(self.usual, ("tape",))
        return (*fitting, "links") if self.chain else fitting

    @property
    def hows(self) -> Mapping[str, str]:
        """How one can come by an answer, in words, by MEASURED and TOLD."""
        seen = _("measured") if self.sort in (LENGTH, ROW, COUNT) else _("seen")
        return {MEASURED: seen, TOLD: _("said by somebody")}

    @property
    def sure(self) -> str:
        """The name under which stands what was written when its writer said it is right."""
        return f"{self.name}_sure"


def _side_stops(side: str) -> tuple[tuple[str, str], ...]:
    """Return the stops of a side, from its wires in to the corner."""
    name = side.capitalize()
    return (
        (f"{side}_wire", _("{name} wires: length and cover").format(name=name)),
        (f"{side}_gauge", _("{name} wires: thickness").format(name=name)),
        (f"{side}_wing", _("{name} wing, from the wing end in").format(name=name)),
        (f"{side}_corner", _("{name} corner, where bottom wing meets belly").format(name=name)),
    )


_PORT, _STARBOARD = _side_stops(PORT), _side_stops(STARBOARD)
# Wires and their gauge change places with the side, for the walk goes over the center.
STOPS: Mapping[str, str] = dict(
    (
        *_PORT,
        ("center", gettext_lazy("Center of the footrope")),
        *reversed(_STARBOARD),
        ("droppers", gettext_lazy("All the droppers")),
        ("sweep", gettext_lazy("Sweep")),
        ("headrope", gettext_lazy("Headrope and floats")),
        ("codend", gettext_lazy("Codend")),
        ("grate", gettext_lazy("Grate")),
        (TRIP, gettext_lazy("Letter, place and catch")),
    )
)
"""The walk from the port wing end over the center to the starboard one, then the trip, by slug."""


Sided = Mapping[str, Question]
"""A question that is asked on both sides, by side."""


def each_side(ask: Callable[[str], Question]) -> Sided:
    """Return what ``ask`` makes of either side."""
    return {side: ask(side) for side in SIDES}


# Answers read ----------------------------------------------------------------


def _worst(question: Question, answer: Answer | None) -> bool | float | None:
    """Return what counts of an answer that may list several."""
    if not isinstance(answer, tuple):
        return answer if isinstance(answer, (int, float)) else None
    return min(answer) if question.several == LEAST else max(answer)


class Total(NamedTuple):
    """
    One value checked against a requirement: answers, each times its factor, added up.

    ``size`` takes the sum without its sign, ``denied`` turns a yes into a no. ``spot`` is
    where it was taken, as ``readings`` has spots; ``each``, with the holes ``at`` and ``of``,
    is that of one of several lengths that were listed in answer to its one question.
    """

    spot: Spot
    terms: tuple[tuple[float, Question], ...]
    size: bool = False
    denied: bool = False
    each: str = ""

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the questions it is made of."""
        return tuple(question.name for __, question in self.terms)

    def has(self, spot: object) -> bool:
        """Return whether ``spot`` is where this was taken, or one of several listed there."""
        return spot.what == self.each if isinstance(spot, Listed) else spot == self.spot

    def read(self, answers: Mapping[str, Answer]) -> Readings:
        """Return its readings: the sum, or each of several lengths that were listed."""
        listed = answers.get(self.names[0]) if self.each else None
        if not isinstance(listed, tuple):
            return [self.value(answers)], [self.spot]
        count = len(listed)
        return listed, [Listed(self.each, at, count) for at in range(1, count + 1)]

    def value(self, answers: Mapping[str, Answer]) -> bool | float | Between | None:
        """
        Return the sum, a Between if an answer to it is missing, None if all are.

        What was not measured is a length of nothing or more.
        """
        told = [_worst(question, answers.get(question.name)) for __, question in self.terms]
        if all(each is None for each in told):
            return None
        if isinstance(told[0], bool):
            return not told[0] if self.denied else told[0]
        least = most = 0.0
        for (factor, __), each in zip(self.terms, told, strict=True):
            if isinstance(each, (int, float)):
                least += factor * each
                most += factor * each
            elif factor > 0:
                most = inf
            else:
                least = -inf
        if least == most:
            return abs(least) if self.size else least
        # Without its sign, a sum that is open to one side may be anything.
        return None if self.size or (least, most) == (-inf, inf) else Between(least, most)


class OnSheet(NamedTuple):
    """
    What is read off a sheet for one requirement.

    If the answer to ``absent`` is no, there is nothing there to measure. Which of several
    limits binds turns on the answer to ``turns_on``. What is read off a trip made of the
    answers has no totals, but ``asks`` for what that trip is made of.
    """

    totals: tuple[Total, ...]
    absent: Question | None = None
    turns_on: Question | None = None
    asks: tuple[Question, ...] = ()

    @property
    def questions(self) -> tuple[Question, ...]:
        """All the questions that bear on it."""
        asked = [question for total in self.totals for __, question in total.terms]
        more = (each for each in (self.absent, self.turns_on) if each)
        return (*asked, *more, *self.asks)

    @property
    def names(self) -> frozenset[str]:
        """Their names."""
        return frozenset(question.name for question in self.questions)

    def read(self, answers: Mapping[str, Answer]) -> Readings:
        """Return the readings that the ``answers``, by question's name, come to."""
        if self.absent and answers.get(self.absent.name) is False:
            return NOTHING
        read = [total.read(answers) for total in self.totals]
        return (
            [value for values, __ in read for value in values],
            [spot for __, spots in read for spot in spots],
        )


def one(
    spot: Spot,
    question: Question,
    *,
    denied: bool = False,
    absent: Question | None = None,
    turns_on: Question | None = None,
    each: str = "",
) -> OnSheet:
    """Return what is read off one answer, or off ``each`` of several."""
    total = Total(spot, ((1, question),), denied=denied, each=each)
    return OnSheet((total,), absent, turns_on)


def sides(
    what: str,
    *terms: tuple[float, Sided | Question],
    size: bool = False,
    denied: bool = False,
    each: str = "",
) -> tuple[Total, ...]:
    """
    Return one Total a side; ``what`` is measured there, as in ``port legs``.

    ``each`` says which of several of it, with the holes ``side``, ``what``, ``at`` and ``of``.
    """
    return tuple(
        Total(
            f"{side} {what}",
            tuple(
                (factor, asked if isinstance(asked, Question) else asked[side])
                for factor, asked in terms
            ),
            size,
            denied,
            each.format(side=side, what=what, at="{at}", of="{of}"),
        )
        for side in SIDES
    )


def all_so(values: Sequence[bool | None]) -> bool | None:
    """Return whether all are so; None if nobody looked at some, or there are none."""
    if False in values:
        return False
    return None if None in values or not values else True
