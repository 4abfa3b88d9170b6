"""Where a height lies against the height that the trade fishes at."""

from collections.abc import Iterable, Sequence

from rigs.physics.practice import RuleOfThumb
from rigs.words.say import gettext_lazy
from rigs.words.units import INCH

TOO_LOW, IN_WINDOW, TOO_HIGH = (
    gettext_lazy("too low"),
    gettext_lazy("at the right height"),
    gettext_lazy("too high"),
)
CANNOT_TELL = gettext_lazy("cannot tell")

EVEN = 3 * INCH
"""Port and starboard that differ by no more are even: shine is not read any finer. No source."""

SUDDEN = 6 * INCH
"""A net that flies otherwise by more than this from one tow to the next, with nothing
changed on it, has something wrong with it. No source."""


def status_of(height: float, window: RuleOfThumb) -> str:
    """Return TOO_LOW, IN_WINDOW or TOO_HIGH for ``height`` in metres."""
    if height < window.low:
        return TOO_LOW
    return TOO_HIGH if height > window.high else IN_WINDOW


def status_shown(height: float, window: RuleOfThumb, at_least: bool) -> str:
    """Return the status, CANNOT_TELL where ``height`` is a least one that is not too high."""
    status = status_of(height, window)
    return CANNOT_TELL if at_least and status != TOO_HIGH else status


def mean(values: Sequence[float]) -> float:
    """Return the mean of ``values``, at least one."""
    return sum(values) / len(values)


def mean_of(values: Iterable[float | None]) -> float | None:
    """Return the mean of the ``values`` that are not None, None if there are none."""
    known = [value for value in values if value is not None]
    return mean(known) if known else None
