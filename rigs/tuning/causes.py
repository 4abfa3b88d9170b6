"""
Why one side flies lower: which faults of a net would make the picture that its shine shows.

Each fault is flown, and its size chosen so that the sides differ as was read. Those that then
come as near as shine is read are told: none of them is known to be the cause.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import sqrt
from typing import NamedTuple

import numpy as np

from rigs.make import changes
from rigs.physics.flight import Beliefs, Flown, NotAtRest
from rigs.physics.flight.bars import Figures
from rigs.physics.flight.believed import NINE_IN_TEN
from rigs.words.gear import PORT, STARBOARD, Rig
from rigs.words.say import gettext as _
from rigs.words.say import gettext_lazy, ngettext
from rigs.words.units import INCH, ROUNDING, inches

from .flights.mends import Mend
from .in_flight import READ
from .log import PORT_CORNER, PORT_WING, STARBOARD_CORNER, STARBOARD_WING, TowHeights
from .window import mean

UNSEEN = gettext_lazy(
    "Flight cannot see warps of two lengths, a door that does not stand, or netting that is torn "
    "or hung askew. Look at those too."
)
"""What may be the cause and is not flown."""

_TRIED = 3 * INCH  # of a leg or a wing, to see what it does
_MOST = 18 * INCH  # no source: more of a leg or a wing would be seen without a tape
_FLOATS_TRIED = 2
_PAIRS = ((PORT_WING, STARBOARD_WING), (PORT_CORNER, STARBOARD_CORNER))


@dataclass(frozen=True, slots=True)
class Cause:
    """
    A fault that would make the picture: ``text`` says it and its size, as a sentence.

    ``off`` is by how many metres the sides would differ otherwise than was read, at the pair of
    places where it is most.
    """

    text: str
    off: float


@dataclass(frozen=True, slots=True)
class Picture:
    """
    What flight makes of sides that differ.

    ``is_entered`` says that the net as it was entered makes this picture already; ``causes`` are
    what else would, the one that fits closest first.
    """

    is_entered: bool
    causes: tuple[Cause, ...]


class _Seen(NamedTuple):
    """How much higher port was read than starboard at two places, metres, and how well."""

    port: float
    starboard: float
    apart: float
    spread: float


class _Fault(NamedTuple):
    """
    A fault of which there can be ``tried``, of the ``unit`` that people set, and ``most``.

    ``one_way`` says that there can be none less than none.
    """

    make: Callable[[Rig, float], Rig]
    words: Callable[[float], str]
    tried: float
    unit: float
    most: float
    one_way: bool = False


def picture(rig: Rig, beliefs: Beliefs, run: Sequence[TowHeights]) -> Picture | None:
    """
    Return the Picture of ``rig``, whose sides differ as ``run``, TowHeights of that rig, shows.

    None where no place was read on both sides. Raise what ``flown.fly`` raises of the net as it
    is.
    """
    seen = _seen(run)
    if not seen:
        return None
    apart = beyond(rig, beliefs, run)
    if not apart:
        return Picture(is_entered=True, causes=())
    low = PORT if apart < 0 else STARBOARD
    sized = [_sized(fault, rig, beliefs, seen) for fault in _faults(rig, low)]
    found = sorted((each for each in sized if each is not None), key=lambda each: each.off)
    return Picture(is_entered=False, causes=tuple(found))


def beyond(rig: Rig, beliefs: Beliefs, run: Sequence[TowHeights]) -> float:
    """
    Return by how many metres port was read higher than starboard for a cause nobody entered.

    Nothing where what was entered makes the picture as closely as shine is read, or where no
    place was read on both sides. Raise as ``picture`` does.
    """
    seen = _seen(run)
    if not seen:
        return 0.0
    more = _read(seen) - _apart(beliefs.flown(rig), seen)
    if (np.abs(more) <= NINE_IN_TEN * _spreads(seen)).all():
        return 0.0
    return float(more.mean())


def _seen(run: Sequence[TowHeights]) -> list[_Seen]:
    found = []
    for port, starboard in _PAIRS:
        both = [
            (read[port], read[starboard])
            for read in ({each.place: each for each in tow.places} for tow in run)
            if port in read and starboard in read
        ]
        # A place without shine flew as high or higher: how much the sides differ is not told.
        both = [pair for pair in both if not any(each.at_least for each in pair)]
        if both:
            found.append(
                _Seen(
                    both[-1][0].position,
                    both[-1][1].position,
                    mean([a.model - b.model for a, b in both]),
                    READ * sqrt(2 / len(both)),
                )
            )
    return found


def _read(seen: Sequence[_Seen]) -> Figures:
    return np.array([each.apart for each in seen])


def _spreads(seen: Sequence[_Seen]) -> Figures:
    return np.array([each.spread for each in seen])


def _apart(flown: Flown, seen: Sequence[_Seen]) -> Figures:
    return np.array([flown.up(each.port) - flown.up(each.starboard) for each in seen])


def _sized(fault: _Fault, rig: Rig, beliefs: Beliefs, seen: Sequence[_Seen]) -> Cause | None:
    """Return ``fault`` of the size that fits best, None if none of a likely size fits."""
    read, spread = _read(seen), _spreads(seen)
    now = _apart(beliefs.flown(rig), seen)
    try:
        slope = (_apart(beliefs.flown(fault.make(rig, fault.tried)), seen) - now) / fault.tried
        weighed = slope / spread
        if not float(weighed @ weighed):
            return None
        size = float(weighed @ ((read - now) / spread) / (weighed @ weighed))
        size = round(size / fault.unit) * fault.unit
        if not size or abs(size) > fault.most or (fault.one_way and size < 0):
            return None
        off = np.abs(_apart(beliefs.flown(fault.make(rig, size)), seen) - read)
    except (ValueError, NotAtRest):
        return None
    if (off > NINE_IN_TEN * spread).any():
        return None
    return Cause(fault.words(size), float(off.max()))


def _faults(rig: Rig, low: str) -> Iterator[_Fault]:
    yield _Fault(
        lambda rig, size: _longer(rig, changes.TOP, size),
        _said(
            gettext_lazy("The port top leg may be about {size} longer than it was entered."),
            gettext_lazy("The starboard top leg may be about {size} longer than it was entered."),
        ),
        _TRIED,
        INCH,
        _MOST,
    )
    yield _Fault(
        lambda rig, size: _longer(rig, changes.BOTTOM, size),
        _said(
            gettext_lazy("The port bottom leg may be about {size} longer than it was entered."),
            gettext_lazy(
                "The starboard bottom leg may be about {size} longer than it was entered."
            ),
        ),
        _TRIED,
        INCH,
        _MOST,
    )
    yield _Fault(
        _longer_wing,
        _said(
            gettext_lazy("The footrope's port wing may be about {size} longer than starboard's."),
            gettext_lazy("The footrope's starboard wing may be about {size} longer than port's."),
        ),
        _TRIED,
        INCH,
        _MOST,
    )
    yield _Fault(
        lambda rig, count: _without(rig, low, round(count)),
        lambda count: ngettext(
            "About {count} float on the {side} side may be lost, crushed or full of water.",
            "About {count} floats on the {side} side may be lost, crushed or full of water.",
            round(count),
        ).format(count=round(count), side=low),
        _FLOATS_TRIED,
        1,
        len(_on(rig, low)) / 2,
        one_way=True,
    )
    high = PORT if low == STARBOARD else STARBOARD
    yield _Fault(
        lambda rig, count: Mend("shift", round(count), high).on(rig),
        lambda count: ngettext(
            "About {count} float may hang on the {high} side that belongs on the {low} side.",
            "About {count} floats may hang on the {high} side that belong on the {low} side.",
            round(count),
        ).format(count=round(count), high=high, low=low),
        _FLOATS_TRIED,
        1,
        len(_on(rig, low)) / 2,
        one_way=True,
    )


def _said(port: str, starboard: str) -> Callable[[float], str]:
    return lambda size: _(port if size > 0 else starboard).format(size=inches(abs(size), 1))


def _longer(rig: Rig, which: str, size: float) -> Rig:
    """Return ``rig`` with that leg ``size`` longer to port, or to starboard if below nothing."""
    return changes.longer_leg(rig, PORT if size > 0 else STARBOARD, which, abs(size))


def _longer_wing(rig: Rig, size: float) -> Rig:
    rope = rig.footrope
    side = "port_wing" if size > 0 else "starboard_wing"
    return rig.with_(footrope=replace(rope, **{side: getattr(rope, side) + abs(size)}))


def _on(rig: Rig, side: str) -> list[int]:
    """Return which floats hang on ``side`` and not at the center, outermost first."""
    sign = -1 if side == PORT else 1
    there = [i for i, each in enumerate(rig.floats or ()) if each.position * sign > ROUNDING]
    return sorted(there, key=lambda i: -abs((rig.floats or ())[i].position))


def _without(rig: Rig, side: str, count: int) -> Rig:
    """Return ``rig`` without ``count`` floats of ``side``, one here and one there."""
    there = _on(rig, side)
    step = len(there) / (count + 1)
    gone = {there[int(step * (n + 1))] for n in range(count)} if count < len(there) else set(there)
    return rig.with_(floats=tuple(each for i, each in enumerate(rig.floats or ()) if i not in gone))
