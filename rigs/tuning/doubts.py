"""Why a reading cannot tell what to change, in words for the deck."""

from collections.abc import Iterator, Sequence

from rigs.words.gear import Rig
from rigs.words.say import gettext as _
from rigs.words.units import inches

from .flight import Flight
from .log import TowHeights
from .window import CANNOT_TELL, IN_WINDOW, status_of


def doubts(rig: Rig, flight: Flight) -> tuple[str, ...]:
    """Return why no change of ``rig`` can be proposed, as sentences; none if one can."""
    run, status, window = flight.run, flight.status, flight.window
    found = []
    if rig.sweep is not None:
        found.append(
            _(
                "This net has a sweep. Droppers that end on a sweep do not hang free, so their "
                "shine does not tell the height."
            )
        )
    read = {place.place for each in run for place in each.places}
    if len(read) == 1:
        found.append(
            _(
                "One dropper cannot tell how the whole net flies. Read the center, and the same "
                "place on both sides."
            )
        )
    elif all(each.difference is None for each in run):
        found.append(
            _(
                "The same place was not read on both sides, so a lopsided net would not show. "
                "Read it on both."
            )
        )
    found += _without_shine(run)
    if found or status in (IN_WINDOW, CANNOT_TELL):
        return tuple(found)
    ends = {status_of(flight.low, window), status_of(flight.high, window)}
    if ends != {status}:
        found.append(
            _(
                "The range is {inches} to {inches2}, so the net may be at the right height after "
                "all. Tow again, and write down the bottom and the speed."
            ).format(inches=inches(flight.low, 1), inches2=inches(flight.high, 1))
        )
    elif {status_of(each.model, window) for each in run} != {status}:
        found.append(
            _(
                "The tows do not agree: some were at another height. Tow again at one speed on "
                "one ground before you change anything."
            )
        )
    return tuple(found)


def _without_shine(run: Sequence[TowHeights]) -> Iterator[str]:
    """Yield what droppers without any shine leave open."""
    if all(each.at_least for each in run):
        yield (
            _(
                "No dropper showed any shine, so none touched the bottom. The footrope may fly "
                "at any height above what is shown here. Look whether the droppers are new or "
                "hung up, and read them again after the next tow."
            )
        )
        return
    clear = dict.fromkeys(place.name for each in run for place in each.clear_places)
    if clear:
        yield (
            _(
                "No shine at the {listed}: the footrope may fly higher there, so the mean is the "
                "least it can be."
            ).format(listed=_listed(list(clear)))
        )


def _listed(names: Sequence[str]) -> str:
    return (
        names[0]
        if len(names) == 1
        else _("{names} and {names2}").format(names=", ".join(names[:-1]), names2=names[-1])
    )
