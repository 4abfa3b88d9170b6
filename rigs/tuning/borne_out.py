"""How well flight foretold the last change of a net, by its own tows before and after it."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby
from math import hypot, sqrt

from rigs.physics.flight import Beliefs, NotAtRest, Seen, Told
from rigs.physics.flight.believed import NINE_IN_TEN
from rigs.words.gear import Rig
from rigs.words.say import gettext as _

from . import in_flight
from .flight_words import moved
from .log import PLACES, PlaceHeight, TowHeights
from .window import mean

GOOD_TO = 0.4
"""The share of a change within which flight foretells it in nine of ten nets, by the benchmark in
which a finer net, off in all that is not known, plays the sea (four floats more or fewer)."""


def last_change(cut_for: Rig, told: Told, read: Iterable[TowHeights]) -> str:
    """
    Return as sentences what flight foretold of the last change of a net, and what was seen.

    ``read`` are TowHeights, oldest first, each naming the rig it was made with. The readings
    before the change set what is believed, as they would have then; nothing after it does. Empty
    where there is no change that could be compared.
    """
    runs = [list(tows) for __, tows in groupby(read, key=lambda each: each.tow.rig)]
    if len(runs) < 2:
        return ""
    before, after = (run[-in_flight.RECENT :] for run in runs[-2:])
    evidence, later = in_flight.seen(before), in_flight.seen(after)
    if not evidence or not later:
        return ""
    places = _both(before, after)
    if not places:
        return ""
    old, new = evidence[-1], later[-1]
    try:
        beliefs = in_flight.beliefs(cut_for, _at(told, old), evidence)
        if not beliefs.knows_heights:
            return ""
        foretold = _foretold(beliefs, old, new, [each.position for each, __ in places])
    except (ValueError, KeyError, NotAtRest):
        return ""
    seen = mean([new.model - old.model for old, new in places])
    read_to = NINE_IN_TEN * in_flight.READ * sqrt(2 / len(places))
    return _said(foretold, seen, read_to)


def _at(told: Told, seen: Seen) -> Told:
    """Return what was ``told``, at the speed of ``seen``."""
    return told if seen.speed is None else replace(told, speed=seen.speed)


def _both(
    before: Sequence[TowHeights], after: Sequence[TowHeights]
) -> list[tuple[PlaceHeight, PlaceHeight]]:
    """Return the places read on the last tow before and the last after, with shine on both."""
    old, new = ({each.place: each for each in run[-1].places} for run in (before, after))
    return [
        (old[place], new[place])
        for place in PLACES
        if place in old and place in new and not (old[place].at_least or new[place].at_least)
    ]


def _foretold(beliefs: Beliefs, old: Seen, new: Seen, at: Sequence[float]) -> float:
    """Return by how much the footrope was foretold to go up, in metres: the mean ``at`` places."""
    was = beliefs.fly(old.rig, beliefs.read, speed=old.speed)
    then = beliefs.fly(new.rig, was, speed=new.speed)
    return mean([then.up(place) - was.up(place) for place in at])


def _said(foretold: float, seen: float, read_to: float) -> str:
    said = _(
        "Your last change: flight would have said {foretold}, your shine showed {seen}."
    ).format(foretold=moved(foretold), seen=moved(seen))
    if abs(foretold - seen) <= hypot(read_to, GOOD_TO * foretold):
        if abs(seen) <= read_to:
            fits = _("The two fit, but so would no change: shine is read no finer.")
        else:
            fits = _("The two fit, as finely as shine can show. One change says little.")
    elif foretold * seen < 0:
        fits = _("That is the other way. Trust your shine, and flight less for this net.")
    else:
        fits = _("The two do not fit. Trust flight less for this net.")
    return f"{said} {fits}"
