"""
Classes of vessels by length, for reports: no rule hangs on them.

The line between the two upper classes is where the mesh rule tells vessels apart, which
the rule module knows; the lower one halves the fleet below it, from common sense.
"""

from typing import NamedTuple

from django.utils.functional import SimpleLazyObject
from django.utils.translation import gettext as _

from rigs.rules import rulebook
from rigs.words.units import FOOT, feet_inches

SMALL_UP_TO = 45 * FOOT  # no source: reports only


class Size(NamedTuple):
    """A class of vessels longer than ``over`` and up to ``up_to``, in metres; None for no end."""

    key: str
    words: str
    over: float | None
    up_to: float | None

    def holds(self, length):
        """Return whether a vessel of ``length`` metres is of this class."""
        longer = self.over is None or length > self.over + rulebook.ROUNDING
        return longer and (self.up_to is None or length <= self.up_to + rulebook.ROUNDING)


def _mesh_line():
    """Return the length in metres above which the mesh rule asks for more."""
    # The oldest version, so that classes stay the same for ever.
    requirements = rulebook.versions("whiting")[0].requirements
    return next(each.vessel_over for each in requirements if each.vessel_over is not None)


def _sizes():
    line = _mesh_line()
    low, high = feet_inches(SMALL_UP_TO), feet_inches(line)
    return (
        Size("small", f"up to {low}", None, SMALL_UP_TO),
        Size("middle", _("over {low}, up to {high}").format(low=low, high=high), SMALL_UP_TO, line),
        Size("large", _("over {high}").format(high=high), line, None),
    )


# Read at the first use, since rule sets are not read while apps are loaded.
SIZES = SimpleLazyObject(_sizes)
"""The classes, from short to long."""


def size_of(length):
    """Return the Size of a vessel of ``length`` metres."""
    return next(size for size in SIZES if size.holds(length))
