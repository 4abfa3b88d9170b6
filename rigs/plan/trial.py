"""A dropper to try things out on: what can be set, within what, and what comes of it."""

from typing import NamedTuple

from rigs.physics import chain
from rigs.physics.tow import HeightReport, height_report
from rigs.rules.rulebook import Rulebook
from rigs.words.say import gettext as _
from rigs.words.units import INCH, KNOT

from . import chain_options

LONGER = 18
"""How many inches longer than they must be droppers can be tried. No source."""

SPEEDS = (1.0, 4.0)
"""Slowest and fastest tow tried, in knots: common practice, no source."""


class Dial(NamedTuple):
    """
    One thing that can be set, in ``unit``s; ``size`` is one of them in SI.

    It goes from ``low`` to ``high`` in steps of ``step`` and begins at ``start``.
    """

    key: str
    label: str
    unit: str
    size: float
    low: float
    high: float
    step: float
    start: float


def dials(rulebook: Rulebook) -> tuple[Dial, ...]:
    """Return the Dials of a dropper under ``rulebook``, a gear rule set."""
    least = round(rulebook.requirement("dropper_length").limit / INCH)
    slow, fast = SPEEDS
    return (
        Dial("speed", _("Towing speed"), "kn", KNOT, slow, fast, 0.1, 3.0),
        Dial("length", _("Length of the dropper"), "in", INCH, least, least + LONGER, 1, least),
        # No longer than the shortest dropper, so that every setting can be.
        Dial("shine", _("Shine"), "in", INCH, 0, least, 1, least // 3),
    )


def choices(rulebook: Rulebook) -> tuple[chain.Choice, ...]:
    """Return the chain.Choices that can be hung under ``rulebook``, heaviest stock first."""
    stocks = reversed(chain_options(rulebook))
    return tuple(chain.Choice(stock, count) for stock in stocks for count in (1, 2))


def longest(rulebook: Rulebook) -> float:
    """Return the longest dropper that can be tried under ``rulebook``, in metres."""
    length = next(dial for dial in dials(rulebook) if dial.key == "length")
    return length.high * length.size


def report(rulebook: Rulebook, choice: chain.Choice, **numbers: float) -> HeightReport:
    """
    Return the HeightReport of a dropper of the Choice ``choice``.

    ``numbers`` are those of every Dial of ``rulebook`` by its key, in its unit.
    """
    set_to = {dial.key: numbers[dial.key] * dial.size for dial in dials(rulebook)}
    return height_report(choice, set_to["length"], set_to["speed"], set_to["shine"])
